"""What was typed: temperatures, readings and NAME=R pairs; every slip said in one sentence."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

import click

from kb.numbers.notation import parse_reading, parse_t_c
from kb.numbers.rounding import format_k, format_t

from .options import NotUnderstood

Command = TypeVar("Command", bound=Callable[..., object])


@dataclass(frozen=True)
class Temperature:
    """A temperature, and the unit it was typed in: answers come back in the same.

    Parameters
    ----------
    t_c : float
    unit : str
        "C" or "F".
    """

    t_c: float
    unit: str = "C"

    def degrees(self, t_c: float) -> str:
        """Return a temperature in the unit typed."""
        return format_t(t_c, unit=self.unit)

    def apart(self, difference_k: float) -> str:
        """Return the size of a temperature difference in the unit typed."""
        return format_k(abs(difference_k), unit="K" if self.unit == "C" else "F")

    def __str__(self) -> str:
        return self.degrees(self.t_c)


def at_option(*, required: bool, help: str) -> Callable[[Command], Command]:
    """Add `--at T`; the command gets `at`, a Temperature or None."""
    return click.option(
        "--at",
        metavar="T",
        required=required,
        help=help,
        callback=lambda _context, _parameter, told: (
            None if told is None else temperature_argument(told)
        ),
    )


def temperature_argument(told: str) -> Temperature:
    """Return the temperature typed, or NotUnderstood."""
    try:
        t_c = parse_t_c(told)
    except ValueError as error:
        raise NotUnderstood(str(error)) from None
    return Temperature(t_c, "F" if re.search("[fF]$", told.strip()) else "C")


def reading_argument(told: str) -> float:
    """Return the ohms typed, infinity for OL; or NotUnderstood."""
    try:
        return parse_reading(told)
    except ValueError as error:
        raise NotUnderstood(str(error)) from None


class ManyPairs(click.Command):
    """Lets one `--pair` or `--reading` take several: `--reading T1=12k T2=11.8k`."""

    def parse_args(self, context: click.Context, args: list[str]) -> list[str]:
        """Give each pair after such an option an option of its own."""
        told: list[str] = []
        option = ""
        for arg in args:
            if arg in ("--pair", "--reading"):
                option = arg
            elif arg.startswith("--") or "=" not in arg:
                option = ""
            elif option and told[-1] != option:
                told.append(option)
            told.append(arg)
        return super().parse_args(context, told)


@dataclass(frozen=True, kw_only=True)
class PairText:
    """A `NAME=R` as typed, cut in two; both are empty where it is no pair.

    Parameters
    ----------
    fault : str
        What is wrong with it, or "".
    """

    name: str = ""
    value: str = ""
    fault: str = ""


def pair_texts(typed: Iterable[str], *, form: str) -> list[PairText]:
    """Return each `NAME=R` cut in two; `form` is one rightly written, for the message."""
    pairs = []
    for text in typed:
        name, sign, value = (part.strip() for part in text.partition("="))
        if name and sign and value:
            pairs.append(PairText(name=name, value=value))
        else:
            pairs.append(PairText(fault=f"'{text}' is not a pair; write it as {form}"))
    return pairs


def pair_arguments(told: Iterable[str], *, form: str) -> list[tuple[str, float]]:
    """Return (what stands before the sign, ohms) of each `NAME=R`.

    Parameters
    ----------
    told : iterable of str
    form : str
        One rightly written, for the message.

    Raises
    ------
    NotUnderstood
        Naming every pair that cannot be read, at once.
    """
    pairs, wrong = [], []
    for one in told:
        before, sign, after = (part.strip() for part in one.partition("="))
        if not (before and sign and after):
            wrong.append(f"'{one}' is not a pair; write it as {form}")
            continue
        try:
            pairs.append((before, parse_reading(after)))
        except ValueError as error:
            wrong.append(str(error))
    if wrong:
        raise NotUnderstood("\n".join(wrong))
    return pairs
