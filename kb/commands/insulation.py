"""`ohmfolio insulation`: a part's insulation to earth, by its own limit first, at any warmth."""

from __future__ import annotations

from pathlib import Path

import click

from kb.answers.insulation import InsulationQuestion, answer_insulation
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.model import Instrument
from kb.notes.late import open_notes
from kb.notes.problem import nearest
from kb.numbers.insulation_trend import TRENDS
from kb.part_facts import caution_facts, insulation_facts, named_testers

from .insulation_words import insulation_as_dict, insulation_words
from .options import NotUnderstood, json_option, notes_option, read_entry, refused, say_json
from .part_lookup import find_part


@click.command()
@click.argument("part", metavar="PART")
@click.option("--reading", metavar="R", required=True, help="After one minute: 45M, 1.2G, OL.")
@click.option("--volts", metavar="V", required=True, help="Direct test voltage used.")
@click.option(
    "--at",
    metavar="T",
    default="",
    help="The winding's temperature, best between 10 and 85 °C; without it only what holds at any.",
)
@click.option(
    "--tester",
    metavar="ID",
    help="The insulation tester used, to count its error; by default "
    "the notes' only one of that voltage.",
)
@click.option("--air", metavar="T", default="", help="Air there; with --humidity, the dew point.")
@click.option("--humidity", metavar="PERCENT", default="", help="Relative humidity of that air.")
@click.option(
    "--surface",
    type=click.Choice(["wet", "dry"]),
    help="What winding and terminals look like; wet is dirty too.",
)
@click.option("--at-15s", metavar="R", default="", help="What it showed after 15 seconds.")
@click.option("--at-30s", metavar="R", default="", help="What it showed after 30 seconds.")
@click.option("--at-10min", metavar="R", default="", help="What it showed after ten minutes.")
@click.option("--trend", type=click.Choice(TRENDS), help="How it moved, where nothing was noted.")
@notes_option
@json_option
def insulation(part: str, tester: str | None, notes: Path, as_json: bool, **typed: str) -> None:
    """Say whether a part's insulation to earth is good, brought to 40 °C.

    By the part's own limit first, then for comparison by the standard's minimum. Colder than
    10 °C or hotter than 85 °C it is judged as read. A test above the part's own test voltage
    gets no verdict. Too little on a surface that is wet, seen or by the dew point, is not decided.

    Example: ohmfolio insulation quellmark-fan-motor --reading 45M --volts 500 --at 22
    """
    catalog = Catalog(open_notes(notes))
    entry, limit = find_part(
        catalog.notes, part_id=part, needs=lambda entry: entry.insulation, what="insulation limit"
    )
    question = InsulationQuestion(
        part=insulation_facts(entry, limit=limit),
        testers=named_testers(catalog),
        tester=_tester_id(catalog, tester),
        **{name: text or "" for name, text in typed.items()},
    )
    try:
        answer = answer_insulation(question)
    except Refusal as refusal:
        raise refused(refusal, at=typed["at"] or "") from None
    facts = caution_facts(catalog, part=entry, judging="insulation")
    if as_json:
        say_json(insulation_as_dict(answer, part=entry, facts=facts))
    else:
        click.echo(insulation_words(answer, part=entry, facts=facts))


def _tester_id(catalog: Catalog, tester: str | None) -> str:
    """Return the id of a tester that is one; "" where none was named."""
    if tester is None:
        return ""
    if not catalog.notes.knows("instruments", tester):
        testers = [tool.id for tool in catalog.insulation_testers()]
        raise NotUnderstood(f"no instrument is called '{tester}'; {nearest(tester, testers)}")
    tool = read_entry(catalog.notes, model=Instrument, entry_id=tester)
    if not tool.insulation:
        raise NotUnderstood(f"{tool.name} is no insulation tester")
    return tool.id
