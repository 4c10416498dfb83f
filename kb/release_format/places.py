"""Where each file of a published release stands, and in which order it is safe to upload them."""

from __future__ import annotations

import re

LIST = "release.json"
"""The list of a release, at the root; a folder without it holds no site that was built here."""
NEWEST = "newest.json"
"""What a phone asks first: which release the host has, and how large the ways to it are."""
SCRIPT = "assets/release.js"
"""Tells a page its release; it cannot be in the list whose hash it names."""
WORKER = "worker.js"
"""The worker at the name that all releases share: for phones whose worker stands there since an
earlier version of the program. What a host puts in its place, a browser takes by itself."""
RELEASES = "releases"
"""The folder of compressed packs for phones, and of what earlier releases said."""
PACK_SUFFIX = ".pack"

UPLOADED_LAST = (SCRIPT, LIST, NEWEST, WORKER)
"""Published, but not in the list, for each names the release. They lead a phone to it and are
uploaded last, in this order: the list only when every file stands, the news of it only when the
list does, the worker that serves it at the very end."""

_NAME = r"[0-9a-f]{12}"
_STEP = r"\.?[^./\\\x00-\x1f\x7f][^/\\\x00-\x1f\x7f]*"
# For who reads what a host says; `fullmatch` in Python, between \A and \z in pydantic.
NAME = _NAME
"""A release's name."""
SITE_PATH = rf"{_STEP}(?:/{_STEP})*"
"""A file's path in a site: no way out of the folder that it is put in."""
_BESIDE_SITE = re.compile(
    rf"{RELEASES}/{_NAME}/(record\.(?:xz|json)|all\.pack|from-{_NAME}\.pack)|worker-{_NAME}\.js"
)


def record_path(release: str) -> str:
    """Return where the record of a release stands, by the release's name."""
    return f"{RELEASES}/{release}/record.xz"


def plain_record_path(release: str) -> str:
    """Return where an earlier version of the program put the record of a release."""
    return f"{RELEASES}/{release}/record.json"


def whole_pack_path(release: str) -> str:
    """Return where the pack of a whole release stands."""
    return f"{RELEASES}/{release}/all{PACK_SUFFIX}"


def step_pack_path(release: str, *, older: str) -> str:
    """Return where the pack stands that leads from an older release to this one."""
    return f"{RELEASES}/{release}/from-{older}{PACK_SUFFIX}"


def worker_path(release: str) -> str:
    """Return where the worker stands that serves one release, and no other ever.

    A browser asks for its worker again whenever it likes. At a name of its own it finds the same
    bytes or nothing: no cut, empty or older file can take the place of one that works.
    """
    return f"worker-{release}.js"


def is_worker(path: str) -> bool:
    """Return whether the worker of some release stands at this path."""
    return re.fullmatch(rf"worker-{_NAME}\.js", path) is not None


def is_record_or_pack(path: str) -> bool:
    """Return whether a release puts a file of this path beside its site: record, pack, worker."""
    return _BESIDE_SITE.fullmatch(path) is not None


def upload_rank(path: str) -> tuple[int, str]:
    """Sort files for uploading: pages, then records, packs and worker, then what leads to them."""
    if path in UPLOADED_LAST:
        return 2 + UPLOADED_LAST.index(path), path
    return int(is_record_or_pack(path)), path
