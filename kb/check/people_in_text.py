"""Find in plain text who somebody is: names, days of birth, illness, names in chats, devices.

Every pattern is bounded or goes over a text once, and begins with a word or a form that notes of
the trade do not have. How people write these things is common practice, no source.
"""

from __future__ import annotations

import re

from .forms_in_text import Form, Found, found_by
from .spoken_digits import COUNT, SPOKEN_NUMBER, is_spoken_number

_NAME = r"[^\W\d_a-z][^\W\d_]{1,30}"
"""A word that begins with a capital, or with another letter that is not of a to z."""
_TITLED = re.compile(
    r"\b(?:(?:Mr|Mrs|Ms|Dr|Prof|Fam)\.?|Miss|Herrn?|Frau|Familie|Mme|Madame|Monsieur|Signora?)"
    rf" (?:(?:Dr|Prof)\.? )?(?P<name>{_NAME})(?:[ -]{_NAME})?"
)
_FULL = rf"(?-i:{_NAME}(?:-{_NAME})?(?: [A-Z]\.)? {_NAME}(?:-{_NAME})?)(?![\w-])"
"""Two names, either of them of two."""
_ROLE = (
    r"(?:customer|cust|client|owner|homeowner|shop ?owner|tenant|lodger|landlord|landlady"
    r"|caretaker|janitor"
    r"|neighbour|neighbor|resident|patient|foreman|forewoman|supervisor|(?:site |store "
    r"|night )manager"
    r"|shift lead|receptionist|apprentice|widow|lady|gentleman|publican|butcher|baker|farmer"
    r"|vicar|name of|names? is|ask(?:ed)? for|care of|c/o"
    r"|signed (?:for )?by|site contact|kunde|kundin|mieter(?:in)?|vermieter(?:in)?"
    r"|eigentümer(?:in)?|besitzer(?:in)?"
    r"|hausmeister(?:in)?|wirt(?:in)?|pächter(?:in)?|nachbar(?:in)?|bewohner(?:in)?"
    r"|chef(?:in)?|azubi|namens"
    r"|ansprechpartner(?:in)?)"
)
_CUSTOMER = re.compile(
    rf"\b{_ROLE}\b(?:: ?|, ?| is | called | named | ist | heißt | )(?P<name>{_FULL})", re.I
)
_NUMBERED = re.compile(
    rf"\b(?:acc(?:oun)?t|customer|cust|client|contract|kunden?)\b[^\n]{{0,24}}\d{{3,}}"
    rf"[^\n\w]{{1,4}}(?P<name>{_FULL})",
    re.IGNORECASE,
)
_NOW = re.compile(
    r"\b(?:site contact|contact person|manager|in ?charge|boss|deputy|porter|concierge|zuständig"
    r"|verantwortlich)\b[^\n.]{0,60}?"
    rf"\b(?:is|is now|now|ist|ist jetzt|jetzt)\b (?P<name>{_FULL})"
    rf"|\b(?:ist|is|jetzt|now) (?P<other>{_FULL})[^\n.]{{0,16}}\b(?:zuständig|verantwortlich"
    rf"|in charge|responsible)\b",
    re.IGNORECASE,
)
_SOMEBODY = re.compile(
    rf"(?P<name>{_FULL})[^\n]{{0,90}}?\b(?:he|she|his|her|him|hers|who)\b(?!['’]?s? (?:pump|unit))"
    rf"|\b(?:he|she|his|her)\b[^\n]{{0,60}}?(?P<other>{_FULL})",
    re.IGNORECASE,
)
_ILL = (
    r"(?:sick|signed off|off with (?:his|her|a)|off w/|depressed|surgery|(?:in|to|from) hospital"
    r"|chemo\w*|cancer|had (?:a|another|the|his|her) (?:seizure|stroke|fit|fall|accident"
    r"|stents?|baby)|heart (?:attack|trouble|operation)|diabet\w+"
    r"|insulin|epilep\w+|asthma\w*|(?:on|home) oxygen|dialysis|pregnan\w+|maternity|paternity"
    r"|parental leave|slipped disc|hernia|broken (?:arm|leg|wrist|ankle|foot)|bad back|allerg\w+"
    r"|stents?|admitted (?:to|since|on)|fever|dengue|malaria|covid|tumour|back trouble|rehab"
    r"|alcohol\w*|dementia|deaf|wheelchair|funeral|bereave\w+|compassionate"
    r"|krank(?:geschrieben|gemeldet|enstand|heit)?|(?:knie|hüft|hand|schulter|herz)-?op|reha|kur"
    r"|elternzeit|mutterschutz|schwanger\w*|bandscheibe\w*|herzinfarkt|krebs\w*|beerdigung)"
)
_UNWELL = re.compile(
    rf"(?P<name>{_FULL})[^\n]{{0,80}}?\b{_ILL}\b|\b{_ILL}\b[^\n]{{0,60}}?(?P<other>{_FULL})",
    re.IGNORECASE,
)
_DAY = r"(?:\d{1,2}[./-] ?\d{1,2}[./-] ?(?:19|20)\d\d|\d{1,2}\.? [^\W\d_]{3,10} (?:19|20)\d\d)"
_MONTH = (
    r"(?:jan(?:uary|uar)?|feb(?:ruary|ruar)?|mar(?:ch)?|märz|apr(?:il)?|may|mai|june?|juni"
    r"|july?|juli|aug(?:ust)?"
    r"|sept?(?:ember)?|o[ck]t(?:ober)?|nov(?:ember)?|de[cz](?:ember)?)"
)
_BIRTHDAY = re.compile(
    rf"\b(?:birthday|b'?day|geburtstag|bday|turns (?:\d\d|\w+)|is \d\d on|years? old|yrs? old"
    rf"|\d\dyrs old|wird (?:\d\d|\w+zig))\b[^\n]{{0,40}}?"
    rf"(?:\b\d{{1,2}}(?:st|nd|rd|th|\.)?(?: of)? ?{_MONTH}\b|\b{_MONTH}\b\.? \d{{1,2}}\b"
    rf"|\b\d{{1,2}}[./-]\d{{1,2}}\b)"
    rf"|(?:\b\d{{1,2}}(?:st|nd|rd|th|\.)? ?{_MONTH}\b|\b{_MONTH}\b\.? \d{{1,2}}\b)"
    rf"[^\n]{{0,40}}?\b(?:birthday|b'?day|geburtstag)\b",
    re.IGNORECASE,
)
_BORN = re.compile(
    rf"\b(?:born|geb(?:\.|oren)|date of birth|DOB|Geburtsdatum)[: ]{{1,2}}(?:on |am )?{_DAY}"
    rf"|\b(?:d\.?o\.?b\.?|date of birth|birth ?date|geburtsdatum)(?!\w)"
    rf"[^\n\d]{{0,60}}(?:\d{{1,2}}[./-]\d{{1,2}}[./-]\d{{2,4}}|(?:19|20)\d\d-\d\d-\d\d"
    rf"|\d{{1,2}}(?:st|nd|rd|th|\.)? ?{_MONTH}\b|{_MONTH} \d)",
    re.I,
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
_FORMS: tuple[Form, ...] = (
    (
        "a person's name",
        ("mr", "ms", "dr", "prof", "fam", "miss", "herr", "frau", "mme", "mada", "monsi", "signor"),
        _TITLED,
    ),
    ("a person's day of birth", ("day", "turns", "geburtstag", "wird"), _BIRTHDAY),
    ("a person's day of birth", ("born", "geb", "birth", "dob", "d.o.b", "geburt"), _BORN),
    ("the address of a device", ("imei",), _IMEI),
)
_PRONOUN = re.compile(r"\b(?:he|she|his|her|hers|him|who)\b", re.IGNORECASE)
_BY_NAME: tuple[tuple[str, re.Pattern[str], re.Pattern[str]], ...] = (
    ("a person's name", re.compile(rf"\b{_ROLE}\b", re.IGNORECASE), _CUSTOMER),
    ("a person's name", re.compile(r"\d{3}"), _NUMBERED),
    ("a person's name", re.compile(r"\b(?:is|ist|now|jetzt)\b", re.IGNORECASE), _NOW),
    ("a person's name", _PRONOUN, _SOMEBODY),
    ("word of somebody's health", re.compile(rf"\b{_ILL}\b", re.IGNORECASE), _UNWELL),
)
"""What it is, what it cannot do without, and its form, where two names stand together."""
_MEDICAL = re.compile(
    r"\b(?:pregnan\w+|chemo(?:therapy)?|had (?:a|another) (?:seizure|stroke|fit)|cancer"
    r"|dementia|epilep\w+"
    r"|diabet\w+|dialysis|insulin|miscarriage|slipped disc|funeral|(?:ma|pa)ternity"
    r"|schwanger\w*|krebs"
    r"|mutterschutz|elternzeit|bandscheibe\w*|beerdigung|chemotherapie)\b",
    re.IGNORECASE,
)
"""Words that no note of the trade needs: somebody is ill, whoever it is."""
_TWO_NAMES = re.compile(r"[^\W\d_a-z][^\W\d_]{1,62} (?:[A-Z]\. )?[^\W\d_a-z][^\W\d_]")
_CHATS = ("telegram", "threema", "skype", "discord", "insta", "snapchat", "wechat", "@")


def people_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text belongs to one person."""
    folded = text.casefold()
    yield from found_by(text, forms=_FORMS)
    if _TWO_NAMES.search(text):
        for what, needs_form, form in _BY_NAME:
            if needs_form.search(text):
                yield from ((what, *found.span()) for found in form.finditer(text))
    yield from (("word of somebody's health", *found.span()) for found in _MEDICAL.finditer(text))
    if text.count(":") > 4:
        yield from (("the address of a device", *found.span()) for found in _MAC.finditer(text))
    if any(map(folded.__contains__, _CHATS)):
        for found in _CHAT.finditer(text):
            if not _NO_CHAT.match(found["name"] or ""):
                yield "a name in a chat", *found.span()
    if sum(map(folded.__contains__, COUNT)) > 1:
        for found in SPOKEN_NUMBER.finditer(text):
            if is_spoken_number(found[0]):
                yield "a telephone number", *found.span()
