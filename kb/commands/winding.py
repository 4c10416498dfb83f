"""`ohmfolio winding`: are a part's windings equal, and do they read what they should?"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import click

from kb.answers.statement import Refusal
from kb.answers.winding import WindingQuestion, answer_windings, winding_refusals
from kb.catalog import Catalog
from kb.facts import kit_of, named_meter
from kb.notes.late import open_notes
from kb.part_facts import caution_facts, winding_facts

from .instruments_used import meter_entry, meter_option
from .options import NotUnderstood, json_option, notes_option, refused, say_json
from .pairs import ManyPairs
from .part_lookup import find_part
from .winding_words import windings_as_dict, windings_words


@click.command(cls=ManyPairs)
@click.argument("part", metavar="PART")
@click.option(
    "--reading",
    metavar="A-B=R…",
    multiple=True,
    required=True,
    help="A pair of leads and what it read, leads zeroed, or their reading taken off, "
    "such as U-V=3.2. Repeats: 'U-V=3.21 3.19 3.22'. Three leads whose names nobody knows: "
    "1-2=…, 2-3=…, 1-3=….",
)
@click.option(
    "--at",
    metavar="T",
    default="",
    help="The winding's temperature; needed to bring readings to 20 °C.",
)
@meter_option
@notes_option
@json_option
def winding(
    part: str, reading: tuple[str, ...], at: str, meter: str | None, notes: Path, as_json: bool
) -> None:
    """Say whether a part's windings are equal, and read what its entry gives.

    Type readings with the leads zeroed, or their reading taken off. Balance is in per cent of the
    mean and counts one digit of the meter: read all on one range within a minute. With the
    winding's temperature, readings are brought to 20 °C and held against the entry's values, and
    the meter's whole accuracy counts.

    Example: ohmfolio winding quellmark-fan-motor --reading U1-U2=38.1 V1-V2=38.6 W1-W2=38.3 --at 22
    """
    catalog = Catalog(open_notes(notes))
    entry, windings = find_part(
        catalog.notes, part_id=part, needs=lambda entry: entry.windings, what="windings"
    )
    question = WindingQuestion(
        part=winding_facts(entry, windings=windings),
        readings=_typed_pairs(reading),
        at=at,
        meter=named_meter(meter_entry(meter, catalog=catalog)),
        kit=kit_of(catalog),
    )
    if len(refusals := winding_refusals(question)) > 1:
        raise NotUnderstood("\n".join(refused(refusal).message for refusal in refusals))
    try:
        answer = answer_windings(question)
    except Refusal as refusal:
        raise refused(refusal, at=at) from None
    facts = caution_facts(catalog, part=entry, judging="windings")
    if as_json:
        say_json(windings_as_dict(answer, part=entry, question=question, facts=facts))
    else:
        click.echo(windings_words(answer, part=entry, facts=facts))


def _typed_pairs(texts: Iterable[str]) -> list[tuple[str, str]]:
    """Return (leads, reading) of each `A-B=R`, as typed; NotUnderstood names all that are none."""
    pairs, wrong = [], []
    for text in texts:
        leads, _, reading = (piece.strip() for piece in text.partition("="))
        if leads and reading:
            pairs.append((leads, reading))
        else:
            wrong.append(f"'{text}' is not a pair; write it as U-V=3.2")
    if wrong:
        raise NotUnderstood("\n".join(wrong))
    return pairs
