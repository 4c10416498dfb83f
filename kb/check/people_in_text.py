"""Find in plain text who lives where, and what belongs to one person: names, doors, days, plates.

Every pattern is bounded or goes over a text once, and begins with a word or a form that notes of
the trade do not have. How people write these things is common practice, no source, but for
postcodes, which say so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

Found = Iterator[tuple[str, int, int]]

_NAME = r"[^\W\d_a-z][^\W\d_]{1,30}"
"""A word that begins with a capital, or with another letter that is not of a to z."""
_TITLED = re.compile(
    r"\b(?:(?:Mr|Mrs|Ms|Dr|Prof|Fam)\.?|Miss|Herrn?|Frau|Familie|Mme|Madame|Monsieur|Signora?)"
    rf" (?:(?:Dr|Prof)\.? )?(?P<name>{_NAME})(?:[ -]{_NAME})?"
)
_CUSTOMER = re.compile(
    r"\b(?i:customer|client|owner|tenant|landlord|caretaker)\b(?:: ?| is | )"
    rf"(?P<name>{_NAME}) {_NAME}(?![\w-])"
)
_STREET = re.compile(
    rf"\b\d{{1,4}}[a-z]?,? (?P<name>{_NAME})(?: {_NAME}){{0,3}}"
    r" (?:Road|Rd|Street|St|Lane|Avenue|Ave|Drive|Close|Crescent|Terrace|Gardens|Square|Court)\b"
)
_STREET_DE = re.compile(
    r"\b(?P<name>[^\W\d_a-z](?:[^\W\d_]|-){1,40}(?:straße|strasse|str\.|gasse|allee|chaussee)"
    r"|[^\W\d_a-z][^\W\d_]{2,30}er (?:Straße|Strasse|Str\.|Allee|Platz|Weg)) \d{1,4} ?[a-z]?\b"
)
_POSTCODE = re.compile(r"\b[A-Z]{1,2}\d[A-Z\d]? \d[ABD-HJLNP-UW-Z]{2}\b(?!-)")
"""The inward half never has C, I, K, M, O or V (BS 7666): contacts such as K1 2NO are none."""
_POSTCODE_HALF = re.compile(r" \d[A-Z]{2}\b")
_DIGIT = re.compile(r"\d \d")
_DAY = r"(?:\d{1,2}[./-] ?\d{1,2}[./-] ?(?:19|20)\d\d|\d{1,2}\.? [^\W\d_]{3,10} (?:19|20)\d\d)"
_BORN = re.compile(
    rf"\b(?:born|geb(?:\.|oren)|date of birth|DOB|Geburtsdatum)[: ]{{1,2}}(?:on |am )?{_DAY}", re.I
)
_PLATE = re.compile(
    r"\b(?i:van|car|lorry|registration|number plate|kennzeichen|kfz)\b[: ]{1,2}(?:(?i:is|ist) )?"
    r"(?:[A-Z]{2}\d\d ?[A-Z]{3}|[A-ZÄÖÜ]{1,3}[- ][A-Z]{1,2}[- ]?\d{1,4})\b"
)
_CHAT = re.compile(
    r"\b(?:telegram(?::| ?@)|threema|skype|discord|instagram|insta|snapchat|wechat)\b[: ]{0,2}@?"
    r"(?<![^\W_])(?P<name>[\w.:]{4,40})|\b(?:signal|teams|chat)\b[: ]{1,2}@(?P<other>[\w.]{4,40})"
    r"|(?<![\w.@/])@(?=[a-z]{1,20}[_.\d])[a-z][\w.]{3,31}\b",
    re.IGNORECASE,
)
_NO_CHAT = re.compile(
    r"(?:is|ist|and|und|group|gruppe|channel|only|nur|not|nicht)\b", re.IGNORECASE
)
_MAC = re.compile(r"(?<![\w:-])(?:[0-9A-F]{2}:){5}[0-9A-F]{2}(?![\w:-])", re.IGNORECASE)
_IMEI = re.compile(r"\bIMEI\b\D{0,4}\d{15}\b", re.IGNORECASE)
_BANK = re.compile(
    r"\bBIC\b[: ]{1,2}[A-Z]{6}[A-Z0-9]{2,5}\b|\bsort code[: ]{1,2}\d\d-\d\d-\d\d\b", re.I
)
_THREE_WORDS = re.compile(r"(?<![:\w/.])///[^\W\d_]{2,20}\.[^\W\d_]{2,20}\.[^\W\d_]{2,20}\b")
_OPEN_CODE = re.compile(
    r"(?<!\w)(?=\d{0,8}[CFGHJMPQRVWX])[2-9CFGHJMPQRVWX]{4,8}\+[2-9CFGHJMPQRVWX]{2,3}(?!\w)"
)
_SPACED_PLACE = re.compile(
    r"\b\d{1,2} \d{1,2} \d{1,2}(?:\.\d{1,3})? ?[NS][ ,;]{1,3}"
    r"\d{1,3} \d{1,2} \d{1,2}(?:\.\d{1,3})? ?[EWO]\b"
)
_DIGITS = "zero|oh|one|two|three|four|five|six|seven|eight|nine"
_DIGITS_DE = "null|eins|zwo|zwei|drei|vier|fünf|sechs|sieben|acht|neun"
_COUNT = {
    word: i
    for words in (_DIGITS.replace("oh|", ""), _DIGITS_DE.replace("zwo|", ""))
    for i, word in enumerate(words.split("|"))
} | {"oh": 0, "zwo": 2}
_SPOKEN = re.compile(
    rf"\b(?:double |doppel-?)?(?:{_DIGITS}|{_DIGITS_DE})"
    rf"(?:[ ,.-]{{1,2}}(?:double )?(?:{_DIGITS}|{_DIGITS_DE}|\d{{1,6}})\b){{4,20}}",
    re.IGNORECASE,
)
_FEWEST_SPOKEN, _FEWEST_DIGITS = 4, 7
_STREETS = (" road", " rd", " st", " lane", " ave", " drive", " close", " crescent", " terrace")
_FORMS: tuple[tuple[str, tuple[str, ...], re.Pattern[str]], ...] = (
    (
        "a person's name",
        ("mr", "ms", "dr", "prof", "fam", "miss", "herr", "frau", "mme", "mada", "monsi", "signor"),
        _TITLED,
    ),
    ("a person's name", ("customer", "client", "owner", "tenant", "lord", "caretaker"), _CUSTOMER),
    ("a street address", (*_STREETS, " gardens", " square", " court"), _STREET),
    (
        "a street address",
        ("straße", "strasse", "str.", "gasse", "allee", "chaussee", "er platz", "er weg"),
        _STREET_DE,
    ),
    ("a person's day of birth", ("born", "geb", "birth", "dob", "geburt"), _BORN),
    ("a vehicle's number", ("van ", "car ", "lorry", "regis", "plate", "kennz", "kfz"), _PLATE),
    ("a bank account", ("bic", "sort code"), _BANK),
    ("the address of a device", ("imei",), _IMEI),
    ("a place on the map", ("///",), _THREE_WORDS),
    ("a place on the map", ("+",), _OPEN_CODE),
)
"""What it is, what a text must hold, folded, before its form is tried, and the form."""
_CHATS = ("telegram", "threema", "skype", "discord", "insta", "snapchat", "wechat", "@")


def people_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text belongs to one person."""
    # Ten thousand entries have a hundred thousand lines, and few of these words.
    folded = text.casefold()
    for what, needs, form in _FORMS:
        if any(map(folded.__contains__, needs)):
            for found in form.finditer(text):
                name = found.groupdict().get("name")
                if name is None or name[0].isupper():
                    yield what, *found.span()
    if _POSTCODE_HALF.search(text):
        yield from (("a street address", *found.span()) for found in _POSTCODE.finditer(text))
    if text.count(":") > 4:
        yield from (("the address of a device", *found.span()) for found in _MAC.finditer(text))
    if _DIGIT.search(text):
        spaced = _SPACED_PLACE.finditer(text)
        yield from (("a place on the map", *found.span()) for found in spaced)
    if any(map(folded.__contains__, _CHATS)):
        for found in _CHAT.finditer(text):
            if not _NO_CHAT.match(found["name"] or ""):
                yield "a name in a chat", *found.span()
    if sum(map(folded.__contains__, _COUNT)) > 1:
        for found in _SPOKEN.finditer(text):
            if _is_spoken_number(found[0]):
                yield "a telephone number", *found.span()


def _is_spoken_number(words: str) -> bool:
    """Return whether words are the digits of a number, and not somebody who counts."""
    pieces = [piece for piece in re.split(r"[ ,.-]+", words.casefold()) if piece[:2] != "do"]
    counts = [_COUNT[piece] for piece in pieces if piece in _COUNT]
    digits = len(counts) + sum(len(piece) for piece in pieces if piece.isdigit())
    steps = {after - before for before, after in pairwise(counts)}
    return len(counts) >= _FEWEST_SPOKEN and digits >= _FEWEST_DIGITS and len(steps) > 1
