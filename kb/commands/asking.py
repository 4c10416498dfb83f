"""Ask somebody who sits at a terminal; where nobody does, nothing is asked."""

from __future__ import annotations

import sys

import click


def at_terminal() -> bool:
    """Return whether somebody can be asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def agreed(question: str) -> bool:
    """Ask a question that is answered yes or no; no by default."""
    return click.confirm(question, default=False)


def answer(prompt: str, *, default: str = "") -> str:
    """Ask for a line; an empty one stands for the default."""
    shown = f"  {prompt} [{default}]" if default else f"  {prompt}"
    typed = click.prompt(shown, default="", show_default=False, prompt_suffix=": ")
    return str(typed).strip() or default
