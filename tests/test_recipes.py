"""The recipes of DEVELOPERS.md, followed to the letter in a copy of the program."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from kb.words.catalogue import languages

TOP = Path(__file__).resolve().parents[1]
GOOD = TOP / "tests" / "data" / "entries" / "good"
BLOCK = re.compile(
    r"^( *)```(?:python|toml)\n\1# (?P<file>[\w/]+\.(?:py|toml))\n(?P<text>.*?)^\1```$", re.M | re.S
)

COOLANT = """\
name: R-290
aka: propane
source: bench-sheet
boils_c: -42
cautions: It burns.
checked: {by: AA, on: 2026-01-08}
"""
LINE = """\
name: Straight, 1000 ohms
source: bench-sheet
law: straight
range_c: [0, 100]
r0: 1000
slope_ohm: 4
checked: {by: AA, on: 2026-01-08}
"""
LAW_WORDS = [f"kb/words/{language}/pages/laws.toml" for language in languages()]
TOLD = """
import sys
from pathlib import Path
from generators.release.changes import tell_changes
from kb.snapshot import take_snapshot
from generators.site_context import SiteContext
from kb.catalog import Catalog
from kb.notes.load import load_notes

old, new = (take_snapshot(Catalog(load_notes(Path(folder)))) for folder in sys.argv[1:])
print(*(f"{change.level}: {change.text}" for change in tell_changes(old, new=new)), sep="\\n")
"""


def recipe(file: str) -> str:
    """Return the code that DEVELOPERS.md gives for a file."""
    for block in BLOCK.finditer((TOP / "DEVELOPERS.md").read_text(encoding="utf-8")):
        if block["file"] == file:
            return re.sub(rf"^{block[1]}", "", block["text"], flags=re.M)
    raise LookupError(f"DEVELOPERS.md has no code for {file}")


class Workshop:
    """A copy of the program and of the good notes, to try a recipe on."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.notes = folder / "program", folder / "notes"
        for room in ("kb", "generators", "site_config"):
            shutil.copytree(
                TOP / room, self.folder / room, ignore=shutil.ignore_patterns("__pycache__")
            )
        shutil.copytree(GOOD, self.notes)

    def write(self, file: str, text: str) -> None:
        path = self.folder / file
        path.write_text(text, encoding="utf-8")

    def change(self, file: str, old: str, new: str) -> None:
        text = (self.folder / file).read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{file} holds {old!r} {text.count(old)} times"
        self.write(file, text.replace(old, new))

    def entry(self, file: str, text: str) -> None:
        path = self.notes / "docs_data" / file
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def run(self, program: str, *words: object) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-W", "error", "-c", program, *map(str, words)],
            cwd=self.notes,
            env={**os.environ, "PYTHONPATH": str(self.folder), "PYTHONDONTWRITEBYTECODE": "1"},
            capture_output=True,
            text=True,
            check=False,
        )

    def ohmfolio(self, *words: object) -> str:
        program = (
            "import sys; sys.argv[0] = 'ohmfolio'; from generators.command import main; main()"
        )
        done = self.run(program, *words)
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def refused(self) -> str:
        """Return why the program cannot be imported."""
        done = self.run("import generators.command, generators.build")
        assert done.returncode == 1, "the program was imported"
        assert "ImportError: " in done.stderr, done.stderr
        return done.stderr.rpartition("ImportError: ")[2].strip()


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop(tmp_path)


def with_kind(workshop: Workshop) -> Workshop:
    """Follow the recipe for a kind."""
    workshop.write("kb/model/refrigerant.py", recipe("kb/model/refrigerant.py"))
    workshop.change("kb/model/__init__.py", "Lesson, Term]", "Lesson, Term, Refrigerant]")
    workshop.change(
        "kb/model/__init__.py",
        "from .release import",
        "from .refrigerant import Refrigerant\nfrom .release import",
    )
    workshop.write("generators/pages/refrigerant.py", recipe("generators/pages/refrigerant.py"))
    workshop.change(
        "generators/make.py",
        "    Sensor: make_sensor,\n",
        "    Sensor: make_sensor,\n    Refrigerant: make_refrigerant,\n",
    )
    workshop.change(
        "generators/make.py",
        "from .pages.sensor import make_sensor\n",
        "from .pages.sensor import make_sensor\n"
        "from kb.model.refrigerant import Refrigerant\n"
        "from .pages.refrigerant import make_refrigerant\n",
    )
    for language in languages():
        room = f"kb/words/{language}/pages"
        workshop.change(f"{room}/kinds.toml", "[kind]\n", f"[kind]\n{recipe(f'{room}/kinds.toml')}")
        workshop.write(f"{room}/refrigerant.toml", recipe(f"{room}/refrigerant.toml"))
    workshop.entry("refrigerants/r-290.yaml", COOLANT)
    return workshop


