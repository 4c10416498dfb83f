"""Ask for the passphrase of a private key: at the terminal, or of the environment."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from kb.signing.ed25519 import NoSigning

PASSPHRASE = "OHMFOLIO_PASSPHRASE"
"""The environment's name of the passphrase, for whoever signs without a terminal."""
FEWEST = 12
"""Signs of a new passphrase. Common practice, no source."""


def known_passphrase(file: Path) -> str:
    """Return the passphrase of a key's file; NoSigning where nobody can be asked."""
    return _asked(f"Passphrase of {file}", again=False)


def new_passphrase() -> str:
    """Return a passphrase for a new key, typed twice; NoSigning when it is short."""
    typed = _asked("A passphrase for the new key", again=True)
    if len(typed) < FEWEST:
        raise NoSigning(f"a passphrase has at least {FEWEST} signs; four words that do not belong")
    return typed


def _asked(words: str, *, again: bool) -> str:
    held = os.environ.get(PASSPHRASE)
    if held:
        return held
    if not sys.stdin.isatty():
        raise NoSigning(f"a passphrase is wanted, and nobody can be asked here; set {PASSPHRASE}")
    typed: str = click.prompt(words, hide_input=True, confirmation_prompt=again, err=True)
    return typed
