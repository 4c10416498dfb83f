"""What must hold of a phone after every step: whole, of one release, as published, and true in words."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator

from tests.release.small_releases import RECKONED, SmallRelease
from tests.release.walking_phone import Document

Seen = dict[str, object]

MISSING = "This page is missing on this phone"
NO_PAGE = "This release has no such page."


class Broken(AssertionError):
    """A promise that did not hold."""

    def __init__(self, kind: str, *, words: str) -> None:
        super().__init__(f"{kind}: {words}")
        self.kind = kind


def sum_of(body: bytes) -> str:
    """Return the checksum by which a list names a content."""
    return hashlib.sha256(body).hexdigest()


def _facts(path: str, *, body: bytes) -> bytes:
    """Return a content as it is compared: the worker says a release's facts in an order of its own."""
    before, sign, facts = body.partition(b".release=")
    if path not in RECKONED or not sign:
        return body
    try:
        return before + json.dumps(json.loads(facts.rstrip(b";\n")), sort_keys=True).encode()
    except ValueError:
        return body


class Published:
    """Which releases have which bytes at which path."""

    def __init__(self, releases: dict[int, SmallRelease]) -> None:
        self.releases = releases
        self.by_name = {release.name: release for release in releases.values()}
        self._having: dict[tuple[str, str], set[int]] = {}
        for number, release in releases.items():
            for path in release.shown:
                key = (path, sum_of(_facts(path, body=release.files[path])))
                self._having.setdefault(key, set()).add(number)

    def having(self, path: str, *, body: bytes) -> set[int]:
        """Return the releases that have exactly these bytes there."""
        return self._having.get((path, sum_of(_facts(path, body=body))), set())


def hold_shown(
    load: Document, *, published: Published, lost: set[str], unkept: bool
) -> set[int] | None:
    """Return of which releases all that a page was given can be; None when it came from the host.

    Parameters
    ----------
    load : Document
    published : Published
    lost : set of str
        Checksums that were thrown away or spoilt on the phone: these may be said to be missing.
    unkept : bool
        Whether the phone may have nothing of its own to show: then the page is the host's.
    """
    every = set(published.releases)
    if load.of_host:
        return None
    for number, (path, answer) in enumerate(load.answers):
        if not answer.from_service_worker:
            return None
        try:
            body, status = answer.body(), answer.status
        except Exception:  # the page was loaded again before it could be asked
            continue
        here = published.having(path, body=body) if status == 200 else set()
        # What the page itself is was judged as it came: it is no fault once the phone has its own.
        load.of_host = unkept and not here and number == 0
        if status == 200 and not here:
            if unkept:
                return None
            raise Broken("garbage", words=f"{path}: {body[:60]!r} was never published")
        if status != 200:
            if unkept:
                return None
            _hold_honest(path, status=status, text=body.decode(), published=published, lost=lost)
            continue
        if not every & here:
            if unkept:
                return None
            raise Broken("mixed", words=f"{path} of {here} on a page of {every}")
        every &= here
    return every


def _hold_honest(
    path: str, *, status: int, text: str, published: Published, lost: set[str]
) -> None:
    """A page that is not shown is one that is gone from the phone, or one that there never was."""
    releases = published.releases.values()
    sums = {release.listed.get(path) for release in releases}
    if status == 503 and (not text or MISSING in text) and sums & lost:
        return
    if status == 404 and NO_PAGE in text and None in sums:
        return
    raise Broken("garbage", words=f"{path}: {status} {text[:80]!r}, lost: {len(lost)}")


def kept_share(seen: Seen, *, release: SmallRelease) -> tuple[int, int]:
    """Return how many of how many files of a release are kept, by what stands in the store."""
    kept = set(seen["kept"] or ())
    return sum(each in kept for each in release.listed.values()), len(release.listed)


def garbage_in(seen: Seen, *, release: SmallRelease) -> list[str]:
    """Return the contents of a release that are kept and are not what they are called."""
    wanted = set(release.listed.values())
    return [name for name, found in seen["sums"].items() if name in wanted and found != name]


