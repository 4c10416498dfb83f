"""The word `ohmfolio` ends in a sentence whatever happens: a full disk, a key, a lost folder."""

from __future__ import annotations

import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generators.all_commands import ohmfolio
from generators.shown_site import ShownSite
from generators.site_commands import _rebuild
from kb import writer
from tests.running_program import program_environment, running_program

ROOT = Path(__file__).resolve().parents[2]
STARTER = ROOT / "kb/starter"
RUN = "from generators.command import main; main()"
WAIT_S = 120

Told = subprocess.CompletedProcess


@pytest.fixture()
def notes(tmp_path: Path) -> Path:
    """The bare beginner's notes: they build in a second."""
    return Path(shutil.copytree(STARTER, tmp_path / "notes"))


def ohm(*words: object, cwd: Path, program: str = RUN, **more: object) -> Told:
    """Run the program as a shell does, and return what it said."""
    return subprocess.run(
        [sys.executable, "-c", program, *map(str, words)],
        cwd=cwd,
        capture_output=True,
        text=True,
        encoding="latin-1",
        timeout=WAIT_S,
        env=program_environment(**more.pop("env", {})),
        **more,
    )


def invoked(*words: object) -> Result:
    return CliRunner().invoke(ohmfolio, [str(one) for one in words], catch_exceptions=False)


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {
        one.relative_to(folder).as_posix(): one.read_bytes()
        for one in folder.rglob("*")
        if one.is_file()
    }


@pytest.mark.parametrize("words", [["build"], ["pack", "--to", "out"], ["pocket", "--to", "out"]])
def test_notes_named_from_beside_them_are_found(notes: Path, words: list[str]) -> None:
    told = ohm(*words, "--notes", "notes", cwd=notes.parent)
    assert told.returncode == 0
    if words == ["build"]:
        assert told.stderr == ""
    else:
        # Where notes leave the house it is said that nobody has made them their own.
        assert "examples-left: 13 invented examples" in told.stderr
        assert any((notes.parent / "out").iterdir())


def test_the_home_folder_is_found_in_a_name(notes: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(notes.parent))
    monkeypatch.chdir(notes)
    told = invoked("build", "--notes=~/notes", "--out=~/srv")
    assert told.exit_code == 0
    assert (notes.parent / "srv/index.html").is_file()
    assert not (notes / "~").exists()


@pytest.mark.parametrize("option", ["--out", "--notes"])
def test_no_name_at_all_is_a_slip(notes: Path, option: str) -> None:
    told = invoked("build", option, "")
    assert told.exit_code == 2
    assert told.output.endswith(
        f"Invalid value for '{option}': the name is empty; name a folder, such as our-notes\n"
    )


def test_serving_notes_named_from_beside_them_builds_again_on_a_change(notes: Path) -> None:
    words = ("serve", "--notes", "notes", "--port", "0")
    with running_program(RUN, *words, cwd=notes.parent) as server:
        assert server.stdout.readline().startswith("Built release ")
        assert server.stdout.readline().startswith("Open http://127.0.0.1:")
        safety = notes / "content/safety.md"
        safety.write_text(safety.read_text(encoding="utf-8") + "\nTwice.\n", encoding="utf-8")
        assert server.stdout.readline().startswith("Built release ")
        server.send_signal(signal.SIGINT)
        assert server.communicate(timeout=WAIT_S)[0] == "\nStopped.\n"
        assert server.returncode == 0


def test_serve_refuses_a_strangers_folder_at_once(notes: Path, tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters/dear.txt").write_text("mine")
    told = ohm("serve", "--notes", notes, "--out", "letters", "--port", "0", cwd=tmp_path)
    assert (told.returncode, told.stdout) == (1, "")
    assert told.stderr == (
        f"Error: {tmp_path / 'letters'} holds files but no release.json, so it is not a site that "
        "was built here; name a new or empty folder, it would be replaced\n"
    )


@pytest.mark.parametrize("to", ["album", "album.zip"])
def test_pack_never_replaces_what_was_not_packed_here(notes: Path, tmp_path: Path, to: str) -> None:
    album = tmp_path / "album"
    album.mkdir()
    (album / "release.json").write_text('{"artist": "ours", "files": {}}')
    (album / "one.flac").write_text("mine")
    shutil.make_archive(str(album), "zip", album)
    before = bytes_of(tmp_path)
    told = invoked("pack", "--notes", notes, "--to", tmp_path / to)
    assert told.exit_code == 1
    assert "it would be replaced" in told.output
    assert bytes_of(tmp_path) == before


def test_pack_refuses_a_folder_that_the_notes_need(notes: Path) -> None:
    told = invoked("pack", "--notes", notes, "--to", notes / "content/out")
    assert told.exit_code == 1
    assert told.output == (
        f"Error: {notes / 'content/out'} is in content/ of the notes, which a build reads or works "
        f"in; name a new folder, such as {notes / 'site'}\n"
    )


@pytest.fixture()
def full_at(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str], None]]:
    """Make the disk full for files of a name."""
    replace = os.replace

    def full_for(name: str) -> None:
        def full(source: object, target: object) -> None:
            if Path(target).match(name):
                raise OSError(28, "No space left on device")
            replace(source, target)

        monkeypatch.setattr(writer.os, "replace", full)

    yield full_for
    monkeypatch.undo()