def with_law(workshop: Workshop) -> Workshop:
    """Follow the recipe for a law."""
    workshop.write("kb/numbers/straight.py", recipe("kb/numbers/straight.py"))
    workshop.change(
        "kb/model/curve.py", "\n\nCURVE_LAWS", f"\n\n{recipe('kb/model/curve.py')}\n\nCURVE_LAWS"
    )
    workshop.change(
        "kb/laws.py", "= _laws(\n    [\n", f"= _laws(\n    [\n{recipe('kb/laws.py').rstrip()},\n"
    )
    workshop.change(
        "kb/laws.py",
        "from kb.numbers.law import Law\n",
        "from kb.model.curve import StraightCurve\n"
        "from kb.numbers.law import Law\n"
        "from kb.numbers.straight import Straight\n",
    )
    for file in LAW_WORDS:
        workshop.change(file, "[law]\n", f"[law]\n{recipe(file)}")
    workshop.entry("curves/line.yaml", LINE)
    return workshop


def changed_since(workshop: Workshop, file: str, old: str, new: str) -> list[str]:
    """Return what the program tells of a change in an entry."""
    before = shutil.copytree(workshop.notes, workshop.folder.parent / "before")
    path = workshop.notes / "docs_data" / file
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    done = workshop.run(TOLD, before, workshop.notes)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_a_kind_by_the_recipe_is_checked_offered_built_found_and_compared(workshop):
    with_kind(workshop)
    workshop.ohmfolio("check")
    assert '"boils_c"' in workshop.ohmfolio("schema", "--print", "refrigerants")
    workshop.ohmfolio("build")
    site = workshop.notes / "site"
    page = (site / "refrigerants/r-290.html").read_text(encoding="utf-8")
    assert "It burns." in page and 'data-c="-42"' in page and "Boils at" in page
    assert "Refrigerants" in (site / "index.html").read_text(encoding="utf-8")
    listed = (site / "refrigerants/index.html").read_text(encoding="utf-8")
    assert "R-290" in listed and "What is in the circuits." in listed
    found = (site / "assets/find-index.js").read_text(encoding="utf-8")
    for word in ('"R-290"', '"refrigerants/r-290.html"', '"aka","propane"'):
        assert word in found
    assert '"refrigerant"' in found
    workshop.entry("refrigerants/r-290.yaml", COOLANT.replace("-42", "cold"))
    refused = workshop.run("from generators.command import main; main()", "check")
    assert "docs_data/refrigerants/r-290.yaml:4:10: value: " in refused.stdout
    workshop.entry("refrigerants/r-290.yaml", COOLANT)
    assert changed_since(workshop, "refrigerants/r-290.yaml", "It burns", "It burns well") == [
        "safety: R-290: cautions reworded: It burns well."
    ]


def test_a_law_by_the_recipe_is_checked_offered_built_found_and_compared(workshop):
    with_law(workshop)
    workshop.entry(
        "sensors/unit-a/line-a.yaml",
        (GOOD / "docs_data/sensors/unit-a/air-a.yaml")
        .read_text(encoding="utf-8")
        .replace("T6", "T12")
        .replace("platinum-hundred", "line")
        .replace("[-20, 45]", "[0, 90]")
        .replace("pinned: {drawing: unit-a-front, pin: T12}\n", ""),
    )
    workshop.ohmfolio("check")
    assert '"straight"' in workshop.ohmfolio("schema", "--print", "curves")
    assert "1.040" in workshop.ohmfolio("expect", "line", "--at", "10")
    workshop.ohmfolio("build")
    site = workshop.notes / "site"
    page = (site / "curves/line.html").read_text(encoding="utf-8")
    assert "By a straight line." in page and "1.040" in page
    assert "a straight line" in (site / "numbers.html").read_text(encoding="utf-8")
    assert "curves/line.html" in (site / "assets/find-index.js").read_text(encoding="utf-8")
    told = changed_since(workshop, "curves/line.yaml", "slope_ohm: 4", "slope_ohm: 4.1")
    assert len(told) == 1 and told[0].startswith(
        "numbers: curve Straight, 1000 ohms moved at 20\N{NO-BREAK SPACE}°C"
    )


def without(text: str, piece: str) -> str:
    """Take a declared piece out of a model's code."""
    left = re.sub(rf"^    {piece}: ClassVar.*?(?=^    \w|^\n)", "", text, flags=re.M | re.S)
    assert left != text
    return left


