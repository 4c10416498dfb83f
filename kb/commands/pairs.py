"""NAME=R pairs as typed: several after one option, each cut in two."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import click


class ManyPairs(click.Command):
    """Lets one `--pair`, `--reading` or `--at` take several: `--reading T1=12k T2=11.8k`."""

    def parse_args(self, context: click.Context, args: list[str]) -> list[str]:
        """Give each pair after such an option an option of its own."""
        spread: list[str] = []
        option = ""
        for arg in args:
            if arg in ("--pair", "--reading", "--at"):
                option = arg
            elif arg.startswith("--") or "=" not in arg:
                option = ""
            elif option and spread[-1] != option:
                spread.append(option)
            spread.append(arg)
        return super().parse_args(context, spread)


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


def pair_texts(texts: Iterable[str], *, form: str) -> list[PairText]:
    """Return each `NAME=R` cut in two; `form` is one rightly written, for the message."""
    pairs = []
    for text in texts:
        name, sign, value = (part.strip() for part in text.partition("="))
        if name and sign and value:
            pairs.append(PairText(name=name, value=value))
        else:
            pairs.append(PairText(fault=f"'{text}' is not a pair; write it as {form}"))
    return pairs
