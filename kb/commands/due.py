"""`ohmfolio due`: what waits for the keeper, most used first."""

from __future__ import annotations

import datetime
from pathlib import Path

import click

from kb.answers.statement import Statement
from kb.catalog import Catalog, shown_name
from kb.check.dates import years_to_come
from kb.check.publishing import refused_by_pack, unknown_number
from kb.due import Due, Keeping, OpenSlip
from kb.kept_check import check_kept
from kb.model import KINDS
from kb.words.catalogue import template
from kb.words.phrase import counted, sentence

from .options import NoAnswer, json_option, notes_option, say_json

SHOWN = 20
"""More than this is no list for ten minutes between two calls."""


@click.command()
@click.option(
    "--kind", type=click.Choice(list(KINDS)), default=None, help="Only entries of this kind."
)
@click.option("--all", "everything", is_flag=True, help=f"All, and not the first {SHOWN} alone.")
@notes_option
@json_option
def due(kind: str | None, everything: bool, notes: Path, as_json: bool) -> None:
    """Say what waits for the keeper, most used first.

    What the team found wrong (slips, see `ohmfolio case add`), drafts, entries checked long ago
    (`check_again_after_days` in team.yaml), entries that past jobs contradict, sensors without
    pin or curve, families without drawing or photo, whatever `check` warns of, and a release
    number that nothing here tells. First stands what `pack` would refuse, then what most past jobs
    came by.

    Example: ohmfolio due --kind sensors
    """
    today = datetime.date.today()
    checked = check_kept(notes)
    if checked.team is None:
        raise NoAnswer("the notes do not say whose they are; see ohmfolio check")
    refused = refused_by_pack(checked, today=today)
    checked.problems += years_to_come(checked, today=today)
    publishing = [*refused, *unknown_number(checked)]
    waiting = [
        item
        for item in Keeping(Catalog(checked), today, publishing).all()
        if kind is None or (item.entry is not None and item.entry.kind == kind)
    ]
    if as_json:
        say_json({"due": list(map(_as_json, waiting))})
        return
    shown = waiting if everything else waiting[:SHOWN]
    for item in shown:
        click.echo(_line(item))
        for line in _slip_lines(item.slip, today=today) if item.slip else ():
            click.echo(f"    {line}")
    click.echo(_summary(waiting, shown=len(shown)))
    faults = sum(not problem.warning for problem in checked.problems)
    if faults:
        click.echo(f"{counted(faults, noun='problem')} first: see ohmfolio check.")


def _line(item: Due) -> str:
    at = f"{item.file}:{item.line}"
    if item.entry is None:
        return f"{item.file}: {sentence(item.why)}\n    {at}"
    used = f", {counted(item.jobs, noun='past job')}" if item.jobs else ""
    return f"{shown_name(item.entry)} ({item.entry.noun}{used}): {sentence(item.why)}\n    {at}"


def _slip_lines(found: OpenSlip, *, today: datetime.date) -> list[str]:
    """Return what the slip says, where it stands, and how it is settled."""
    slip = found.slip
    line = f"settled: {{by: XY, on: {today.isoformat()}}}"
    seen = {"by": slip.by, "on": slip.on.isoformat(), "wrong": slip.wrong}
    lines = [Statement(id="due-slip.wrong", figures=seen)]
    if slip.better:
        lines.append(Statement(id="due-slip.better", figures={"better": slip.better}))
    if found.outdated:
        lines.append(Statement(id="due-slip.changed"))
    settle = sentence(Statement(id="due-slip.settle", figures={"line": line}))
    return [*(sentence(statement) for statement in lines), f"{found.file}: {settle}"]


def _slip_as_json(found: OpenSlip) -> dict[str, object]:
    fields = found.slip.model_dump(mode="json", exclude={"entry", "settled"}, exclude_none=True)
    return {"file": found.file, "changed_since": found.outdated, **fields}


def _summary(waiting: list[Due], *, shown: int) -> str:
    if not waiting:
        return "Nothing is due."
    reasons = {item.reason: 0 for item in waiting}
    for item in waiting:
        reasons[item.reason] += 1
    parts = ", ".join(
        f"{template(f'due-reason.{reason}')} {count}"
        for reason, count in sorted(reasons.items(), key=lambda pair: -pair[1])
    )
    more = f" Shown are the first {shown}: --all shows the rest." if shown < len(waiting) else ""
    return f"{counted(len(waiting), noun='thing')} due: {parts}.{more}"


def _as_json(item: Due) -> dict[str, object]:
    entry = item.entry
    return {
        "kind": entry.kind if entry is not None else None,
        "id": entry.id if entry is not None else None,
        "reason": item.reason,
        "why": sentence(item.why),
        "jobs": item.jobs,
        "named": item.named,
        "file": item.file,
        "line": item.line,
        **({"slip": _slip_as_json(item.slip)} if item.slip else {}),
    }
