"""The word `ohmfolio`: runs a command, and ends in a sentence whatever happens to it."""

# Nothing of ours and little else is imported here: somebody may press Ctrl-C while that happens,
# and only what runs inside `main` can answer.
from __future__ import annotations

import errno
import gc
import os
import signal
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

BY_HAND = 130
"""What a shell says of a program that Ctrl-C stopped: 128 and the number of the signal."""


def main() -> None:
    """Run `ohmfolio`, and exit with what it says.

    Started with SIGINT ignored, as `nohup` and a script's `&` do, it goes on when the key comes:
    whoever started it so asked for that, and Python leaves the signal as it was handed on.
    """
    # Entries live until the end: looking for garbage among them after every few hundred new ones
    # would take a quarter of the reading of thousands.
    gc.set_threshold(100_000, 50, 100)
    try:
        code = _run()
    except KeyboardInterrupt as interrupt:
        code = BY_HAND
        # Pressed again it would break into the last words.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        print(str(interrupt) or "Stopped; the old site stands.", file=sys.stderr)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # A last look for garbage among ten thousand entries would take a second, to free what ends.
    gc.freeze()
    sys.exit(code)


def _run() -> int:
    for stream in (sys.stdout, sys.stderr):
        # A terminal that cannot show a sign gets a question mark for it, and the rest of the words.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        os.getcwd()
    except OSError:
        print(
            "Error: the folder you stand in is no longer there; go to another with cd, and ask "
            "again",
            file=sys.stderr,
        )
        return 1
    if _nothing_to_build(sys.argv[1:]):
        return 0
    with _key_waits():
        import click

        from kb.commands.disk_words import disk_refused

        from .all_commands import ohmfolio

        _look_up(ohmfolio.commands)

    try:
        code = ohmfolio.main(prog_name="ohmfolio", standalone_mode=False)
        return code if isinstance(code, int) else 0
    except click.Abort as abort:
        cause = abort.__cause__
        raise (cause if isinstance(cause, KeyboardInterrupt) else KeyboardInterrupt()) from None
    except click.ClickException as fault:
        fault.show()
        return fault.exit_code
    except MemoryError:
        print(
            "Error: this computer has no memory left for that; nothing was changed by it. Close "
            "other programs, or look whether a photo or a sheet is far too large",
            file=sys.stderr,
        )
        return 1
    except OSError as error:
        if error.errno == errno.EPIPE:
            # Who reads has heard enough (as `head` does); there is nobody to tell anything.
            sys.stdout = None
            return 1
        disk_refused(error, at="a file", stands="nothing else was changed").show()
        return 1


def _look_up(commands: Mapping[str, object]) -> None:
    """Import the command that is called: here, where the key waits."""
    from .late_module import import_late

    # Half of what a short question takes would be numpy, which few entries need.
    import_late("numpy")
    commands.get(sys.argv[1] if len(sys.argv) > 1 else "")


def _nothing_to_build(words: list[str]) -> bool:
    """Say what `ohmfolio build` would, when its site would be the same; else leave it to it.

    Only its plainest form is understood here, so that nothing else has to be imported.
    """
    options = {"--notes": "", "--out": ""}
    rest = words[1:]
    if words[:1] != ["build"] or len(rest) % 2 or not options.keys() >= set(rest[::2]):
        return False
    with _key_waits():
        import time
        from pathlib import Path

        from kb.notes.folder import DATA, NotesNotFound, find_notes

        from .summary import replace_seconds, summary_words
        from .unchanged_site import unchanged_site
    began = time.monotonic()
    options.update(zip(rest[::2], rest[1::2], strict=True))
    try:
        named = Path(options["--notes"]).expanduser()
        notes = find_notes(Path.cwd()) if not options["--notes"] else named.resolve()
        if not (notes / DATA).is_dir():
            return False
        out = Path(options["--out"]).expanduser().resolve() if options["--out"] else notes / "site"
        summary = unchanged_site(notes, out=out)
    except (NotesNotFound, OSError, ValueError, KeyError, TypeError):
        return False
    if summary is None:
        return False
    print(summary_words(replace_seconds(summary, time.monotonic() - began), out=out))
    return True


@contextmanager
def _key_waits() -> Iterator[None]:
    """Keep Ctrl-C back for the moment that an import takes, and answer it afterwards.

    Somebody else's module may swallow it half way, or a finalizer print that it was ignored.
    """
    answers = signal.getsignal(signal.SIGINT)
    if answers is not signal.default_int_handler:
        yield
        return
    pressed: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: pressed.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, answers)
    if pressed:
        raise KeyboardInterrupt
