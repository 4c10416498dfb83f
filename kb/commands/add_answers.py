"""Gather the answers of a new entry: what was given, what is asked, what is begun on the way."""

from __future__ import annotations

import shlex
from dataclasses import dataclass, field
from pathlib import Path

import click

from kb.bring.draft import Draft, Place, Way, tried
from kb.columns.answer import refuse_unfit
from kb.columns.cell import TAKE_OUT, CellFault, cell_of, value_of
from kb.columns.column import Column, columns_of
from kb.columns.values import (
    Value,
    at,
    id_for,
    in_file,
    items_of,
    name_for,
    with_value,
    without_gaps,
)
from kb.entry_file.entry_text import with_article
from kb.model import KINDS
from kb.notes.load import Notes

from .add_points import points_value
from .add_questions import (
    ASKED,
    MAY_STAY_EMPTY,
    OFFERED,
    Offer,
    asked_columns,
    board_of,
    flag,
    needless,
    offers,
)
from .asking import WIDE, agreed, answer, narrow
from .options import NoAnswer, NotUnderstood

BEGIN = "new"
"""Typed where an entry is to be chosen, it begins another one."""
LAWS_ASKED = (
    Offer("beta", "R25 and a B value"),
    Offer("platinum", "Pt100, Pt500, Pt1000"),
    Offer("nickel", "Ni1000"),
)


