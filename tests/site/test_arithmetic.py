"""The page computes what Python computes: 20,000 random questions, answered in chromium."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.site.vector_curves import grids
from tests.site.vectors import COUNTS, Vector, vectors

ROOT = Path(__file__).resolve().parents[2]
ASSETS = ROOT / "site_config" / "assets"
ARITHMETIC = (
    "out-of-range",
    "rounding",
    "notation",
    "grid",
    "instruments",
    "verdict",
    "divider",
    "explanations",
    "at-rest",
    "exchanged",
    "which-curve",
    "e-series",
    "stand-in",
    "winding",
    "insulation",
    "winding-value",
    "curve-pair",
)
RELATIVE = 1e-9
# A difference of two nearly equal temperatures or resistances keeps their absolute error, a few
# 1e-13; its own relative one may be anything near zero.
DIFFERENCES = {"errorK", "offK", "offShare", "worstShare", "byK", "neededK", "worstK", "chi2"}
ABSOLUTE = 1e-11
BATCH = 500


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
        case "grid":
            yield vector.asked["method"]
        case "curve-pair":
            yield "answer"
        case "divider" | "notation" | "rounding":
            yield vector.asked["name"]


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


def _answers(
    browser: object, curves: dict, asked: list[Vector], *, broken: dict[str, str] | None = None
) -> Compared:
    """Ask the page; `broken` holds changed texts of script files."""
    page = browser.new_page()
    try:
        for name in ARITHMETIC:
            if broken and name in broken:
                page.add_script_tag(content=broken[name])
            else:
                page.add_script_tag(path=ASSETS / f"{name}.js")
        page.add_script_tag(path=Path(__file__).with_name("answer_vectors.js"))
        told = {name: one.as_dict() for name, one in curves.items()}
        taken = page.evaluate("text => Ohm.takeGrids(text)", json.dumps(told))
        assert taken == len(curves)
        compared = Compared()
        for start in range(0, len(asked), BATCH):
            if broken and compared.faults:
                break
            batch = asked[start : start + BATCH]
            text = json.dumps([{"kind": v.kind, "asked": _sent(v.asked)} for v in batch])
            answers = json.loads(
                page.evaluate("text => Ohm.answerVectors(text)", text), object_hook=_received
            )
            for vector, answer in zip(batch, answers, strict=True):
                compared.one(vector, answer)
        return compared
    finally:
        page.close()


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
    browser: object,
    curves: dict[str, object],
    asked: list[Vector],
    capsys: pytest.CaptureFixture[str],
) -> None:
    compared = _answers(browser, curves, asked)
    with capsys.disabled():
        print(_report(compared))
    assert compared.faults == [], f"{len(compared.faults)} differ:\n" + "\n".join(
        compared.faults[:5]
    )
    assert compared.kinds == Counter(COUNTS)
    assert sum(COUNTS.values()) == 20_000
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
    ("instruments", "strapped: 0.5", "strapped: 0.6", "verdict"),
    ("explanations", "SERIES_SHARE_MAX = 0.5", "SERIES_SHARE_MAX = 0.4", "explain"),
    ("explanations", "rOhm, 2)", "rOhm, 1)", "explain"),
    ("exchanged", '"stands-out", ', "", "exchanged"),
    ("at-rest", "Math.PI / 2", "Math.PI / 2.01", "round"),
    ("which-curve", "now.byK > best.byK", "now.byK < best.byK", "which"),
    ("e-series", "68,", "69,", "stand-in"),
    ("stand-in", "REACH = 100", "REACH = 3", "stand-in"),
    ("divider", "pullUpOhm - readOhm)", "pullUpOhm + readOhm)", "divider"),
    ("instruments", "? used.resolution_ohm", "? used.digits", "winding"),
    ("instruments", "one === used[0]", "one === one", "winding"),
    ("insulation", 'cold: "within"', 'cold: "outside"', "insulation"),
    ("insulation", "partMinOhm === limitOhm", "partMinOhm > limitOhm", "insulation"),
    ("insulation", "BARE_BELOW_OHM = 100e3", "BARE_BELOW_OHM = 1", "notation"),
    ("rounding", "Ohm.formatOhm(rounded, d", "Ohm.formatOhm(rOhm, d", "rounding"),
    ("winding", "1 - 2 / n", "1 - 1 / n", "winding"),
    ("winding-value", "2 * Math.hypot", "Math.hypot", "winding-value"),
    ("curve-pair", "PLACES = 401", "PLACES = 101", "curve-pair"),
    ("insulation", "/ (insideC + 273)", "/ (insideC + 273.15)", "insulation"),
    ("notation", "or milliohms ", "and milliohms ", "notation"),
    ("rounding", "/[02468]$/", "/[13579]$/", "rounding"),
    ("out-of-range", "SLACK = 1e-9", "SLACK = 1e-2", "grid"),
)
"""File, what stands in it, what a slip of the pen would make of it, and who should notice."""
MOST_BROKEN = 2500


@pytest.mark.parametrize(
    ("name", "right", "wrong", "kind"), BREAKS, ids=[f"{a} {c}" for a, _, c, _ in BREAKS]
)
def test_a_broken_formula_is_noticed(
    browser: object,
    curves: dict[str, object],
    asked: list[Vector],
    name: str,
    right: str,
    wrong: str,
    kind: str,
) -> None:
    text = (ASSETS / f"{name}.js").read_text(encoding="utf-8")
    assert text.count(right) == 1
    lot = [one for one in asked if one.kind == kind][:MOST_BROKEN]
    compared = _answers(browser, curves, lot, broken={name: text.replace(right, wrong)})
    assert compared.faults


@pytest.mark.parametrize("text", ["1e999", "1,234,567k", "6.32\u212a"])
def test_what_is_no_number_is_refused_and_never_taken_for_an_open_circuit(
    browser: object, text: str
) -> None:
    page = browser.new_page()
    page.add_script_tag(path=ASSETS / "notation.js")
    said = page.evaluate(
        "text => { try { return Ohm.parseReading(text) } catch (one) { return one.message } }", text
    )
    page.close()
    assert said == f"'{text}' is not a resistance; write it as 480, 6.32k, 6k32 or 1.2M"


@pytest.mark.parametrize("name", ARITHMETIC)
def test_an_arithmetic_file_names_its_python_and_never_touches_the_page(name: str) -> None:
    text = (ASSETS / f"{name}.js").read_text(encoding="utf-8")
    opening = "".join(line for line in text.splitlines()[:2] if line.startswith("//"))
    mirrored = re.findall(r"kb/numbers/\w+\.py", opening)
    assert mirrored and all((ROOT / one).is_file() for one in mirrored)
    page = r"\b(document|window|navigator|location|\w+Storage|fetch|addEventListener|alert)\b"
    assert re.findall(page, text) == []
    # Older phones: nothing of the language after 2018.
    assert re.findall(r"\?\?|\?\.[a-z\[(]|\bstatic\b|\.flat\(|\.flatMap\(|#\w+ ?=", text) == []
