"""What in a text must not be read by strangers, however it is written."""

from __future__ import annotations

import re
from functools import lru_cache

from .doors_in_text import doors_in
from .forms_in_text import Found
from .logins_in_text import logins_in
from .papers_in_text import papers_in
from .people_in_text import people_in
from .places_in_text import places_in
from .plain_text import PlainText, as_read, as_written
from .secrets_in_text import secrets_in
from .telephones import telephones

_LINE = 500
_LOCAL, _DOMAIN = 64, 255
"""The longest parts of an address (RFC 5321, 4.5.3.1)."""
_OPEN, _CLOSE = r" ?[(\[{<] ?", r" ?[)\]}>] ?"
_AT = re.compile(rf" ?@ ?|{_OPEN}(?:a ?t?|ät|@){_CLOSE}| (?:at|ät) |-at-", re.IGNORECASE)
_LABEL = r"[^\W_][\w-]{0,62}"
_HIDDEN_DOT = rf"{_OPEN}(?:dot|punkt|\.){_CLOSE}| (?:dot|punkt) |-(?:dot|punkt)-| \. "
_HOST = re.compile(
    rf"{_LABEL}(?:(?:\.|{_HIDDEN_DOT}){_LABEL}){{0,8}}|\[[\d.:a-f]{{3,40}}\]", re.IGNORECASE
)
_HIDDEN = re.compile(_HIDDEN_DOT, re.IGNORECASE)
_ENDS = re.compile(rf"(?:\.|{_HIDDEN_DOT})(?:[^\W\d_]{{2,24}}|xn--[\w-]+)$", re.IGNORECASE)
_ROOM = re.compile(r"[^\W\d_][\w-]{2,62}")
"""A host without a dot, of one's own network."""
_NORTH, _EAST = r"(?:N|S|North|South|Nord|Süd)", r"(?:E|W|O|East|West|Ost)"
_FINE = r"-?\d{1,3}\.\d{4,10}"
_PLACES = (
    re.compile(rf"\bgeo:{_FINE},{_FINE}"),  # RFC 5870
    re.compile(rf"{_FINE} ?°? ?{_NORTH}\b[ ,;]{{0,3}}{_FINE} ?°? ?{_EAST}\b", re.IGNORECASE),
    re.compile(rf"\b{_NORTH} ?{_FINE}°?[ ,;]{{0,3}}{_EAST} ?{_FINE}", re.IGNORECASE),
    re.compile(r"\d{1,2}° ?\d{1,2} ?['′’][^\n]{0,10}?[NS]\b[ ,;]{0,3}\d{1,3}° ?\d{1,2} ?['′’]"),
    re.compile(
        r"\b[NS] ?\d{1,2}° ?\d{1,2}(?:\.\d{1,4})? ?['′’]?[^\n]{0,10}?[ ,;]{1,3}"
        r"[EWO] ?\d{1,3}° ?\d{1,2}"
    ),
    re.compile(
        rf"\blat\w{{0,5}}[:= ]{{1,3}}{_FINE}[ ,;]{{0,3}}lon\w{{0,6}}[:= ]{{1,3}}{_FINE}", re.I
    ),
    re.compile(rf"://\S{{3,200}}?[=@/:]{_FINE},{_FINE}"),
)
_EXACT = re.compile(r"\.\d{4}|° ?\d{1,2}(?:\.\d{1,4})? ?['′’]")
"""What each way to write a place holds."""
_IBAN = re.compile(r"\b[A-Z]{2}\d{2}(?: ?[A-Z0-9]{4}){2,7}(?: ?[A-Z0-9]{1,3})?\b")
_DIGIT = re.compile(r"\d")
_FEWEST_OF_PLACE, _OF_CARD = 4, 16
_CARD = re.compile(r"(?<![\d-])\d{4}([ -])\d{4}\1\d{4}\1\d{4}(?![\d-])")


