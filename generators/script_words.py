"""Find which words of the catalogue a script says: a page is sent those, and no others.

They are found in the sources. Whoever says something writes its section out, and of its id as much
as is known there: `inWords("copy.done")` needs one id, `` statement(`reading.${why}-hot`) `` all
of that shape, `nameOf("verdict", state)` or `WORDS.bar[name]` the whole section. What is written
out in full and has no figures needs no catalogue at all: its words are put in its place.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence

from kb.words.catalogue import PLACEHOLDER, Words

_ID = r"[a-z][a-z0-9-]*"
_INNER = r"\$\{(?:[^{}`]|\{[^{}]*\})*\}"
# Each begins with the letters that it may begin with: everything else is passed over at once.
_WRITTEN = re.compile(
    rf"""["'`nW](?:"""
    rf"""(?<=["'])(?P<section>{_ID})\.(?P<id>{_ID})["']"""  # "reading.open"
    rf"""|(?<=`)(?P<of>{_ID})\.(?P<shape>(?:[a-z0-9-]|{_INNER})+)`"""  # `reading.${why}-hot`
    rf"""|(?<=\bn)ameOf\(\s*["'](?P<named>{_ID})["'](?:,\s*["'](?P<name>{_ID})["'])?"""
    rf"""|(?<=\bn)umberOf\(\s*["'](?P<thing>{_ID})["']"""
    rf"""|(?<=\bW)ORDS(?:\.(?P<words>[a-z]\w*)|\[["'](?P<quoted>{_ID})["']\])"""
    rf"""(?:\.(?P<entry>[a-z]\w*)|\[["'](?P<key>{_ID})["']\])?"""
    r")"
)
_CHOICE = re.compile(
    r"""\$\{[^?{}]*\?\s*["'](?P<yes>[a-z0-9-]*)["']\s*:\s*["'](?P<no>[a-z0-9-]*)["']\}"""
)
_FIXED = re.compile(
    r"[ipn](?:"
    rf"""(?<=\bi)nWords\(\s*["'](?P<id>{_ID}\.{_ID})["']\s*\)"""
    rf"""|(?<=\bp)hrase\(statement\(\s*["'](?P<phrased>{_ID}\.{_ID})["']\s*\)\)"""
    rf"""|(?<=\bn)ameOf\(\s*["'](?P<section>{_ID})["'],\s*["'](?P<name>{_ID})["']"""
    rf"""(?:,\s*["'](?P<form>{_ID})["'])?\s*\)"""
    r")"
)
_GLUED = re.compile(r"`\$\{\w+\}-")
"""Whoever lengthens an id handed over: `` `${id}-volts` ``."""
_IMPORT = re.compile(r'^import\s*\{([^{}]*)\}\s*from\s*"[^"\n]+";[ \t]*\n?', re.MULTILINE)


def with_words_in_place(sources: Mapping[str, str], *, words: Words) -> dict[str, str]:
    """Return the sources with each text that never changes written where it is said.

    Parameters
    ----------
    sources : mapping of path → text
    words : mapping of section → id → words
    """
    return {path: _in_place(text, words=words) for path, text in sources.items()}


def words_needed(sources: Mapping[str, str], *, words: Words) -> dict[str, tuple[str, ...]]:
    """Return for each source the ids, as `section.id`, of the words that it may say."""
    return {path: tuple(sorted(set(_ids(text, words=words)))) for path, text in sources.items()}


def words_module(ids: Sequence[str], *, words: Words) -> str:
    """Return the source of the module that brings the words of these ids to a page."""
    brought: dict[str, dict[str, object]] = {}
    for section, _, name in (one_id.partition(".") for one_id in ids):
        brought.setdefault(section, {})[name] = words[section][name]
    packed = json.dumps(brought, ensure_ascii=False, separators=(",", ":"))
    return f'import {{ addWords }} from "./catalog.js";\naddWords({packed});\n'


def _ids(text: str, *, words: Words) -> Iterator[str]:
    longer = "(?:-.*)?" if _GLUED.search(text) else ""
    for found in _WRITTEN.finditer(text):
        section = next(
            filter(None, map(found.group, ("section", "of", "named", "words", "quoted"))), "count"
        )
        names = [*map(found.group, ("id", "name", "thing", "entry", "key")), None]
        shape = (
            _shape(found["shape"]) if found["shape"] else _of_name(next(filter(None, names), ""))
        )
        entries = words.get(section, {})
        exact = [name for name in entries if re.fullmatch(shape + longer, name)]
        # What is no id is the beginning of one that is put together elsewhere.
        begun = [name for name in entries if re.match(shape, name)]
        yield from (f"{section}.{name}" for name in exact or begun)


def _of_name(name: str) -> str:
    return re.escape(name) if name else ".*"


def _shape(written: str) -> str:
    """Return a pattern of the ids that a template can become."""
    parts, end = [], 0
    for found in re.finditer(_INNER, written):
        choice = _CHOICE.fullmatch(found[0])
        parts += [
            re.escape(written[end : found.start()]),
            f"(?:{choice['yes']}|{choice['no']})" if choice else ".*",
        ]
        end = found.end()
    return "".join([*parts, re.escape(written[end:])])


def _in_place(text: str, *, words: Words) -> str:
    filled = _FIXED.sub(lambda found: _fixed(found, words=words), text)
    return text if filled == text else _IMPORT.sub(lambda found: _still_used(found, filled), filled)


def _fixed(found: re.Match[str], *, words: Words) -> str:
    """Return the words of a call as a text of the script, or the call where they have figures."""
    whole_id = found["id"] or found["phrased"] or f"{found['section']}.{found['name']}"
    section, _, name = whole_id.partition(".")
    entry = words.get(section, {}).get(name)
    if isinstance(entry, Mapping):
        entry = entry.get(found["form"] or ("name" if found["section"] else "words"))
    if not isinstance(entry, str) or PLACEHOLDER.search(entry):
        return found[0]
    return json.dumps(entry, ensure_ascii=False)


def _still_used(found: re.Match[str], text: str) -> str:
    """Return an import without the names that nobody in the source uses any more."""
    body = _IMPORT.sub("", text)
    names = [name.strip() for name in found[1].split(",") if name.strip()]
    used = [name for name in names if re.search(rf"(?<![\w$]){re.escape(name)}(?![\w$])", body)]
    return found[0].replace(found[1], f" {', '.join(used)} ") if used else ""