@dataclass(kw_only=True)
class Answers:
    """The answers of one entry."""

    kind: str
    notes: Notes
    asks: bool
    value: Value = field(default_factory=dict)
    kept: bool = False
    """Whether it began from another entry: then only what is new each time is asked."""
    places: dict[Way, Place] = field(default_factory=dict)
    before: list[Draft] = field(default_factory=list)
    """Entries that were begun on the way."""
    asked: bool = False

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns of the kind; of a curve, those of its law."""
        return columns_of(self.kind, law=str(self.value.get("law") or ""))

    def take(self, column: Column, *, text: str, number: int, place: Place) -> None:
        """Take what was given for a field; another line of a list is added to it.

        Raises
        ------
        CellFault
            When its field does not take it.
        """
        new = value_of(text, column=column)
        refuse_unfit(new, column=column)
        way = column.way(number)
        there = at(self.value, way=way)
        if column.holds in ("lines", "ids") and isinstance(there, list) and way in self.places:
            assert isinstance(new, list)
            new = [*there, *new]
        if column.holds == "pins" and isinstance(there, dict) and isinstance(new, dict):
            new = {**there, **new}
        self.value = with_value(self.value, way=way, new=new)
        self.places[way] = place

    def ask_all(self) -> None:
        """Ask what is needed and not given; NotUnderstood where nobody can be asked."""
        if self.kind == "curves" and "law" not in self.value:
            self._ask_law()
        missing: list[str] = []
        if not self.asks and self.kind == "sensors":
            missing += self._unjudged()
        for column in asked_columns(self.kind, law=str(self.value.get("law") or "")):
            if column.holds == "suspect" and self.asks:
                self._ask_suspects(column)
            elif self._open(column):
                missing += self._settle(column)
        if missing:
            noun = KINDS[self.kind].noun
            raise NotUnderstood(
                f"{with_article(noun)} needs {', '.join(missing)} too; see ohmfolio fields {noun}"
            )

    def _unjudged(self) -> list[str]:
        """Return what is missing of a sensor that nothing says how to judge."""
        judged = any(at(self.value, way=(name,)) for name in ("curve", "healthy", "untestable"))
        curves = offers(
            next(column for column in self.columns if column.field == "curve"),
            value=self.value,
            notes=self.notes,
        )
        return (
            [] if judged or len(curves) == 1 else ["--curve (or --healthy-when, --healthy-reads)"]
        )

    def _open(self, column: Column, *, number: int = 1) -> bool:
        given = at(self.value, way=column.way(number)) is not None
        if given or needless(column, value=self.value, number=number):
            return False
        # A name is made of what the entry is, and a list's later items are never asked for.
        return not (column.field == "name" and self.kind in ("sensors", "codes", "sources"))

    def _settle(self, column: Column) -> list[str]:
        """Ask, or take what is the only one there; return the flag that is missing."""
        offered = offers(column, value=self.value, notes=self.notes)
        only = offered[0].written if len(offered) == 1 and column.ref else ""
        if self.asks and not (self.kept and column.field in MAY_STAY_EMPTY):
            self._ask(column, offered=offered, only=only)
            return []
        if only:
            self.take(column, text=only, number=1, place=Place(words=column.name, text=only))
            return []
        if column.field == "shown.#.blinks.lamp":
            return []
        if not self._wanted(column) and column.field != "shown.#.text":
            return []
        return [flag(column)]

    def _wanted(self, column: Column) -> bool:
        """Return whether the entry cannot stand without this answer."""
        if column.field in MAY_STAY_EMPTY or column.field == "suspects.#.share":
            return False
        return self.kind in ASKED or column.needed

    def _ask(
        self, column: Column, *, offered: list[Offer], only: str = "", number: int = 1
    ) -> bool:
        """Ask until the answer fits; return whether there was one."""
        self.asked = True
        if not offered and column.ref and column.ref in ("sources", "families", "curves"):
            if column.field in MAY_STAY_EMPTY and not agreed(
                f"There is no {KINDS[column.ref].noun} yet. Begin one?", default=True
            ):
                return False
            self._begin(column, number=number)
            return True
        empty = not self._wanted(column)
        click.echo("\n" + _question(column, offered=offered, empty=empty, only=only))
        while True:
            typed = answer(column.called(number), default=only)
            if typed == TAKE_OUT or not typed:
                if empty:
                    return False
                typed = ""
            if typed == BEGIN and column.ref:
                self._begin(column, number=number)
                return True
            try:
                if not typed:
                    raise CellFault("this cannot be left out", hint=column.doc or "type it")
                text = _chosen(typed, offered=offered, column=column)
                place = Place(words=f"your answer to '{column.called(number)}'", text=text)
                self.take(column, text=text, number=number, place=place)
            except CellFault as fault:
                click.echo(narrow(f"{fault}; {fault.hint}", lead="  "))
                continue
            self._after(column, text=text)
            return True

    def _after(self, column: Column, *, text: str) -> None:
        """Take what follows from an answer: the board that has the plug."""
        if column.field == "plug.mark" and at(self.value, way=("plug", "board")) is None:
            board = board_of(text, value=self.value, notes=self.notes)
            if board:
                self.value = with_value(self.value, way=("plug", "board"), new=board)
            else:
                board_column = next(c for c in self.columns if c.field == "plug.board")
                self._ask(
                    board_column, offered=offers(board_column, value=self.value, notes=self.notes)
                )

    def _ask_suspects(self, thing: Column) -> None:
        """Ask for suspects until an empty answer, each with its minutes; shares from the second."""
        columns = {column.field: column for column in self.columns}
        number = items_of(self.value, column=thing)
        while True:
            number += 1
            offered = offers(thing, value=self.value, notes=self.notes)
            if number == 1:
                self._ask(thing, offered=offered)
            elif self.kept or not self._ask_another(thing, offered=offered, number=number):
                break
            for name in ("suspects.#.minutes", "suspects.#.share"):
                column = columns[name]
                if self._open(column, number=number):
                    self._ask(column, offered=[], number=number)
            if self.kept:
                break
        for item in range(1, items_of(self.value, column=thing) + 1):
            share = columns["suspects.#.share"]
            if (
                at(self.value, way=share.way(item)) is None
                and items_of(self.value, column=thing) > 1
            ):
                self._ask(share, offered=[], number=item)

    def _ask_another(self, thing: Column, *, offered: list[Offer], number: int) -> bool:
        typed = answer(f"another {thing.name} (Enter: no more)")
        if not typed:
            return False
        text = _chosen(typed, offered=offered, column=thing)
        place = Place(words=f"your answer to '{thing.called(number)}'", text=text)
        self.take(thing, text=text, number=number, place=place)
        return True

    def _ask_law(self) -> None:
        if not self.asks:
            raise NotUnderstood(
                "a curve needs its table, --points FILE, or its law: --law beta, platinum, …; see "
                "ohmfolio fields curve"
            )
        self.asked = True
        click.echo("\nThe table of the data sheet, CSV or .xlsx with a row for each temperature.")
        while True:
            typed = answer("file of the table (Enter: there is none)")
            if not typed:
                break
            try:
                self.value = {
                    **self.value,
                    **points_value(Path(typed).expanduser(), notes=self.notes),
                }
            except (NotUnderstood, NoAnswer) as error:
                click.echo(error.message)
                continue
            return
        click.echo("\nThen it has a law:\n" + _listed(LAWS_ASKED))
        while True:
            typed = answer("law")
            law = next(
                (o.written for i, o in enumerate(LAWS_ASKED, 1) if typed in (str(i), o.written)), ""
            )
            if law:
                self.value["law"] = law
                return
            click.echo("  type a number of the list")

    def _begin(self, column: Column, *, number: int) -> None:
        """Begin another entry first, and name it here."""
        click.echo(f"\nFirst the {KINDS[column.ref].noun}.")
        inner = Answers(kind=column.ref, notes=self.notes, asks=True)
        inner.ask_all()
        draft = finished(inner)
        faults = tried([*inner.before, draft], notes=self.notes).faults
        if faults:
            raise NoAnswer("\n\n".join(fault.picture() for fault in faults))
        self.before += [*inner.before, draft]
        click.echo(f"\nNow the {KINDS[self.kind].noun} again.")
        way = column.way(number)
        new: object = [draft.entry_id] if column.holds == "ids" else draft.entry_id
        self.value = with_value(self.value, way=way, new=new)

    def command_line(self) -> str:
        """Return the command that gives every answer by its flag."""
        words = ["ohmfolio", "add", KINDS[self.kind].noun]
        for column in self.columns:
            for number in range(1, items_of(self.value, column=column) + 1):
                value = at(self.value, way=column.way(number))
                if value is not None:
                    words += [flag(column, number=number), cell_of(value, column=column)]
        return shlex.join(words)


def finished(answers: Answers) -> Draft:
    """Return the entry that the answers make."""
    kind, value = answers.kind, answers.value
    suspects = value.get("suspects")
    if isinstance(suspects, list) and len(suspects) == 1 and isinstance(suspects[0], dict):
        value = {**value, "suspects": [{"share": "1", **suspects[0]}]}
    if "name" not in value:
        value = {"name": name_for(kind, value=value), **value}
    made = without_gaps(in_file(value, meant=lambda thing: _meant(thing, answers=answers)))
    assert isinstance(made, dict)
    noun = KINDS[kind].noun
    return Draft(
        kind=kind,
        entry_id=id_for(kind, value=made),
        value=made,
        whole=Place(words=f"this {noun}"),
        places=answers.places,
    )


def _meant(thing: str, *, answers: Answers) -> tuple[str, str]:
    for kind, word in (("sensors", "sensor"), ("parts", "part")):
        if answers.notes.knows(kind, thing):
            return word, thing
    family = at(answers.value, way=("family",))
    for sensor_id in answers.notes.of_kind("sensors"):
        stands = answers.notes.texts[("sensors", sensor_id)].value
        if at(stands, way=("label",)) == thing and at(stands, way=("family",)) == family:
            return "sensor", sensor_id
    return "what", thing


def _question(column: Column, *, offered: list[Offer], empty: bool, only: str) -> str:
    doc = column.doc or f"{column.name[:1].upper()}{column.name[1:]}."
    lines = [narrow(doc.replace("`", ""))]
    if column.choices:
        lines.append(_listed([Offer(word, "") for word in column.choices]))
    elif offered:
        lines.append(_listed(offered[:OFFERED]))
        if len(offered) > OFFERED:
            lines.append(f"  … and {len(offered) - OFFERED} more: type a word of its name")
    hints = []
    if column.holds == "lines":
        hints.append("several: a bar between them, first | second")
    if column.ref and offered:
        hints.append(f"'{BEGIN}' begins another")
    if empty:
        hints.append(f"{TAKE_OUT} leaves it out" if only else "Enter leaves it out")
    if hints:
        lines.append(narrow(f"({'; '.join(hints)})", lead="  "))
    return "\n".join(lines)


def _listed(offered: list[Offer] | tuple[Offer, ...]) -> str:
    wide = max(len(offer.written) for offer in offered)
    return "\n".join(
        f"  {number:>2}  {offer.written.ljust(wide)}  {offer.words}".rstrip()[:WIDE]
        for number, offer in enumerate(offered, start=1)
    )


def _chosen(typed: str, *, offered: list[Offer], column: Column) -> str:
    """Return what was chosen: by its number, itself, or a word that only one has."""
    choices = [*column.choices] or [offer.written for offer in offered]
    if choices and typed.isdigit() and 1 <= int(typed) <= len(choices) and typed not in choices:
        return choices[int(typed) - 1]
    if typed in choices or column.choices:
        return typed
    found = [
        offer.written
        for offer in offered
        if typed.casefold() in f"{offer.written} {offer.words}".casefold()
    ]
    if column.ref and column.holds in ("id", "ids", "source"):
        if len(found) == 1:
            return found[0]
        bare = typed.partition(",")[0].strip()
        if offered and bare not in choices:
            hint = f"type a number of the list, or '{BEGIN}'"
            raise CellFault(f"'{typed}' is none of these", hint=hint)
    return typed