def private_in(text: str) -> list[tuple[str, int, int]]:
    """Return (what it looks like, start, end) for all that is private in a text, in its order.

    Both are searched: the text as it is written, and as a browser shows it.
    """
    # `serve` asks of the same lines after each save.
    return list(_known(text) if len(text) <= _LINE else _searched(text))


@lru_cache(maxsize=50_000)
def _known(text: str) -> tuple[tuple[str, int, int], ...]:
    return tuple(_searched(text))


def _searched(text: str) -> list[tuple[str, int, int]]:
    found: list[tuple[str, int, int]] = []
    covered = bytearray(len(text))
    for plain in filter(None, (as_written(text), as_read(text))):
        for what, start, end in _private(plain):
            begins, ends = plain.original_span(start, end=end)
            if not any(covered[begins:ends]):
                found.append((what, begins, ends))
                covered[begins:ends] = b"\x01" * (ends - begins)
    return sorted(found, key=lambda item: item[1:])


def _private(plain: PlainText) -> Found:
    text = plain.text
    yield from secrets_in(text)
    yield from logins_in(text)
    yield from people_in(text)
    yield from places_in(text)
    yield from papers_in(text)
    yield from doors_in(text)
    yield from _mails(text)
    # A place has two figures with digits, a bank account at least its two for the check.
    digits = len(_DIGIT.findall(text))
    for place in _PLACES if digits >= _FEWEST_OF_PLACE and _EXACT.search(text) else ():
        for found in place.finditer(text):
            yield "a place on the map", *found.span()
    for found in _IBAN.finditer(text) if digits > 1 else ():
        if _is_iban(found[0].replace(" ", "")):
            yield "a bank account", *found.span()
    for found in _CARD.finditer(text) if digits >= _OF_CARD else ():
        if _is_card(re.sub(r"\D", "", found[0])):
            yield "a card's number", *found.span()
    for start, end in telephones(text) if digits > 1 else ():
        yield "a telephone number", start, end


def _mails(text: str) -> Found:
    # From each sign outwards, no further than an address goes: a long word is not gone over twice.
    for at in _AT.finditer(text):
        before = text[max(0, at.start() - _LOCAL) : at.start()]
        local = _local(before)
        host = _HOST.match(text, at.end(), at.end() + _DOMAIN)
        if local and host and _leads_to(host[0].rstrip(".-"), at=at[0], local=local):
            yield "an e-mail address", at.start() - len(local), host.end()


def _local(before: str) -> str:
    """Return what stands before the sign: signs of a name, or anything within quotes."""
    if before.endswith('"') and before.count('"') >= 2:
        return before[before[:-1].rindex('"') :]
    kept = len(before)
    while kept and (before[kept - 1].isalnum() or before[kept - 1] in "._+-%'!#$&*/=?^{|}~"):
        kept -= 1
    return before[kept:]


def _leads_to(host: str, *, at: str, local: str) -> bool:
    """Return whether what follows the sign is a host; words alone are none."""
    if at == " AT " and not local.isupper():
        return bool(_ENDS.search(host))
    if at.strip(" -").lower() in ("at", "ät"):
        return bool(_HIDDEN.search(host) and _ENDS.search(host))
    if _ENDS.search(host) or (at == "@" and host.startswith("[")):
        return True
    return at == "@" and local[0].isalpha() and bool(_ROOM.fullmatch(host))


def _is_iban(account: str) -> bool:
    """Return whether its check digits are right (ISO 13616)."""
    turned = account[4:] + account[:4]
    return int("".join(str(int(sign, 36)) for sign in turned)) % 97 == 1


def _is_card(digits: str) -> bool:
    """Return whether its check digit is right (ISO/IEC 7812-1, annex B)."""
    doubled = [int(sign) * (2 if i % 2 else 1) for i, sign in enumerate(reversed(digits))]
    return sum(digit - 9 if digit > 9 else digit for digit in doubled) % 10 == 0
