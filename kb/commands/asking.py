"""Ask somebody who sits at a terminal; where nobody does, nothing is asked."""

from __future__ import annotations

import contextlib
import sys
import textwrap
from collections.abc import Iterator

import click

WIDE = 80
"""Signs in a line of a terminal that nobody has widened."""


def at_terminal() -> bool:
    """Return whether somebody can be asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def narrow(text: str, *, lead: str = "") -> str:
    """Return text in lines for a terminal that was never made wider."""
    return textwrap.fill(text, WIDE, initial_indent=lead, subsequent_indent=lead)


def agreed(question: str, *, default: bool = False) -> bool:
    """Ask a question that is answered yes or no; Enter is the default."""
    with _nothing_was_written():
        return click.confirm(question, default=default)


def answer(prompt: str, *, default: str = "") -> str:
    """Ask for a line; an empty one stands for the default."""
    shown = f"  {prompt} [{default}]" if default else f"  {prompt}"
    with _nothing_was_written():
        typed = click.prompt(shown, default="", show_default=False, prompt_suffix=": ")
    return str(typed).strip() or default


@contextlib.contextmanager
def _nothing_was_written() -> Iterator[None]:
    """Say of a question that is broken off how the notes stand."""
    try:
        yield
    except click.Abort:
        raise KeyboardInterrupt("Stopped; nothing was written.") from None
