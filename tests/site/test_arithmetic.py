"""The page computes what Python computes: 20,000 random questions, answered by its own modules."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from generators.browser_catalog import MODULE, catalog_module_text
from generators.link_scripts import link_scripts
from tests.site.node_answers import ASSETS, ROOT, copy_scripts, node_answers, run_node
from tests.site.vector_curves import grids
from tests.site.vectors import COUNTS, Vector, vectors

NUMBERS = ASSETS / "numbers"
PURE = sorted(
    path.relative_to(ASSETS).as_posix()
    for room in ("numbers", "answers", "find")
    for path in (ASSETS / room).iterdir()
)
RELATIVE = 1e-9
# A difference of two nearly equal temperatures or resistances keeps their absolute error, a few
# 1e-13; its own relative one may be anything near zero.
DIFFERENCES = {
    "errorK",
    "offK",
    "offShare",
    "worstShare",
    "byK",
    "neededK",
    "worstK",
    "chi2",
    "error_k",
    "off_k",
    "by_k",
    "most_k",
    "worst_k",
}
ABSOLUTE = 1e-11
IN_CHROMIUM = 40
"""So many of each kind are asked in a browser too, where one script carries all modules."""


@dataclass
class Compared:
    """What was found by holding the page's answers to Python's."""

    faults: list[str] = field(default_factory=list)
    worst: dict[str, float] = field(default_factory=dict)
    worst_near_zero: float = 0.0
    kinds: Counter = field(default_factory=Counter)
    met: dict[str, Counter] = field(default_factory=dict)

    def one(self, vector: Vector, told: object) -> None:
        """Take in one answer."""
        self.kinds[vector.kind] += 1
        self.met.setdefault(vector.kind, Counter()).update(_states(vector))
        before = len(self.faults)
        self._same(vector, vector.told, told, path="")
        if len(self.faults) > before:
            asked = json.dumps(vector.asked, ensure_ascii=False)[:400]
            self.faults[before:] = [f"{vector.kind}: {'; '.join(self.faults[before:])}; {asked}"]

    def _same(self, vector: Vector, python: object, page: object, *, path: str) -> None:
        if isinstance(python, dict) and isinstance(page, dict):
            if python.keys() != page.keys():
                self.faults.append(f"{path}: names {list(python)} here, {list(page)} in the page")
            for key in python.keys() & page.keys():
                self._same(vector, python[key], page[key], path=f"{path}.{key}")
        elif isinstance(python, list) and isinstance(page, list) and len(python) == len(page):
            for i, (one, other) in enumerate(zip(python, page, strict=True)):
                self._same(vector, one, other, path=f"{path}[{i}]")
        elif _is_number(python) and _is_number(page):
            self._near(vector, float(python), float(page), path=path)
        elif type(python) is not type(page) or python != page:
            self.faults.append(f"{path}: {python!r} here, {page!r} in the page")

    def _near(self, vector: Vector, python: float, page: float, *, path: str) -> None:
        if python == page:
            return
        off = abs(python - page)
        relative = off / max(abs(python), abs(page))
        if path.rpartition(".")[2] in DIFFERENCES and off <= ABSOLUTE and not relative <= RELATIVE:
            self.worst_near_zero = max(self.worst_near_zero, off)
        elif relative <= RELATIVE:
            self.worst[vector.kind] = max(self.worst.get(vector.kind, 0.0), relative)
        else:
            self.faults.append(f"{path}: {python!r} here, {page!r} in the page")


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _states(vector: Vector) -> Iterable[str]:
    """Name what this vector met: verdicts and what dominates, kinds, states, refusals."""
    if "answer" not in vector.told:
        yield next(iter(vector.told))
        yield from _refused(vector)
        return
    answer = vector.told["answer"]
    match vector.kind:
        case "verdict":
            verdict = answer["verdict"]
            yield verdict["verdict"]
            if verdict["dominant"]:
                yield f"dominant {verdict['dominant']}"
            if verdict["settling"]:
                yield f"settled by {[*verdict['settling']['terms'], 'none alone'][0]}"
                yield "meter can" if verdict["settling"]["meterCan"] else "meter cannot"
            if not verdict["limitKnown"]:
                yield "limit unknown"
        case "explain":
            yield from (one["kind"] for one in answer) if answer else ["nothing fits"]
        case "round":
            yield from (one["state"] for one in answer["standing"].values())
        case "exchanged":
            yield "one pair" if answer else "none"
        case "which":
            parting = answer["parting"]
            certain = parting and parting["certain"]
            yield "separable" if answer["separable"] else "not separable"
            yield ("parts for certain" if certain else "never parts") if parting else "no parting"
        case "winding":
            yield answer["balance"]["state"] or "no limit"
            digits = {*answer["digits"].values()} - {math.inf}
            yield "one range" if len(digits) == 1 else "two ranges"
        case "winding-value":
            yield answer["state"] or "no limit"
        case "insulation":
            checks = [one["whose"] for one in answer["checks"]]
            yield f"{answer['beyond'] or 'corrected'} {answer['state']}"
            if checks == ["part"]:
                yield "standard left out"
            yield from (f"{one['whose']} {one['state']}" for one in answer["checks"])
        case "answer-reading" | "answer-loop":
            yield from _states_of_answer(answer)
        case "answer-winding":
            yield from _states_of_windings(answer)
        case "answer-insulation":
            yield from _states_of_insulation(answer["answer"])
        case "spelling":
            yield "a slip" if answer["slip"] else "no slip"
            yield "alike" if answer["look"] != answer["form"] else "as it is"
        case "blinks":
            yield ("none", "one", "long or short")[len(answer)]
        case "find-codes":
            yield "found" if len(answer["codeIds"]) == 1 else "several"
        case kind if kind in FLOOR:
            yield from _statement_ids(answer["answer"])
        case "grid":
            yield vector.asked["method"]
        case "curve-pair":
            yield "answer"
        case "divider" | "notation" | "rounding":
            yield vector.asked["name"]


FLOOR = (
    "answer-round",
    "answer-which",
    "answer-lookup",
    "answer-stand-in",
    "answer-pair",
    "directed-round",
    "directed-lookup",
)
"""Kinds whose branches are known by what they say."""


def _statement_ids(value: object) -> Iterable[str]:
    if isinstance(value, dict):
        if isinstance(value.get("id"), str) and "figures" in value:
            yield value["id"]
        for inner in value.values():
            yield from _statement_ids(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _statement_ids(inner)


def _states_of_answer(answer: dict[str, object]) -> Iterable[str]:
    if "answer" not in answer:
        yield "expected"
        return
    found = answer["answer"]
    yield found["state"]
    yield found["headline"]["id"]
    yield found["instruction"] or "no instruction"
    for explained in found.get("explanations", ()):
        yield explained["statement"]["id"]
    settling = found.get("settling")
    if settling:
        yield from (statement["id"] for statement in settling["statements"])
        yield from (f"way {way['term']}" for way in settling["ways"])
        if settling["otherwise"]:
            yield settling["otherwise"]["id"]


def _states_of_windings(answer: dict[str, object]) -> Iterable[str]:
    if "refusals" in answer:
        yield "several refused" if len(answer["refusals"]) > 1 else "at most one refused"
        return
    found = answer["answer"]
    yield found["headline"]["id"]
    yield from (fault["id"] for fault in found["headline"]["figures"].get("faults", ()))
    yield from (statement["id"] for statement in (*found["notes"], *found["advice"]))
    if found["better"]:
        yield "better"
    yield f"{min(len(found['balances']), 2)} balances"


def _states_of_insulation(found: dict[str, object]) -> Iterable[str]:
    yield found["headline"]["id"]
    lines = (*found["beside"], *found["checks"], found["read"], *found["notes"])
    yield from (statement["id"] for statement in lines)
    if found["overRange"]:
        yield f"over range {found['state']}"


def _refused(vector: Vector) -> Iterable[str]:
    if "refusal" in vector.told:
        yield vector.told["refusal"]["statement"]["id"]


MUST_MEET = {
    "verdict": {
        "within": 500,
        "outside": 500,
        "undecided": 500,
        "open": 100,
        "short": 100,
        "off-curve": 100,
        "dominant meter": 100,
        "dominant thermometer": 50,
        "dominant placement": 50,
        "settled by placement": 100,
        "meter can": 100,
        "meter cannot": 30,
        "limit unknown": 100,
        "outOfRange": 50,
    },
    "explain": {
        "unit-slip": 50,
        "factor-ten": 50,
        "plugged-in": 50,
        "other-curve": 100,
        "series-resistance": 50,
        "nothing fits": 100,
    },
    "round": {
        "agrees": 500,
        "stands-out": 300,
        "undecided": 100,
        "open": 50,
        "short": 50,
        "off-curve": 50,
    },
    "answer-reading": {
        "refusal": 200,
        "expected": 100,
        "reading.open": 20,
        "reading.over-range": 5,
        "reading.short": 30,
        "reading.off-curve": 50,
        "reading.within-colder": 50,
        "reading.within-hotter": 50,
        "reading.outside-colder": 100,
        "reading.outside-hotter": 50,
        "reading.undecided-colder": 50,
        "reading.undecided-hotter": 50,
        "reading.unknown-limit-colder": 20,
        "reading.unknown-limit-hotter": 20,
        "proved": 20,
        "when_good": 20,
        "when_bad": 100,
        "when_open": 10,
        "when_short": 10,
        "no instruction": 100,
        "explanation.unit-slip-low": 5,
        "explanation.unit-slip-high": 5,
        "explanation.factor-ten-low": 5,
        "explanation.factor-ten-high": 5,
        "explanation.plugged-in": 20,
        "explanation.family-curve": 50,
        "explanation.other-curve": 50,
        "explanation.series-resistance": 20,
        "settling.needed-meter": 20,
        "settling.needed-thermometer": 10,
        "settling.needed-placement": 20,
        "settling.meter-cannot": 10,
        "way placement": 20,
        "way thermometer": 10,
        "way meter": 10,
        "settling.together": 10,
        "settling.nothing": 20,
    },
    "answer-loop": {
        "refusal": 50,
        "loop.within": 50,
        "loop.outside-high": 20,
        "loop.outside-low": 10,
        "loop.open": 10,
        "loop.short": 20,
        "loop.switching": 10,
        "loop.over-range": 5,
        "loop.close-meter": 5,
        "loop.close-thermometer": 2,
        "loop.close-placement": 5,
    },
    "answer-winding": {
        "several refused": 1,
        "at most one refused": 20,
        "winding.nothing-read": 2,
        "winding.no-such-pair": 5,
        "winding.pair-twice": 5,
        "winding.too-hot": 50,
        "winding.too-cold": 50,
        "field.unreadable": 30,
        "winding.open-one": 20,
        "winding.open-many": 5,
        "winding.short-one": 20,
        "winding.short-many": 2,
        "winding.outside": 100,
        "winding.off-mean": 50,
        "winding.off-entry": 50,
        "winding.over-range-one": 10,
        "winding.over-range-many": 2,
        "winding.nothing-one": 5,
        "winding.nothing-many": 2,
        "winding.too-coarse": 20,
        "winding.undecided": 20,
        "winding.undecided-alike": 10,
        "winding.within-alike": 10,
        "winding.within-entry": 10,
        "winding.within-both": 20,
        "winding.no-limit": 10,
        "winding.allowed-both": 50,
        "winding.allowed-mean": 20,
        "winding.allowed-entry": 20,
        "winding.beside": 100,
        "winding.without-temperature": 20,
        "winding.warmth-copper": 100,
        "winding.warmth-aluminium": 30,
        "winding.warmth-heating-wire": 30,
        "winding.no-better": 20,
        "winding.unread": 50,
        "winding.proves-no-motor": 20,
        "winding.earth": 100,
        "better": 50,
        "0 balances": 50,
        "1 balances": 100,
        "2 balances": 5,
    },
    "answer-insulation": {
        "insulation.board": 20,
        "insulation.too-high": 50,
        "insulation.volts-missing": 10,
        "insulation.no-voltage": 20,
        "insulation.lacks-voltage": 20,
        "insulation.reading-missing": 5,
        "insulation.temperature-missing": 5,
        "insulation.limit-uncorrected": 50,
        "field.unreadable": 30,
        "insulation.within-brought": 100,
        "insulation.outside-brought": 50,
        "insulation.undecided-brought": 10,
        "insulation.within-as-read": 20,
        "insulation.outside-as-read": 10,
        "insulation.undecided-as-read": 3,
        "insulation.over-range-brought": 10,
        "insulation.over-range-as-read": 3,
        "insulation.over-range-unknown": 10,
        "insulation.outside-cold": 10,
        "insulation.within-hot": 20,
        "insulation.undecided-hot": 20,
        "insulation.undecided-cold": 10,
        "insulation.undecided-cold-hermetic": 5,
        "insulation.undecided-cold-over": 10,
        "insulation.undecided-cold-over-hermetic": 5,
        "insulation.standard-less": 20,
        "insulation.standard-close": 5,
        "insulation.standard-beyond": 3,
        "insulation.standard-passes": 10,
        "insulation.part-within": 100,
        "insulation.part-outside": 50,
        "insulation.part-undecided": 50,
        "insulation.standard-within": 50,
        "insulation.standard-outside": 30,
        "insulation.standard-undecided": 20,
        "insulation.hermetic-within": 20,
        "insulation.hermetic-outside": 10,
        "insulation.hermetic-undecided": 10,
        "insulation.read": 100,
        "insulation.read-unknown": 100,
        "insulation.as-read": 50,
        "insulation.uncorrected": 50,
        "insulation.corrected": 100,
        "insulation.below-voltage": 50,
        "insulation.damp": 50,
        "over range within": 30,
        "over range undecided": 50,
    },
    "spelling": {"a slip": 100, "no slip": 200, "alike": 200, "as it is": 100},
    "blinks": {"none": 200, "one": 800, "long or short": 100},
    "find-codes": {
        "found": 300,
        "several": 50,
        "code.unknown-near": 100,
        "code.unknown": 50,
        "code.unknown-more": 20,
        "code.none": 10,
        "code.shown-missing": 20,
    },
    "exchanged": {"none": 100, "one pair": 30},
    "which": {"separable": 50, "not separable": 50, "parts for certain": 20, "never parts": 10},
    "winding": {
        "within": 50,
        "outside": 50,
        "undecided": 50,
        "open": 30,
        "refused": 30,
        "one range": 100,
        "two ranges": 100,
    },
    "winding-value": {"within": 30, "outside": 10, "undecided": 10, "open": 5, "refused": 10},
    "curve-pair": {"answer": 50, "outOfRange": 20},
    "insulation": {
        "part within": 50,
        "part outside": 50,
        "part undecided": 10,
        "IEEE 43 within": 50,
        "IEEE 43 outside": 50,
        "IEEE 43 undecided": 10,
        "outOfRange": 30,
        "refused": 30,
        "corrected within": 50,
        "cold outside": 10,
        "cold undecided": 30,
        "hot within": 20,
        "hot undecided": 10,
        "standard left out": 10,
    },
    "answer-round": {
        "refusal": 50,
        "field.beyond-thermometer": 3,
        "field.beyond-curve": 50,
        "field.unreadable": 50,
        "round.open": 10,
        "round.short": 10,
        "round.off-curve": 10,
        "round.over-range": 10,
        "round.few": 10,
        "round.stands-out-colder": 10,
        "round.stands-out-hotter": 10,
        "round.stands-out-colder-thermometer": 10,
        "round.stands-out-hotter-thermometer": 10,
        "round.undecided": 10,
        "round.all-agree": 10,
        "round.both-agree": 10,
        "round.others-agree": 10,
        "round.other-agrees": 10,
        "round.it-agrees-thermometer": 10,
        "round.all-agree-thermometer": 10,
        "round.both-agree-thermometer": 10,
        "round.others-agree-thermometer": 10,
        "round.other-agrees-thermometer": 10,
        "round.title-agree": 10,
        "round.title-others-agree": 10,
        "round.title-stands-out": 10,
        "round.title-stand-out": 10,
        "round.title-few": 10,
        "round.title-faulty": 10,
        "round.title-undecided": 10,
        "round.next-few": 10,
        "round.next-undecided": 10,
        "round.next-agree": 10,
        "round.next-judge": 10,
        "round.next-plug": 10,
        "round.pair": 10,
        "round.exchanged": 10,
        "round.row-reads": 10,
        "round.row-at": 10,
        "round.row-at-elsewhere": 10,
        "round.row-middle": 10,
        "round.row-colder": 10,
        "round.row-hotter": 10,
        "round.row-stands-out-colder": 10,
        "round.row-stands-out-hotter": 10,
        "round.row-middle-thermometer": 10,
        "round.row-colder-thermometer": 10,
        "round.row-hotter-thermometer": 10,
        "round.row-stands-out-colder-thermometer": 10,
        "round.row-stands-out-hotter-thermometer": 10,
        "round.row-ice-water": 10,
        "round.row-alone": 10,
        "round.row-no-place": 10,
        "round.row-over-range": 5,
        "round.against-thermometer": 10,
        "round.against-middle": 10,
        "round.spread": 10,
    },
    "answer-which": {
        "field.beyond-thermometer": 20,
        "field.unreadable": 50,
        "which.no-pair": 20,
        "which.half-pair": 20,
        "which.over-range": 20,
        "which.title-none-read": 20,
        "which.title-none": 20,
        "which.title-only": 20,
        "which.title-many": 20,
        "which.none": 20,
        "which.only": 20,
        "which.one-more": 20,
        "which.not-told-apart": 20,
        "which.part": 20,
        "which.never-part": 20,
        "which.off": 20,
        "which.unreached": 20,
    },
    "answer-lookup": {
        "curve.good-part": 200,
        "curve.no-tolerance": 50,
        "curve.beyond": 5,
        "curve.off": 10,
        "curve.over-range": 5,
        "curve.temperature-missing": 3,
        "field.reading-missing": 2,
        "field.unreadable": 20,
    },
    "answer-stand-in": {
        "curve.beyond": 5,
        "field.unreadable": 10,
        "stand-in.printed-2": 50,
        "stand-in.printed-3": 50,
        "stand-in.single": 50,
        "stand-in.series": 50,
        "stand-in.parallel": 50,
        "stand-in.best": 50,
        "stand-in.best-volts": 50,
        "stand-in.reads": 50,
        "stand-in.reads-volts": 50,
        "stand-in.board": 50,
        "stand-in.row": 50,
        "stand-in.row-volts": 50,
        "stand-in.spread": 50,
    },
    "answer-pair": {
        "curve.temperature-missing": 3,
        "field.unreadable": 5,
        "pair.beyond": 20,
        "pair.no-difference": 20,
        "pair.difference-higher": 20,
        "pair.difference-lower": 20,
        "pair.board-right": 20,
        "pair.board-hot": 20,
        "pair.board-cold": 20,
        "pair.furthest": 20,
    },
    "directed-round": {
        "round.both-agree": 5,
        "round.all-agree": 5,
        "round.over-range": 20,
        "round.open": 50,
        "round.few": 20,
        "field.beyond-thermometer": 50,
    },
    "directed-lookup": {"stand-in.none": 5, "pair.no-shared": 4, "which.no-shared": 1},
    "notation": {
        "parseOhm": 100,
        "parseReading": 100,
        "parseTemperature": 100,
        "parseInsulation": 100,
        "refused": 200,
    },
}
"""What a random lot must hold, so that agreement says something."""


@pytest.fixture(scope="module")
def curves() -> dict[str, object]:
    return grids()


@pytest.fixture(scope="module")
def asked(curves: dict[str, object]) -> list[Vector]:
    return vectors(curves)


def _compared(asked: list[Vector], answers: str) -> Compared:
    compared = Compared()
    for vector, answer in zip(asked, json.loads(answers, object_hook=_received), strict=True):
        compared.one(vector, answer)
    return compared


def _answers(folder: Path, curves: dict, asked: list[Vector]) -> Compared:
    """Ask the modules that stand in this folder."""
    grids = {name: one.as_dict() for name, one in curves.items()}
    return _compared(asked, node_answers(folder, grids=grids, vectors=_questions(asked)))


def _questions(asked: list[Vector]) -> list[object]:
    return [{"kind": v.kind, "asked": _sent(v.asked)} for v in asked]


def _sent(value: object) -> object:
    """JSON knows no infinity: it goes as text."""
    if isinstance(value, dict):
        return {key: _sent(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_sent(one) for one in value]
    return "Infinity" if isinstance(value, float) and math.isinf(value) else value


def _received(told: dict[str, object]) -> dict[str, object]:
    return {key: math.inf if one == "Infinity" else one for key, one in told.items()}


def test_twenty_thousand_answers_of_the_page_are_pythons(
    tmp_path: Path,
    curves: dict[str, object],
    asked: list[Vector],
    capsys: pytest.CaptureFixture[str],
) -> None:
    compared = _answers(copy_scripts(tmp_path), curves, asked)
    with capsys.disabled():
        print(_report(compared))
    assert compared.faults == [], f"{len(compared.faults)} differ:\n" + "\n".join(
        compared.faults[:5]
    )
    assert compared.kinds == Counter(COUNTS)
    assert sum(COUNTS.values()) >= 20_000
    scarce = {
        f"{kind} {state}": (compared.met[kind][state], least)
        for kind, states in MUST_MEET.items()
        for state, least in states.items()
        if compared.met[kind][state] < least
    }
    assert scarce == {}


def _report(compared: Compared) -> str:
    rows = [f"\n{sum(compared.kinds.values())} vectors, {len(compared.faults)} differ"]
    for kind, count in compared.kinds.items():
        met = ", ".join(f"{state} {n}" for state, n in sorted(compared.met[kind].items()))
        rows.append(f"  {kind}: {count}, worst {compared.worst.get(kind, 0.0):.1e}; {met}")
    rows.append(f"  differences near zero: worst {compared.worst_near_zero:.1e} of their unit")
    return "\n".join(rows)


BREAKS = (
    ("verdict", "limitK - uncertaintyK", "limitK + uncertaintyK", "verdict"),
    ("verdict", "Math.sqrt(3)", "Math.sqrt(3.00000001)", "verdict"),
    ("verdict", "sum + one * one", "sum + one", "verdict"),
    ("verdict", "leftWithout(a) - leftWithout(b)", "leftWithout(b) - leftWithout(a)", "verdict"),
    ("verdict", "grid.lowOhm / 10", "grid.lowOhm / 9", "verdict"),
    ("grid", "insideC) * rate", "insideC) * rate * 1.00001", "grid"),
    ("grid", "this.falling ? ln > inside : ln < inside", "ln > inside", "grid"),
    ("instruments", "one.span_ohm);", "one.span_ohm * 1.5);", "verdict"),
    ("instruments", "resolution_k / 2", "resolution_k", "verdict"),
    ("explanations", "SERIES_SHARE_MAX = 0.5", "SERIES_SHARE_MAX = 0.4", "explain"),
    ("explanations", "rOhm, 2)", "rOhm, 1)", "explain"),
    ("exchanged", '"stands-out", ', "", "exchanged"),
    ("at-rest", "Math.PI / 2", "Math.PI / 2.01", "round"),
    ("which-curve", "now.byK > best.byK", "now.byK < best.byK", "which"),
    ("e-series", "<= highOhm", "<= lowOhm", "stand-in"),
    ("stand-in", "REACH = 100", "REACH = 3", "stand-in"),
    ("divider", "pullUpOhm - readOhm)", "pullUpOhm + readOhm)", "divider"),
    ("instruments", "? used.resolution_ohm", "? used.digits", "winding"),
    ("instruments", "one === used[0]", "one === one", "winding"),
    ("insulation", 'cold: "within"', 'cold: "outside"', "insulation"),
    ("insulation", "partMinOhm === limitOhm", "partMinOhm > limitOhm", "insulation"),
    ("insulation", "BARE_BELOW_OHM = 100e3", "BARE_BELOW_OHM = 1", "notation"),
    ("rounding", "formatOhm(rounded, d", "formatOhm(rOhm, d", "rounding"),
    ("winding", "1 - 2 / n", "1 - 1 / n", "winding"),
    ("winding-value", "2 * Math.hypot", "Math.hypot", "winding-value"),
    ("curve-pair", "PLACES = 401", "PLACES = 101", "curve-pair"),
    ("insulation", "/ (insideC + 273)", "/ (insideC + 273.15)", "insulation"),
    ("notation", "or milliohms ", "and milliohms ", "notation"),
    ("rounding", "/[02468]$/", "/[13579]$/", "rounding"),
    ("out-of-range", "SLACK = 1e-9", "SLACK = 1e-2", "grid"),
    ("../answers/normal-form", "other.slice(i + 1, i + 2)", "other[i]", "spelling"),
    ("../answers/normal-form", '"NFKD"', '"NFC"', "spelling"),
    ("../answers/blinks", "i % 2 === first", "i % 2 === 0", "blinks"),
    ("../answers/blinks", "strange && !inWords", "strange", "blinks"),
    ("../answers/blinks", "=== 1;", "<= 2;", "find-codes"),
    ("../answers/code-lookup", "look === typed.look", "false", "find-codes"),
    ("../answers/code-lookup", "typed.counted && near", "near", "find-codes"),
    ("../answers/code-lookup", "more > 0", "more >= 0", "find-codes"),
)
"""File, what stands in it, what a slip of the pen would make of it, and who should notice."""
MOST_BROKEN = 2500


@pytest.mark.parametrize(
    ("name", "right", "wrong", "kind"), BREAKS, ids=[f"{a} {c}" for a, _, c, _ in BREAKS]
)
def test_a_broken_formula_is_noticed(
    tmp_path: Path,
    curves: dict[str, object],
    asked: list[Vector],
    name: str,
    right: str,
    wrong: str,
    kind: str,
) -> None:
    text = (NUMBERS / f"{name}.js").read_text(encoding="utf-8")
    assert text.count(right) == 1
    folder = copy_scripts(tmp_path, broken={f"numbers/{name}.js": text.replace(right, wrong)})
    lot = [one for one in asked if one.kind == kind][:MOST_BROKEN]
    assert _answers(folder, curves, lot).faults


def test_one_linked_script_answers_the_same_in_a_browser(
    browser: object, curves: dict[str, object], asked: list[Vector]
) -> None:
    harness = "tests/site/answer_vectors.js"
    paths = [ROOT / harness, *sorted(ASSETS.rglob("*.js"))]
    sources = {path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in paths}
    sources[f"site_config/assets/{MODULE}"] = catalog_module_text()
    linked = link_scripts(sources, scripts={"all.js": [harness]})["all.js"]
    few = [one for kind in COUNTS for one in [v for v in asked if v.kind == kind][:IN_CHROMIUM]]
    page = browser.new_page()
    page.add_script_tag(content=linked)
    told = json.dumps({name: one.as_dict() for name, one in curves.items()})
    assert page.evaluate("text => Ohm.takeGrids(text)", told) == len(curves)
    answers = page.evaluate("text => Ohm.answerVectors(text)", json.dumps(_questions(few)))
    page.close()
    compared = _compared(few, answers)
    assert compared.faults == []
    assert len(few) == IN_CHROMIUM * len(COUNTS)


REFUSES = """
import { parseReading } from "./site_config/assets/numbers/notation.js";
let text = "";
process.stdin.on("data", (piece) => { text += piece; });
process.stdin.on("end", () => {
  try { console.log(parseReading(text)); } catch (refused) { console.log(refused.message); }
});
"""


@pytest.mark.parametrize(
    ("text", "fault"), [("1e999", "beyond any"), ("1,234,567k", "not a"), ("6.32\u212a", "not a")]
)
def test_what_is_no_number_is_refused_and_never_taken_for_an_open_circuit(
    tmp_path: Path, text: str, fault: str
) -> None:
    (copy_scripts(tmp_path) / "refuses.js").write_text(REFUSES, encoding="utf-8")
    assert run_node(tmp_path, "refuses.js", sent=text).rstrip("\n") == (
        f"'{text}' is {fault} resistance; write it as 480, 6.32k, 6k32 or 1.2M, or OL for over range"
    )


@pytest.mark.parametrize("name", PURE)
def test_a_file_of_the_pure_rooms_never_touches_the_page(name: str) -> None:
    text = (ASSETS / name).read_text(encoding="utf-8")
    page = r"\b(document|window|navigator|location|\w+Storage|fetch|addEventListener|alert)\b"
    assert re.findall(page, text) == []
    # Older phones: nothing of the language after 2018.
    assert re.findall(r"\?\?|\?\.[a-z\[(]|\bstatic\b|\.flat\(|\.flatMap\(|#\w+ ?=", text) == []


@pytest.mark.parametrize("name", [path.name for path in sorted(NUMBERS.iterdir())])
def test_an_arithmetic_file_names_its_python(name: str) -> None:
    text = (NUMBERS / name).read_text(encoding="utf-8")
    opening = "".join(line for line in text.splitlines()[:2] if line.startswith("//"))
    mirrored = re.findall(r"kb/numbers/\w+\.py", opening)
    assert mirrored and all((ROOT / one).is_file() for one in mirrored)
