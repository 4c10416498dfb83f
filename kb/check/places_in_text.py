"""Find in plain text where somebody lives, and where on the map a place lies.

Every pattern is bounded or goes over a text once. How people write these things is common practice,
no source, but for postcodes, which say so.
"""

from __future__ import annotations

import re

from .forms_in_text import Form, Found, found_by

_NAME = r"(?-i:[^\W\d_a-z][^\W\d_]{1,30})"
"""A word that begins with a capital, or with another letter that is not of a to z."""
_WAY = (
    r"(?:Road|Rd|Street|St|Lane|Avenue|Ave|Drive|Close|Crescent|Cres|Terrace|Tce|Gardens|Gdns"
    r"|Square|Court|Hill|Mews|Grove|Rise|Boulevard|Blvd|Parade|Quay|Wynd|Highway|Hwy|Esplanade"
    r"|Wharf|Croft|Brae|Ginnel|Snicket|Alley)"
)
_STREET = re.compile(rf"\b\d{{1,4}}[a-z]?,? (?P<name>{_NAME})(?: {_NAME}){{0,3}} (?-i:{_WAY})\b")
_HOME = re.compile(
    rf"\b{_NAME} (?:Cottage|House|Farm|Farmhouse|Lodge|Villa|Barn|Bungalow|Manor|Rectory|Mill), "
    rf"(?:{_NAME} ){{1,3}}(?-i:{_WAY})\b|\b{_NAME} (?:Cottage|Farmhouse), {_NAME}"
    r"|\b(?i:bungalow|cottage|townhouse|apartment|flat|house) (?i:no)\.? ?\d{1,4}\b[^\n]{0,12}?,"
    rf"|\b(?i:bungalow|cottage|townhouse|apartment)\b[^\n\d]{{0,24}}?(?:(?i:no|number|nr)\.? ?)?"
    rf"\d{{1,4}}[a-z]? {_NAME} {_NAME}\b"
)
_STREET_DE = re.compile(
    r"\b(?P<name>[^\W\d_a-z](?:[^\W\d_]|-){1,40}"
    r"(?:straße|strasse|str\.|gasse|allee|chaussee|twiete|damm|promenade)"
    r"|[^\W\d_a-z][^\W\d_]{2,30}er (?:Straße|Strasse|Str\.|Allee|Platz|Weg)) \d{1,4} ?[a-z]?\b"
)
_MAP_LINK = re.compile(
    r"\b(?:maps?\.[\w.-]{2,60}/|[\w.-]{2,60}/maps?/)[^\s,;]{3,200}|://[^\s,;]{3,120}[?&](?:ll"
    r"|lat|pin|loc)=[^\s,;]{3,60}",
    re.IGNORECASE,
)
_UTM = re.compile(r"\bUTM\b[^\n\d]{0,8}\d{1,2} ?[A-Z] ?\d{5,7}[ ,/]{1,3}\d{6,8}\b")
_IN_DEGREES = re.compile(
    r"\b[NS]? ?\d{1,2} ?(?:deg|degrees|grad)\.? ?\d{1,2}(?:\.\d+)? ?(?:['′’]|min)[^\n]{0,24}?"
    r"\d{1,3} ?(?:deg|degrees|grad)\.? ?\d{1,2}",
    re.IGNORECASE,
)
_POSTCODE = re.compile(r"\b[A-Z]{1,2}\d[A-Z\d]? \d[ABD-HJLNP-UW-Z]{2}\b(?!-)")
"""The inward half never has C, I, K, M, O or V (BS 7666): contacts such as K1 2NO are none."""
_POSTCODE_HALF = re.compile(r" \d[A-Z]{2}\b")
_THREE_WORDS = re.compile(
    r"(?<![:\w/.])///[^\W\d_]{2,20}\.[^\W\d_]{2,20}\.[^\W\d_]{2,20}\b"
    r"|\b(?i:three|3)[- ](?i:words?)\b"
    r"[^\n]{0,40}?\b[a-zäöüß]{3,20}\.[a-zäöüß]{3,20}\.[a-zäöüß]{3,20}\b"
)
_OPEN_CODE = re.compile(
    r"(?<!\w)(?=\d{0,8}[CFGHJMPQRVWX])[2-9CFGHJMPQRVWX]{4,8}\+[2-9CFGHJMPQRVWX]{2,3}(?!\w)"
)
_SPACED_PLACE = re.compile(
    r"\b\d{1,2} \d{1,2} \d{1,2}(?:\.\d{1,3})? ?[NS][ ,;]{1,3}"
    r"\d{1,3} \d{1,2} \d{1,2}(?:\.\d{1,3})? ?[EWO]\b"
)
_PAIR = re.compile(
    r"(?<![\w.,-])[-−]?\d{1,2}[.,]\d{5,8}°?(?: ?(?:north|nord|south|süd|N|S)\b)?[ ,;/]{1,4}"
    r"[-−]?\d{1,3}[.,]\d{5,8}°?(?: ?(?:east|ost|west|E|W|O)\b)?(?![\w.]*\d)",
    re.IGNORECASE,
)
_WHOLE = re.compile(r"\d{2}[.,]\d{5}")
"""Coefficients of a curve begin with a nought; a place is ten degrees from the equator or more."""
_GRID = re.compile(
    r"\b(?:grid(?: ref(?:erence)?)?|map ref(?:erence)?|OSGR)\b[^\n\d]{0,12}?"
    r"[A-Z]{1,2} ?\d{3,5} ?\d{3,5}\b",
    re.IGNORECASE,
)
_DIGIT = re.compile(r"\d \d")
_FORMS: tuple[Form, ...] = (
    ("a street address", tuple("0123456789-"), _STREET),
    (
        "a street address",
        (
            *("cottage", "house", "farm", "lodge", "villa", "barn", "bungalow", "manor", "rectory"),
            *("mill", "flat", "apartment"),
        ),
        _HOME,
    ),
    ("a street address", tuple("0123456789"), _STREET_DE),
    ("a place on the map", ("///", "word"), _THREE_WORDS),
    ("a place on the map", ("+",), _OPEN_CODE),
    ("a place on the map", ("map", "://"), _MAP_LINK),
    ("a place on the map", ("deg", "grad"), _IN_DEGREES),
    ("a place on the map", ("utm",), _UTM),
    ("a place on the map", ("grid", "map", "osgr"), _GRID),
)


def places_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text leads to somebody."""
    yield from found_by(text, forms=_FORMS)
    if _POSTCODE_HALF.search(text):
        yield from (("a street address", *found.span()) for found in _POSTCODE.finditer(text))
    if _DIGIT.search(text):
        spaced = _SPACED_PLACE.finditer(text)
        yield from (("a place on the map", *found.span()) for found in spaced)
    if _WHOLE.search(text):
        for found in _PAIR.finditer(text):
            if _WHOLE.search(found[0]):
                yield "a place on the map", *found.span()
