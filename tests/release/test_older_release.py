"""A release of the first version is counted on from, and a phone that carries it takes today's.

`tests/data/old/0.1.0/release-1.zip` was packed by the last 0.1.0 from the notes beside it, and is
kept for ever: its record is plain JSON, its worker stands at the name that all releases shared.
"""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

from generators.publish.pack import Packed
from generators.release.changes import tell_changes
from kb.release_format.places import step_pack_path
from kb.release_format.record import Record, read_record
from tests.release.conftest import OLD
from tests.release.host import Host
from tests.release.phones import Phone, whole

NAME = "d6deb62fef7b"


def test_a_pack_counts_on_from_the_record_of_an_old_version_and_tells_what_changed(
    of_old_notes: Packed,
) -> None:
    assert of_old_notes.summary.number == 2
    assert (of_old_notes.to / step_pack_path(of_old_notes.summary.release, older=NAME)).is_file()
    with zipfile.ZipFile(OLD / "release-1.zip") as old:
        record = read_record(old.read(f"releases/{NAME}/record.json"))
    assert isinstance(record, Record)
    changes = tell_changes(record.notes, new=of_old_notes.summary.record.notes)
    assert [change.text for change in changes] == [
        "Example unit: minutes to wait for stored charge is 15 min, not 5 min"
    ]


def test_a_phone_with_a_release_of_an_old_version_takes_todays_whole(
    browser: object, host: Host, of_old_notes: Packed, tmp_path: Path
) -> None:
    shutil.unpack_archive(OLD / "release-1.zip", tmp_path / "old")
    host.publish(tmp_path / "old")
    host.start()
    phone = Phone(browser, host.url)
    phone.install()
    assert phone.state()["release"] == NAME
    host.publish(of_old_notes.to)
    host.forget()
    phone.check()
    phone.until(lambda state: state["ready"])
    assert f"releases/{of_old_notes.summary.release}/from-{NAME}.pack" in host.asked
    phone.page.evaluate("() => Ohm.copy.use()")
    phone.until(lambda state: state["release"] == of_old_notes.summary.release and whole(state))
    host.kill()
    phone.cold_start("families/example-unit.html")
    assert phone.state()["release"] == of_old_notes.summary.release
    assert phone.mixed() == []
    assert phone.errors == []
    phone.close()
