"""The page computes what Python computes: 20,000 random questions, answered by its own modules."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from generators.link_scripts import link_scripts
from tests.site.node_answers import ASSETS, ROOT, WRITTEN, copy_scripts, node_answers, run_node
from tests.site.vector_must_meet import MUST_MEET
from tests.site.vector_states import states_of
from tests.site.vectors import COUNTS, Vector

NUMBERS = ASSETS / "numbers"
PURE = sorted(
    path.relative_to(ASSETS).as_posix()
    for room in ("numbers", "answers", "find")
    for path in (ASSETS / room).iterdir()
)
RELATIVE = 1e-9
# A difference of two nearly equal temperatures or resistances keeps their absolute error, a few
# 1e-13; its own relative one may be anything near zero. So does a temperature at 0 °C.
DIFFERENCES = {
    "tImpliedC",
    "t_implied_c",
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
        self.met.setdefault(vector.kind, Counter()).update(states_of(vector))
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
    ("verdict", "halfWidth / Math.sqrt(3)", "halfWidth / Math.sqrt(3.00000001)", "verdict"),
    ("verdict", "sum + termK * termK", "sum + termK", "explain"),
    ("error-bound", "(1 - COVERAGE) / 2", "1 - COVERAGE", "verdict"),
    ("verdict", "leftWithout(a) - leftWithout(b)", "leftWithout(b) - leftWithout(a)", "verdict"),
    ("verdict", "grid.lowOhm / 10", "grid.lowOhm / 9", "verdict"),
    ("grid", "insideC) * rate", "insideC) * rate * 1.00001", "grid"),
    ("grid", "this.falling ? ln > inside : ln < inside", "ln > inside", "grid"),
    ("grid", "fromC <= insideC &&", "fromC < insideC &&", "answer-lookup"),
    ("grid", "pieces[i + 1].from_c) :", "pieces[i + 1].from_c) + 5 :", "answer-lookup"),
    ("../answers/which", "Math.max(...needed)", "Math.min(...needed)", "answer-which"),
    ("../answers/round-rows", "curve), state, s", "curve) - 1, state, s", "answer-round"),
    ("instruments", "range.span_ohm);", "range.span_ohm * 1.5);", "verdict"),
    ("instruments", "resolution_k / 2", "resolution_k", "verdict"),
    ("likely-faults", "SERIES_SHARE_MAX = 2", "SERIES_SHARE_MAX = 1", "explain"),
    ("likely-faults", "measured.rOhm, 2)", "measured.rOhm, 1)", "explain"),
    ("likely-faults", "HALF_K = 30", "HALF_K = 20", "explain"),
    ("likely-faults", "AMONG_CAUSES = 0.3", "AMONG_CAUSES = 0.4", "explain"),
    ("likely-faults", "leak: 0.7", "leak: 0.2", "explain"),
    ("likely-faults", "total / every", "total", "explain"),
    ("held", "LEAST_K = 0.25", "LEAST_K = 0.35", "explain"),
    ("held", "limitK * limitK) / 4", "limitK * limitK) / 3", "explain"),
    ("../answers/reading-earlier", "APART_K = 5", "APART_K = 30", "answer-reading"),
    ("explanations", "meterHalfOhm + PULL_UP", "PULL_UP", "explain"),
    ("place-at-rest", "(2 * Math.PI)) / 2", "Math.PI) / 2", "round"),
    ("place-at-rest", "MOST_OUT = 3", "MOST_OUT = 2", "exchanged"),
    ("machine-at-rest", "EXCHANGED_SHARE = 0.03", "EXCHANGED_SHARE = 0.04", "exchanged"),
    ("machine-at-rest", "FAR_SHARE = 0.03", "FAR_SHARE = 0.04", "exchanged"),
    ("machine-standing", "limitK + uncertaintyK ?", "limitK ?", "round"),
    ("machine-standing", "expandedK(betweenK) >", "betweenK >", "exchanged"),
    ("which-curve", "now.byK > best.byK", "now.byK < best.byK", "which"),
    ("which-curve", "rectangular(grid.lawK(atC))", "0", "which"),
    ("verdict", "=== null ? grid.lawK(tC)", "=== null ? 0", "verdict"),
    ("held", "=== null ? grid.lawK(tC)", "=== null ? 0", "explain"),
    ("grid", "this._at(insideC, this.law)", "this.law[0]", "verdict"),
    ("../answers/controller-figure", "termsK.curve, ", "", "answer-controller"),
    ("e-series", "<= highOhm", "<= lowOhm", "stand-in"),
    ("stand-in", "REACH = 100", "REACH = 3", "stand-in"),
    ("divider", "pullUpOhm - readOhm)", "pullUpOhm + readOhm)", "divider"),
    ("instruments", "? used.resolution_ohm", "? used.digits", "winding"),
    ("instruments", "range === used[0]", "range === range", "winding"),
    ("insulation", 'cold: "within"', 'cold: "outside"', "insulation"),
    ("insulation", "partMinOhm === limitOhm", "partMinOhm > limitOhm", "insulation"),
    ("insulation", "BARE_BELOW_OHM = 100e3", "BARE_BELOW_OHM = 1", "notation"),
    ("rounding", "formatOhm(rounded, d", "formatOhm(rOhm, d", "rounding"),
    ("winding", "1 - 2 / n", "1 - 1 / n", "winding"),
    ("winding-value", "2 * Math.hypot", "Math.hypot", "winding-value"),
    ("winding-phases", "aroundOhm / 2 - readingsOhm", "aroundOhm - readingsOhm", "answer-winding"),
    ("winding-phases", "OPEN_TIMES = 5", "OPEN_TIMES = 50", "answer-winding"),
    ("winding-phases", "squares[name] / 3", "squares[name] / 2", "answer-winding"),
    ("../answers/winding-notes", "CONTACT_OHM = 0.2", "CONTACT_OHM = 0.02", "answer-winding"),
    ("repeated", "- 1] / 2", "- 1]", "answer-winding"),
    ("single-phase", "SUM_SHARE = 0.02", "SUM_SHARE = 0.3", "answer-winding"),
    ("../answers/winding-typed", "ALIKE_SHARE = 0.2", "ALIKE_SHARE = 0.001", "answer-winding"),
    ("../answers/winding-unnamed", "byOhm.indexOf(pair)", "0", "answer-winding"),
    ("dew-point", "SLOPE = 17.62", "SLOPE = 17.61", "answer-insulation"),
    ("insulation-trend", "STEADY_SHARE = 0.1", "STEADY_SHARE = 0.12", "answer-insulation"),
    ("../answers/insulation-watched", "at15 === null ? at30", "!at30 ? at30", "answer-insulation"),
    ("../answers/insulation-damp", '=== "dry"', '=== "near"', "answer-insulation"),
    ("curve-pair", "PLACES = 401", "PLACES = 101", "curve-pair"),
    ("insulation", "/ (insideC + 273)", "/ (insideC + 273.15)", "insulation"),
    ("notation", 'Unreadable("milli",', 'Unreadable("ohm",', "notation"),
    ("rounding", "/[02468]$/", "/[13579]$/", "rounding"),
    ("any-temperature", "MARGIN_K = 3", "MARGIN_K = 2", "answer-reading"),
    ("any-temperature", "expandedK(lawK) + MARGIN_K;", "expandedK(lawK);", "answer-reading"),
    ("plug-volts", "rOhm / seen, 2", "rOhm / seen, 1", "answer-volts"),
    ("../answers/live-rating", "meter.ratedV >= mostV", "meter.ratedV", "live-rating"),
    ("../answers/live-rating", "=> ratedV >= mostV", "=> ratedV", "live-rating"),
    ("../answers/live-rating", "WIRED_IN_V = 400", "WIRED_IN_V = 1", "live-rating"),
    ("../answers/controller-figure", "BOARD_K = 1", "BOARD_K = 2", "answer-controller"),
    ("../answers/reading", "SAME_K = 0.005", "SAME_K = 0.5", "answer-reading"),
    ("../answers/judged", "ways.length - 1", "ways.length - 2", "answer-reading"),
    ("../answers/reading-next", "ofCode.includes(instruction)", "false", "answer-reading"),
    ("../answers/drill-curve", "uK * 0.4", "uK * 0.5", "drills"),
    ("../answers/drill-curve", "? curve.tolK(tC)", "? 2 * curve.tolK(tC)", "drills"),
    ("../answers/drill-choice", "!other.lamps.some", "other.lamps.every", "drills"),
    ("../answers/drill-choice", "where.includes(bareWords(sensor.label))", "false", "drills"),
    ("../answers/drill", "different.delete", "different.has", "drills"),
    ("../answers/drill-order", "MOST_SUSPECTS = 5", "MOST_SUSPECTS = 6", "drills"),
    ("../answers/drill-meter", "OVER_ONE_IN = 6", "OVER_ONE_IN = 7", "drills"),
    ("../answers/drill-marked", "offK) <= limitK", "offK) < 2 * limitK", "drills"),
    ("../answers/drill-marked", "HALF_SHARE = 0.1", "HALF_SHARE = 0.2", "drills"),
    ("../answers/drill-marked", "worth[right[i]]) <=", "worth[right[i]]) >", "drills"),
    ("seeded", "drawn >= whole", "drawn > OUTPUTS", "seeded"),
    ("seeded", "x >>> 17", "x >> 17", "seeded"),
    ("../answers/practice-draw", "LEAST_K = 6", "LEAST_K = 7", "practice"),
    ("../answers/practice-reading", "offOhm - range.resolution_ohm / 2", "offOhm", "practice"),
    ("../answers/practice-motor", "pairs[(i + 2) % 3])] =", "pairs[(i + 1) % 3])] =", "practice"),
    ("../answers/practice-safety", "LEFT_SHARE = 0.8", "LEFT_SHARE = 0.7", "practice"),
    ("out-of-range", "SLACK = 1e-9", "SLACK = 1e-2", "grid"),
    ("../answers/normal-form", "other.slice(i + 1, i + 2)", "other[i]", "spelling"),
    ("../answers/normal-form", '"NFKD"', '"NFC"', "spelling"),
    ("../answers/blinks", "i % 2 === first", "i % 2 === 0", "blinks"),
    ("../answers/blinks", "(strange && !inWords)", "strange", "blinks"),
    ("../answers/blinks", "=== 1;", "<= 2;", "find-codes"),
    ("../answers/blinks", "tokens.length === 1 && BOTH", "BOTH", "blinks"),
    ("../answers/blinks", "/^[1-9][1-9]$/", "/^[1-9][0-9]$/", "blinks"),
    ("../answers/family-words", "naming[i].size === most", "naming[i].size", "families-named"),
    ("../answers/family-words", "name.startsWith(word)", "name === word", "families-named"),
    ("../answers/family-words", "SPELLINGS.kinds.includes(word)", "false", "families-named"),
    ("../answers/family-words", "LIMITS.longest_name", "1", "families-named"),
    ("../answers/code-lookup", "look === typed.look", "false", "find-codes"),
    ("../answers/code-lookup", "typed.counted && near", "near", "find-codes"),
    ("../answers/code-lookup", "more > 0", "more >= 0", "find-codes"),
)
"""File, what stands in it, what a slip of the pen would make of it, and who should notice."""
FEW_BROKEN = 250
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
    # Most slips are noticed by the first few: the many are asked only where they are not.
    assert any(_answers(folder, curves, some).faults for some in (lot[:FEW_BROKEN], lot))


def test_one_linked_script_answers_the_same_in_a_browser(
    browser: object, curves: dict[str, object], asked: list[Vector]
) -> None:
    harness = "tests/site/answer_vectors.js"
    paths = [ROOT / harness, *sorted(ASSETS.rglob("*.js"))]
    sources = {path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in paths}
    sources.update({f"site_config/assets/{name}": text for name, text in WRITTEN.items()})
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
  try { console.log(parseReading(text)); } catch (refused) { console.log(refused.message, refused.figures.typed); }
});
"""


@pytest.mark.parametrize(
    ("text", "fault"), [("1e999", "beyond"), ("1,234,567k", "ohm"), ("6.32\u212a", "ohm")]
)
def test_what_is_no_number_is_refused_and_never_taken_for_an_open_circuit(
    tmp_path: Path, text: str, fault: str
) -> None:
    (copy_scripts(tmp_path) / "refuses.js").write_text(REFUSES, encoding="utf-8")
    assert run_node(tmp_path, "refuses.js", sent=text).rstrip("\n") == f"{fault} {text}"


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