@pytest.mark.parametrize(
    ("piece", "what"),
    [
        ("kind", 'the folder under docs_data/, such as "codes"'),
        ("noun", 'what one of them is called in a sentence and in Find, such as "code"'),
        ("list_title", 'the heading of its list, such as "Codes"'),
        ("list_lead", 'one line that says what is there, such as "Every code of every family."'),
        ("home_place", "its place among the lists on the home page, a number"),
        ("find_place", "its place among what Find finds, a number"),
        ("when_unnamed", "what to do with one that no entry names; None if it stands for itself"),
        ("changes", "for each of its fields, how loud a change of it is: told_as(level, field, …)"),
    ],
)
def test_a_kind_without_a_piece_says_which_and_what_it_is(workshop, piece, what):
    with_kind(workshop)
    file = "kb/model/refrigerant.py"
    workshop.write(file, without(recipe(file), piece))
    words = f"kb.model.refrigerant: Refrigerant declares no '{piece}': {what}"
    assert words in workshop.refused().split("; kb.model")[0]


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        (
            "kb/model/refrigerant.py",
            '        **told_as("safety", "cautions"),\n',
            "",
            "kb.model.refrigerant: Refrigerant.changes leaves out 'cautions': name it in "
            "told_as(level, …), so that a change of it is as loud as it is dangerous",
        ),
        (
            "kb/model/refrigerant.py",
            '"cautions"',
            '"cautions", "colour"',
            "kb.model.refrigerant: Refrigerant.changes names 'colour', which is no field",
        ),
        (
            "kb/model/refrigerant.py",
            "find_place: ClassVar[int] = 13",
            "find_place: ClassVar[int] = 2",
            "kb.model.refrigerant: Refrigerant has the 'find_place' of Sensor, 2: give it one of "
            "its own",
        ),
        (
            "kb/model/__init__.py",
            ", Refrigerant]",
            "]",
            "kb.model.refrigerant: Refrigerant is in no list of kinds: name it in KINDS in "
            "kb/model/__init__.py, in the order in which changes are told",
        ),
        (
            "kb/model/words.py",
            'InstrumentId = Annotated[str, _Named, Ref("instruments")]',
            'InstrumentId = Annotated[str, _Named, Ref("instrumnets")]',
            "kb.model.source: Source.measured.instrument is an id of 'instrumnets', and there is no "
            "such kind: mend its Ref in kb/model/words.py",
        ),
        (
            "generators/make.py",
            "    Refrigerant: make_refrigerant,\n",
            "",
            "generators.make: nothing makes the page of a refrigerant: write make_refrigerant in "
            "generators/pages/refrigerant.py, and name it in MAKERS under Refrigerant",
        ),
        (
            "kb/words/german/pages/kinds.toml",
            "refrigerants = ",
            "coolants = ",
            "generators.kind_words: pages have no words in german for a refrigerant: write "
            "refrigerants = { noun = …, title = …, lead = … } in section [kind] of "
            "kb/words/german/pages/kinds.toml",
        ),
    ],
    ids=[
        "a field",
        "no field",
        "a place taken",
        "the list of kinds",
        "an id of nothing",
        "a page",
        "words",
    ],
)
def test_a_kind_that_does_not_fit_says_what_to_write_where(workshop, file, old, new, words):
    with_kind(workshop)
    workshop.change(file, old, new)
    assert workshop.refused() == words


def test_a_kind_whose_file_nobody_imports_is_noticed(workshop):
    file = "kb/model/refrigerant.py"
    workshop.write(file, recipe(file))
    assert "Refrigerant is in no list of kinds" in workshop.refused()


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        (
            "kb/model/curve.py",
            '    changes: ClassVar[Changes] = told_as("told otherwise", "r0", "slope_ohm")\n',
            "",
            "kb.model.curve: StraightCurve.changes leaves out 'r0': name it in told_as(level, …), "
            "so that a change of it is as loud as it is dangerous",
        ),
        (
            "kb/model/curve.py",
            '    law: Literal["straight"]\n',
            "",
            "kb.model.curve: StraightCurve has no word for 'law:': write law: Literal[\"its-word\"]",
        ),
        (
            "kb/laws.py",
            "CurveLaw(model=StraightCurve,",
            "CurveLaw(model=BetaCurve,",
            "kb.laws: the law 'straight' says nothing of itself: add "
            "CurveLaw(model=StraightCurve, curve=…) to LAWS",
        ),
        (
            "kb/laws.py",
            ", curve=lambda entry: Straight(r0=entry.r0, slope_ohm=entry.slope_ohm)",
            "",
            "kb.laws: the law 'straight' needs one of 'curve', which computes, and 'limits'",
        ),
        (
            "kb/laws.py",
            "CurveLaw(model=StraightCurve,",
            'CurveLaw(model=StraightCurve, fitted_as="a straight line",',
            "kb.laws: the law 'straight' has 'fitted_as' if kb/numbers/fit.py names it in LAWS, "
            "and only then",
        ),
        (
            "kb/words/german/pages/laws.toml",
            'straight = "eine Gerade"\n',
            "",
            "generators.pages.curve: the law 'straight' has no words in german: say how a "
            "resistance is obtained by it in section [law] of kb/words/german/pages/laws.toml",
        ),
        (
            "kb/numbers/fit.py",
            'LAWS = ("platinum",',
            'LAWS = ("straight", "platinum",',
            "kb.numbers.fit: the law 'straight' can be fitted: say with how many points at least "
            "in _LEAST_POINTS, and how in _FITTED",
        ),
    ],
    ids=[
        "a field",
        "its word",
        "the list of laws",
        "how it computes",
        "a fit",
        "its words",
        "how it is fitted",
    ],
)
def test_a_law_without_a_piece_says_what_to_write_where(workshop, file, old, new, words):
    with_law(workshop)
    workshop.change(file, old, new)
    assert workshop.refused() == words