def hold_words(
    seen: Seen, *, published: Published, said: Seen | None, fresh: bool, lost: set[str]
) -> Iterator[str]:
    """Yield each sentence of a page that is not true.

    Parameters
    ----------
    seen : what can be seen of the window
    published : Published
    said : the last news that this window heard, given out whole
    fresh : bool
        Whether the window looked at its copy since it was last changed from outside.
    lost : set of str
        What was thrown away or spoilt on the phone, by checksum.
    """
    own = seen["release"]
    line = " ".join(str(seen["line"]).split())
    if own["name"] not in published.by_name:
        yield f"of no release: {own['name']}"
        return
    release = published.by_name[own["name"]]
    if not line.startswith(f"Release {release.number} of {release.date} ({release.name})."):
        yield f"called otherwise than {release.number}, {release.name}: {line}"
    have, of = kept_share(seen, release=release)
    # What was lost comes back by itself as pages ask for it: a line that says less was true.
    back = len(lost & set(seen["kept"] or ()) & set(release.listed.values()))
    active = seen["workers"][2].removeprefix("worker-").removesuffix(".js")
    usable = bool(seen["lists"].get(release.name)) and bool(seen["lists"].get(active))
    complete = "Complete on this phone." in line
    if complete != ("complete on this phone" in str(seen["short"])):
        yield f"the short words and the long ones differ: {seen['short']!r}, {line!r}"
    if fresh:
        words = _share_words(line, complete=complete, have=have, of=of, usable=usable, back=back)
        yield from words
    if "Saving on this phone" in line:
        yield "nothing runs, and it says that it saves"
    if "Checked just now." in line and not said:
        yield "says that the host was heard, and it never was"
    # The phone may keep a newer one than this page is of.
    kept = max(
        (each.number, each.date) for each in (release, published.by_name.get(active)) if each
    )
    older = bool(said) and (said["number"], said["date"]) < kept
    if "The host has an older one" in line and not older:
        yield f"says that the host has an older one than {release.number}; it said {said}"
    if "Read from the host for now" in line and not (said and said.get("offline") is False):
        yield f"says that the host lets phones go; it said {said}"
    if fresh:
        yield from _news_words(seen, published=published)


def _share_words(
    line: str, *, complete: bool, have: int, of: int, usable: bool, back: int
) -> Iterator[str]:
    if complete and not (usable and have == of):
        yield f"says complete, and has {have} of {of}, usable: {usable}"
    some = re.search(r"(\d+) of (\d+) on this phone\.", line)
    if some and not (have - back <= int(some[1]) <= have and int(some[2]) == of):
        yield f"says {some[0]!r} and has {have} of {of}"
    if "Not on this phone yet." in line and usable and have == of:
        yield "says that it is not on this phone, and it is whole here"


def _news_words(seen: Seen, *, published: Published) -> Iterator[str]:
    own, state = published.by_name[seen["release"]["name"]], seen["state"]
    kinds = {item["kind"] for item in seen["news"]}
    if ("ready" in kinds) != bool(state["ready"]):
        yield f"what is ready and what is said of it differ: {seen['news']}"
    if "ready" in kinds:
        ready = published.by_name.get(state["ready"]["name"])
        if ready is None:
            yield f"a release is ready that never was: {state['ready']}"
            return
        have, of = kept_share(seen, release=ready)
        if not seen["lists"].get(ready.name) or have < of:
            yield f"new notes ready, and {have} of {of} are here"
        if ready.worker not in (seen["workers"][1], seen["workers"][2]):
            yield f"new notes ready, and their worker is not: {seen['workers']}"
        if ready.number == own.number:
            yield "new notes ready, and they are these"


def hold_offer(seen: Seen, *, published: Published, heard: Seen | None) -> Iterator[str]:
    """Yield what a page keeps to itself after a check: a newer release that it did not get."""
    release = published.by_name.get(seen["release"]["name"])
    if release is None or heard is None or heard.get("offline") is False:
        return
    newer = (heard["number"], heard["date"]) > (release.number, release.date)
    silent = not seen["news"] and "newer" not in str(seen["line"])
    if newer and not seen["state"]["ready"] and silent:
        yield f"the host has {heard['number']}, this is {release.number}, and no word of it"
