"""Live work stands where it is done: a step that cannot be done dead says so in its first words."""

from __future__ import annotations

from collections.abc import Iterator

from kb.model import Instrument, Method
from kb.model.method import LIVE_STEP
from kb.notes.load import Notes
from kb.notes.problem import Problem


def live_steps_are_marked(method: Method, *, notes: Notes) -> Iterator[Problem]:
    """Yield a method that is live and says at no step where; a step that is live in a dead one.

    Source: common practice.
    """
    marked = [i for i, step in enumerate(method.steps) if step.startswith(LIVE_STEP)]
    if method.live == "live" and not marked:
        yield notes.problem(
            method,
            ("steps",),
            "live-step",
            "the method is live, and no step says that it is",
            hint=f"begin each step that cannot be done dead with '{LIVE_STEP}: '",
            warning=True,
        )
    if method.live == "dead" and marked:
        yield notes.problem(
            method,
            ("steps", marked[0]),
            "live-step",
            "this step is live, and the method says that the machine is dead",
            hint="write 'live: live', or find the same thing out dead",
        )


def live_volts_are_named(method: Method, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a live method that judges volts and does not say how many may stand at the tips."""
    if method.live == "live" and method.judges == "voltage" and method.volts is None:
        yield notes.problem(
            method,
            ("live",),
            "live-volts",
            "nobody can say which instrument is rated for it",
            hint="write 'volts': the most that may stand at the tips or a hand's slip away",
            warning=True,
        )


def dead_is_proved_by_a_voltage_tester(notes: Notes) -> Iterator[Problem]:
    """Yield a team whose machines are proved dead with something else.

    Source: EN 50110-1, 6.2.4 (from memory): proved at all poles, with what is made for it.
    """
    if notes.team is None or notes.team_text is None or notes.team.voltage_tester is None:
        return
    tester = notes.of(Instrument).get(notes.team.voltage_tester)
    if tester is not None and tester.is_a != "voltage tester":
        yield notes.team_text.problem(
            ("voltage_tester",),
            "proves-dead",
            f"'{tester.id}' is a {tester.is_a}, and a {tester.is_a} proves nothing dead",
            hint="name an instrument with 'is_a: voltage tester'",
        )