def test_a_full_disk_leaves_the_old_site_and_says_so(notes: Path, full_at) -> None:
    invoked("build", "--notes", notes)
    before = bytes_of(notes / "site")
    full_at("release.json")
    told = invoked("build", "--notes", notes)
    assert told.exit_code == 1
    assert told.output == (
        f"Error: {notes / '.build/site/release.json'} could not be written: No space left on "
        f"device; nothing was changed, and the old site in {notes / 'site'} stands\n"
    )
    assert bytes_of(notes / "site") == before


def test_a_full_disk_while_packing_leaves_what_was_packed(notes: Path, full_at) -> None:
    full_at("out.zip")
    told = invoked("pack", "--notes", notes, "--to", notes / "out.zip")
    assert told.exit_code == 1
    assert told.output == (
        f"Error: {notes / 'out.zip'} could not be written: No space left on device; "
        "nothing was packed, what stood there stands\n"
    )
    assert not (notes / "out.zip").exists()


def test_a_folder_packed_in_part_says_so_and_is_put_right(
    notes: Path, full_at, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = notes.parent / "host"
    full_at("host/worker.js")
    told = invoked("pack", "--notes", notes, "--to", out)
    assert told.exit_code == 1
    assert told.output == (
        f"Error: {out} could not be written: No space left on device; {out} holds a "
        "part of the new release, phones keep what they have, and the same command again puts it "
        "right\n"
    )
    monkeypatch.undo()
    assert invoked("pack", "--notes", notes, "--to", out).exit_code == 0
    assert invoked("verify", out).exit_code == 0


def test_a_full_disk_while_serving_reaches_the_page(notes: Path, full_at) -> None:
    full_at("release.json")
    told = _rebuild(notes, ShownSite(notes / "site"))
    assert told == (
        f"{notes / '.build/site/release.json'} could not be written: No space left on device; "
        "nothing was changed, and there was no site yet"
    )


def test_a_folder_that_could_not_be_copied_names_the_reason(
    notes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def not_copied(*_: object, **__: object) -> None:
        raise shutil.Error([("a", "b", "[Errno 28] No space left on device")])

    monkeypatch.setattr("generators.build.swap_folders", not_copied)
    told = invoked("build", "--notes", notes)
    assert told.exit_code == 1
    assert told.output == (
        f"Error: the site of {notes} could not be written: [Errno 28] No space left on device; "
        "nothing was changed, and there was no site yet\n"
    )


def test_an_old_site_that_cannot_be_removed_does_not_deny_the_new_one(
    notes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def kept(folder: Path) -> None:
        raise OSError(13, "Permission denied", str(folder))

    monkeypatch.setattr("generators.build.remove_folder", kept)
    assert invoked("build", "--notes", notes).exit_code == 0
    assert (notes / "site/index.html").is_file()


@pytest.mark.parametrize("words", [["build"], ["pack"], ["schema"]])
def test_a_limit_on_the_size_of_files_is_told_in_one_sentence(
    notes: Path, words: list[str]
) -> None:
    told = ohm(
        *words,
        "--notes",
        notes,
        cwd=notes.parent,
        # Here matplotlib has kept no fonts yet, and cannot keep them now: its complaint is no news.
        env={"MPLCONFIGDIR": str(notes.parent / "no-fonts-yet")},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000)),
    )
    assert told.returncode == 1
    assert told.stderr.startswith(f"Error: {notes}/.build/")
    assert "could not be written: File too large; nothing " in told.stderr
    assert told.stderr.count("\n") == 1
    assert not (notes / "site").exists()


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can mount a small disk")
def test_a_disk_that_is_really_full_keeps_the_old_site(notes: Path, tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1500k", "tmpfs", str(disk)], capture_output=True
    )
    if mounted.returncode:
        pytest.skip("this machine lets nobody mount a small disk")
    try:
        first = ohm("build", "--notes", notes, "--out", disk / "site", cwd=tmp_path)
        assert first.returncode == 0
        before = bytes_of(disk / "site")
        # With nothing changed nothing would be written.
        safety = notes / "content/safety.md"
        safety.write_text(safety.read_text(encoding="utf-8") + "\nTwice.\n", encoding="utf-8")
        told = ohm("build", "--notes", notes, "--out", disk / "site", cwd=tmp_path)
        assert told.returncode == 1
        assert "could not be written: " in told.stderr
        assert "No space left on device" in told.stderr
        assert told.stderr.endswith(
            f"nothing was changed, and the old site in {disk / 'site'} stands\n"
        )
        assert told.stderr.count("\n") == 1
        assert bytes_of(disk) == {f"site/{path}": raw for path, raw in before.items()}
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_terminal_that_cannot_show_a_sign_gets_the_words(notes: Path) -> None:
    plain = {"PYTHONIOENCODING": "latin-1"}
    told = ohm("expect", first_curve(notes), "--at", "20", "--notes", notes, cwd=notes, env=plain)
    assert (told.returncode, told.stderr) == (0, "")
    assert "20.0\u00a0°C  12.21\u00a0k?" in told.stdout
    machines = ohm(
        "expect", first_curve(notes), "--at", "20", "--json", "--notes", notes, cwd=notes, env=plain
    )
    assert (machines.returncode, machines.stderr) == (0, "")
    assert json.loads(machines.stdout)


def first_curve(notes: Path) -> str:
    return sorted((notes / "docs_data/curves").rglob("*.yaml"))[0].stem


def test_a_folder_that_went_is_told_in_one_sentence(tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    program = f"import os; os.rmdir({str(gone)!r}); {RUN}"
    told = ohm("check", cwd=gone, program=program)
    assert (told.returncode, told.stdout) == (1, "")
    assert told.stderr == (
        "Error: the folder you stand in is no longer there; go to another with cd, and ask again\n"
    )


def test_whoever_stops_listening_hears_no_complaint(notes: Path) -> None:
    told = subprocess.run(
        [
            "bash",
            "-o",
            "pipefail",
            "-c",
            f"'{sys.executable}' -c '{RUN}' schema --print sensors | true",
        ],
        cwd=notes,
        capture_output=True,
        text=True,
        timeout=WAIT_S,
        env=program_environment(),
    )
    assert (told.stdout, told.stderr, told.returncode) == ("", "", 1)


def test_a_terminal_sees_how_far_a_build_is_and_nothing_of_it_is_left(notes: Path) -> None:
    ours, theirs = os.openpty()
    with running_program(RUN, "build", cwd=notes, stderr=theirs) as build:
        os.close(theirs)
        words, _ = build.communicate(timeout=WAIT_S)
    drawn = os.read(ours, 100_000).decode()
    os.close(ours)
    assert build.returncode == 0
    assert words.startswith(
        "13 entries became 41 pages, 1 warning (see ohmfolio check), 15 things due "
        "(see ohmfolio due).\n"
    )
    steps = ("check", "make", "charts", "photos", "write", "dress", "seal", "done")
    places = [drawn.index(step) for step in steps]
    assert places == sorted(places)
    # The bar's line is left for the next, and then that line is gone back to and emptied.
    assert drawn.count("\n") == 1
    assert drawn.endswith("\n\x1b[1A\x1b[2K")


WAITS_BEFORE_THE_SWAP = textwrap.dedent("""
    import os, time
    stat = os.stat
    def waiting(path, *more, **named):
        if str(path).endswith(".build/site") and os.path.lexists(f"{path}/release.json"):
            time.sleep(20)
        return stat(path, *more, **named)
    os.stat = waiting
    from generators.command import main
    print("begun", flush=True)
    main()
""")
"""So slow at the last step that the key always comes before the new site stands. It says that it
has begun where our own code does: a key pressed while Python starts is Python's to answer."""


@pytest.mark.parametrize("after_s", [0.02, 0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 1.0, 1.3, 3.0])
def test_the_key_that_stops_is_answered_in_one_line_at_any_moment(
    notes: Path, after_s: float
) -> None:
    with running_program(
        WAITS_BEFORE_THE_SWAP, "build", cwd=notes, stderr=subprocess.PIPE
    ) as build:
        assert build.stdout.readline() == "begun\n"
        time.sleep(after_s)
        build.send_signal(signal.SIGINT)
        _, complained = build.communicate(timeout=WAIT_S)
    assert build.returncode == 130
    line = complained.strip()
    assert line in ("Stopped; the old site stands.", "Stopped; there was no site yet.")
    assert complained in (f"{line}\n", f"\n{line}\n")
    assert not (notes / "site").exists()


PRESSED_WHILE_IMPORTING = textwrap.dedent("""
    import os, signal, sys
    class Swallows:
        def find_spec(self, name, path, target=None):
            if name == "kb.commands.disk_words":
                try:
                    os.kill(os.getpid(), signal.SIGINT)
                except KeyboardInterrupt:
                    pass
    sys.meta_path.insert(0, Swallows())
    from generators.command import main
    main()
""")


def test_a_key_that_an_import_would_swallow_is_answered_after_it(notes: Path) -> None:
    options = {"cwd": notes, "stderr": subprocess.PIPE}
    with running_program(PRESSED_WHILE_IMPORTING, "build", **options) as build:
        words, complained = build.communicate(timeout=WAIT_S)
    assert (build.returncode, words, complained) == (130, "", "Stopped; the old site stands.\n")


def test_started_with_the_key_ignored_a_build_goes_on_as_the_shell_asked(notes: Path) -> None:
    options = {"cwd": notes, "stderr": subprocess.PIPE, "hears_ctrl_c": False}
    with running_program(f"print('begun', flush=True); {RUN}", "build", **options) as build:
        assert build.stdout.readline() == "begun\n"
        time.sleep(0.5)
        build.send_signal(signal.SIGINT)
        words, complained = build.communicate(timeout=WAIT_S)
    assert (build.returncode, complained) == (0, "")
    assert words.endswith(f"Open {notes / 'site/index.html'}\n")


STOPPED_AT = textwrap.dedent("""
    import builtins
    from generators import {module} as at
    def stopped(*_, **__):
        {first}
        raise KeyboardInterrupt
    before = at.{name}
    at.{name} = stopped
    from generators.command import main
    main()
""")


@pytest.mark.parametrize(
    ("module", "name", "first", "line"),
    [
        ("build", "seal", "pass", "Stopped; the old site stands."),
        (
            "build",
            "swap_folders",
            "before(*_, **__)",
            "Stopped; the new site stands in {notes}/site already.",
        ),
        (
            "site_commands",
            "summary_words",
            "pass",
            "Stopped; the new site stands in {notes}/site already.",
        ),
    ],
)
def test_whoever_stops_a_build_learns_which_site_stands(
    notes: Path, module: str, name: str, first: str, line: str
) -> None:
    invoked("build", "--notes", notes)
    safety = notes / "content/safety.md"
    safety.write_text(safety.read_text(encoding="utf-8") + "\nTwice.\n", encoding="utf-8")
    program = STOPPED_AT.format(module=module, name=name, first=first)
    told = ohm("build", cwd=notes, program=program)
    assert told.returncode == 130
    assert told.stderr == f"\n{line.format(notes=notes)}\n"
    assert ("Twice." in (notes / "site/safety.html").read_text()) == ("new site" in line)


def test_the_key_while_the_program_is_still_being_read_is_answered(notes: Path) -> None:
    program = (
        textwrap.dedent("""
        import sys
        class Key:
            def find_spec(self, name, *_):
                if name == "pydantic":
                    raise KeyboardInterrupt
        sys.meta_path.insert(0, Key())
    """)
        + RUN
    )
    told = ohm("check", cwd=notes, program=program)
    assert (told.returncode, told.stderr) == (130, "Stopped; the old site stands.\n")


def test_the_key_stops_the_workers_that_make_pages_too(tmp_path: Path) -> None:
    for name in ("docs_data", "content"):
        shutil.copytree(ROOT / name, tmp_path / name)
    program = (
        textwrap.dedent("""
        import os, signal, time
        from generators import write_pages
        def slow(*asked, **more):
            if not os.path.exists("making"):
                open("making", "w").close()
            time.sleep(0.3)
        write_pages._Making.from_catalog = slow
    """)
        + RUN
    )
    # A session of its own: the key goes to every process of it, as a terminal sends it.
    options = {"cwd": tmp_path, "stderr": subprocess.PIPE, "start_new_session": True}
    with running_program(program, "build", **options) as build:
        until = time.monotonic() + WAIT_S
        while not (tmp_path / "making").exists() and time.monotonic() < until:
            time.sleep(0.02)
        os.killpg(build.pid, signal.SIGINT)
        _, complained = build.communicate(timeout=WAIT_S)
    assert (build.returncode, complained) == (130, "\nStopped; there was no site yet.\n")
    with pytest.raises(ProcessLookupError):
        os.killpg(build.pid, 0)
