"""A phone that has met the keeper's key takes nothing else, and is well again when the host is."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from generators.publish.published import open_copy
from generators.publish.signing import signature_faults
from kb.release_format.newest import Newest, read_newest
from kb.release_format.places import record_path
from kb.release_format.release_list import checksum
from kb.release_format.signed import NOBODY, KeyBefore, Signed
from kb.signing.ed25519 import mark_of, public_of
from kb.signing.releases import handed_over, signed_newest
from tests.release.conftest import Release
from tests.release.host import Host
from tests.release.phones import Phone
from tests.release.test_faults import by_itself, changed_copy, stands, worker_of

Tell = Callable[[str, str], None]
Releases = dict[int, Release]
FIRST, SECOND, THIRD, THIEF = (
    Ed25519PrivateKey.from_private_bytes(bytes([n] * 32)) for n in range(4)
)
NEWS = "[data-ohm-news]"
LINE = "[data-ohm-status-line]"
WITHOUT_ED25519 = """
  const known = crypto.subtle.importKey.bind(crypto.subtle);
  crypto.subtle.importKey = (form, key, name, ...rest) => name === 'Ed25519'
    ? Promise.reject(new DOMException('Unrecognized name', 'NotSupportedError'))
    : known(form, key, name, ...rest);
"""
LOST = """async () => {
  const found = await navigator.serviceWorker.getRegistration();
  await found.unregister();
  await Ohm.keptRelease.forget();
}"""


def mark(private: Ed25519PrivateKey) -> str:
    return mark_of(public_of(private))


def news_of(release: Release) -> Newest:
    newest = read_newest((release.folder / "newest.json").read_bytes())
    assert newest is not None
    return newest


def signed(
    release: Release,
    by: Ed25519PrivateKey,
    *,
    before: Sequence[KeyBefore] = (),
    list_sum: str = "",
    **fields: object,
) -> Newest:
    """Return the news of a release, some fields changed and then signed."""
    return signed_newest(
        Newest.model_validate({**dict(news_of(release)), **fields}),
        private=by,
        before=before,
        list_sum=list_sum or checksum((release.folder / "release.json").read_bytes()),
        record_sum=checksum((release.folder / record_path(release.name)).read_bytes()),
    )


class Publisher:
    """Puts a copy of a release on the host, with other news."""

    def __init__(self, host: Host, folder: Path) -> None:
        self.host, self.folder, self.copies = host, folder, 0

    def offer(self, release: Release, newest: Newest | bytes | None = None, **files: bytes) -> Path:
        self.copies += 1
        if newest is not None:
            raw = newest if isinstance(newest, bytes) else newest.text.encode()
            files["newest.json"] = raw
        copy = changed_copy(release, self.folder / f"copy-{self.copies}", **files)
        self.host.publish(copy)
        return copy


@pytest.fixture
def publisher(host: Host, tmp_path: Path) -> Publisher:
    return Publisher(host, tmp_path)


def faults_of(copy: Path) -> list[str]:
    return list(signature_faults(open_copy(str(copy)), key=public_of(FIRST)))


def altered(newest: Newest, **fields: object) -> bytes:
    """Return signed news that say something else than what was signed."""
    return json.dumps({**json.loads(newest.text), **fields}).encode()


def takes(phone: Phone, publisher: Publisher, release: Release, newest: Newest) -> None:
    """Publish a release that the phone then has, waiting for a tap."""
    publisher.offer(release, newest)
    assert phone.check()["trouble"] == ""
    assert phone.until(lambda state: state["ready"])["ready"]["name"] == release.name


def test_a_phone_that_has_met_the_key_takes_nothing_else(
    phone: Phone, publisher: Publisher, releases: Releases, tell: Tell
) -> None:
    takes(phone, publisher, releases[2], signed(releases[2], FIRST))
    phone.use(releases[2].name)
    assert f"This phone takes only releases signed by the key {mark(FIRST)}." in phone.words(LINE)
    good = signed(releases[3], FIRST)
    half = json.loads(good.text)
    del half["signed"]["by"]
    of_another = {**json.loads(good.text)["signed"], "list_sum": checksum(b"another list")}
    offers = {
        "no signature": (news_of(releases[3]), "unsigned", "is not signed by the keeper"),
        "half a signature": (json.dumps(half).encode(), "forged", "signature of the host's"),
        "half the news": (good.text.encode()[:-200], "host", ""),
        "another number": (altered(good, number=9), "forged", "signature of the host's"),
        "another worker": (altered(good, worker="0" * 64), "forged", "signature of the host's"),
        "a letting go": (altered(good, offline=False), "forged", "signature of the host's"),
        "another list": (altered(good, signed=of_another), "forged", "signature of the host's"),
        "another name": (altered(good, name="0" * 12), "forged", "signature of the host's"),
        # What a name of 48 bits cannot tell apart, its whole checksum can.
        "a list of the same name": (
            signed(releases[3], FIRST, list_sum=releases[3].name + "0" * 52),
            "damaged",
            "",
        ),
        "a thief's key": (signed(releases[3], THIEF), "foreign", "a key that this phone does not"),
    }
    for offer, (newest, trouble, words) in offers.items():
        publisher.offer(releases[3], newest)
        state = phone.check()
        assert (state["trouble"], state["ready"]) == (trouble, None), offer
        assert words in phone.words(NEWS), offer
    # An older one that the keeper did sign: also where nothing but the key is left on the phone.
    publisher.offer(releases[1], signed(releases[1], FIRST))
    state = phone.check()
    assert (state["hostOlder"], state["trouble"], state["ready"]) == (True, "", None)
    assert "The host has an older one; this phone keeps its own." in phone.words(LINE)
    phone.page.evaluate(LOST)
    state = phone.check()
    assert (state["hostOlder"], state["whole"]) == (True, None)
    publisher.offer(releases[3], good)
    phone.ask("() => Ohm.copy.check(true)")
    phone.until(lambda state: state["ready"] or state["release"] == releases[3].name)
    publisher.host.kill()
    stands(phone, releases[3], every=37)
    assert phone.errors == []
    tell(f"{len(offers) + 2} releases that the keeper did not sign now", "refused; well after")


def test_a_key_is_changed_lost_and_given_up(
    phone: Phone, publisher: Publisher, releases: Releases, tell: Tell
) -> None:
    takes(phone, publisher, releases[2], signed(releases[2], FIRST))
    # A phone that was away while two keys followed each other goes on to the last.
    first = handed_over(private=FIRST, to=public_of(SECOND))
    second = handed_over(private=SECOND, to=public_of(THIRD))
    thief = first.model_copy(update={"by": second.by})
    publisher.offer(releases[3], signed(releases[3], THIRD, before=[thief, second]))
    assert phone.check()["trouble"] == "forged"
    takes(phone, publisher, releases[3], signed(releases[3], THIRD, before=[first, second]))
    assert mark(THIRD) in phone.words(LINE)
    publisher.offer(releases[4], signed(releases[4], FIRST))
    assert phone.check()["trouble"] == "foreign"
    # Lost: nothing leads to the new key. Somebody who was told its mark types it.
    new = signed(releases[4], THIEF)
    publisher.offer(releases[4], new)
    assert phone.check()["trouble"] == "foreign"
    assert mark(THIEF) not in phone.page.content()
    for typed in ("", mark(THIRD), mark(THIEF)[:-1]):
        phone.page.fill(f"{NEWS} input", typed)
        phone.page.click("text=Trust this key")
        assert "That is not the mark of the key at the host." in phone.words(NEWS)
    phone.page.fill(f"{NEWS} input", mark(THIEF).upper().replace("-", " "))
    phone.page.click("text=Trust this key")
    phone.until(lambda state: state["ready"] and state["ready"]["name"] == releases[4].name)
    assert mark(THIEF) in phone.words(LINE)
    # Given up: the last key says so itself, and nobody else can.
    for by, trouble in ((FIRST, "unsigned"), (THIEF, "")):
        word = [handed_over(private=by, to=NOBODY)]
        stopped = Signed(key=NOBODY, before=tuple(word), list_sum="", record_sum="", by="")
        plain = Newest.model_validate({**dict(news_of(releases[4])), "signed": stopped})
        publisher.offer(releases[4], plain)
        assert phone.check()["trouble"] == trouble
    assert "signed by the key" not in phone.words(LINE)
    publisher.offer(releases[4])
    assert phone.check()["trouble"] == ""
    assert phone.errors == []
    tell("a key changed twice, lost, given up", "followed; typed by hand; unsigned taken again")


def test_only_the_keeper_lets_phones_go_and_the_key_stays(
    phone: Phone, publisher: Publisher, releases: Releases, tell: Tell
) -> None:
    publisher.offer(releases[1], signed(releases[1], FIRST))
    assert phone.check()["trouble"] == ""
    publisher.offer(releases[5])
    state = phone.check()
    assert (state["trouble"], state["freed"]) == ("unsigned", False)
    stands(phone, releases[1], every=37)
    publisher.offer(releases[5], signed(releases[5], FIRST))
    phone.check()
    phone.until(lambda state: state["freed"] and not state["served"])
    # Nothing is kept, and yet neither a thief nor what the keeper once signed comes back.
    publisher.offer(releases[1], signed(releases[1], FIRST))
    phone.open()
    phone.check()
    assert phone.until(lambda state: state["hostOlder"])["whole"] is None
    publisher.offer(releases[1], signed(releases[1], THIEF, number=9))
    assert phone.check()["trouble"] == "foreign"
    assert phone.errors == []
    tell("phones let go without the key, and with it", "kept; let go, the key stays")


def test_a_browser_that_cannot_check_says_so(
    phone: Phone, publisher: Publisher, releases: Releases, tell: Tell
) -> None:
    phone.context.add_init_script(WITHOUT_ED25519)
    phone.open()
    publisher.offer(releases[2], signed(releases[2], FIRST))
    assert phone.check()["trouble"] == ""
    assert "This browser cannot check the keeper's signature" in phone.words(LINE)
    phone.until(lambda state: state["ready"])
    # One that could, once, and has a key: it goes on with what it has.
    trust = {"key": public_of(FIRST), "mark": "", "number": 1, "date": ""}
    phone.page.evaluate(
        "([trust]) => localStorage.setItem(`ohm.key ${Ohm.keptRelease.scope}`, trust)",
        [json.dumps(trust)],
    )
    publisher.offer(releases[3], signed(releases[3], FIRST))
    assert phone.check()["trouble"] == "unchecked"
    assert "cannot check the keeper's signature any more" in phone.words(NEWS)
    assert phone.errors == []
    tell("a browser without Ed25519", "goes by checksums and says so; with a key it keeps its own")


def test_what_no_signature_can_stop_is_seen_by_verify(
    phone: Phone, publisher: Publisher, releases: Releases, tell: Tell
) -> None:
    """A browser takes what it finds in its worker's place by itself: measured, and written down."""
    old = releases[1]
    publisher.offer(old, signed(old, FIRST))
    assert phone.check()["trouble"] == ""
    hostile = (
        b"addEventListener('install', () => skipWaiting());"
        b"addEventListener('fetch', (e) => e.respondWith(new Response('not the keeper')));"
    )
    news = signed(releases[2], FIRST)
    copy = publisher.offer(releases[2], news)
    assert faults_of(copy) == []
    (copy / worker_of(old)).write_bytes(hostile)
    by_itself(phone)
    phone.page.goto(phone.url)
    assert phone.words("body") == "not the keeper"
    faults = faults_of(copy)
    assert len(faults) == 1 and faults[0].startswith(f"{worker_of(old)} is of another version")
    tell("another worker in the place of one that phones have", "taken; verify names it")
