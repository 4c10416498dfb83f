"""Find in plain text what people tell each other to log in with, in sentences.

Every pattern is bounded or goes over a text once. How people say these things is common practice,
no source.
"""

from __future__ import annotations

import re

from .forms_in_text import Found
from .password_words import AIR_WORDS, NO_SECRET, PASSWORD, PASSWORD_WORDS, drawn

_NAMED_IN_QUOTES = re.compile(
    r"\b(?:creds|credentials|password|passwort|kennwort|secret)\b[^\n.;]{0,24}?"
    r"['\"‘“„][^'\"’”\n]{3,40}['\"’”“]"
    r"|\b(?:log-?in|creds|credentials|anmeldung|zugang)\b[^\n.;]{0,60}?"
    r"['\"‘“„][^'\"’”\n]{3,40}['\"’”“](?: and | / ?|/| und |, ?)['\"‘“„][^'\"’”\n]{3,40}['\"’”“]",
    re.IGNORECASE,
)
_SIGN_IN = re.compile(
    r"\b(?:log|sign|logged|signed)[ -]?(?:in|on)\b(?: (?:as|with|using|to \w{1,20}(?: as)?))? ?:? ?"
    r"[\w.@-]{2,40}(?: ?[:/] ?| and | with | pw | pass )(?P<value>[^\s,;:]{3,64})",
    re.IGNORECASE,
)
_WHO_AND_WORD = re.compile(
    r"(?<![\w/.-])(?:(?:admin|administrator|root|svc)(?: and | & ?| / ?|/|:| mit | und )"
    r"|(?:guest|engineer|service|user|operator|installer|supervisor|technician|tech|benutzer"
    r"|techniker)\w{0,3}(?: / |:))"
    r"(?P<value>(?=[^\s,;]{0,40}[a-z])(?=[^\s,;]{0,40}[\d!@#$%&*])[^\s,;/]{5,40})(?!/)",
    re.IGNORECASE,
)
_SLASHED = re.compile(
    r"\b(?:front end|bms|viewer|head end|vpn|cloud|portal|log-?in)\b"
    r"[^\n/]{0,40}? \w[\w.-]{2,30} / (?P<value>[^\s,;/]{4,40})",
    re.IGNORECASE,
)
_SHORT_PAIR = re.compile(
    rf"\b(?:u/n|un|user(?:name)?|name|login|benutzer(?:name)?)\b[:= ]{{1,3}}\S{{2,40}}[,; ]{{1,3}}"
    rf"(?:and )?(?:no )?(?:p/w|pwd?|pass|word|{PASSWORD})\b[:= ]{{0,3}}(?P<value>\S{{0,64}})",
    re.IGNORECASE,
)
_SAID_SO = re.compile(
    rf"\b{PASSWORD}\b[^\n.;]{{0,24}}?\b(?:same as|wie der|wie das|never changes)\b[^\n.;]{{1,60}}"
    r"|\b(?:wi-?fi|wlan|wireless)\b[^\n]{0,60}?\b(?:no spaces|all one word|lower ?case"
    r"|underscore|alles klein|zusammengeschrieben|ohne leerzeichen|großgeschrieben)\b",
    re.IGNORECASE,
)
_AIR_SAID = re.compile(
    r"\b(?:wi-?fi|wlan|wireless|ssid|hotspot)\b[^\n.;]{0,40}?\b(?:key|code|pass\w*|pw"
    r"|schlüssel|kennwort)\b"
    r"[^\n.;]{0,30}?(?:\bis\b|\bist\b|:|=) ?(?P<value>[^\s,;]{5,63})",
    re.IGNORECASE,
)
_ADDRESS_LOGIN = re.compile(
    r"(?<![\d.])\d{1,3}(?:\.\d{1,3}){3}(?![\d.])[^\n]{0,60}?"
    r"(?<!\bno )(?<!without )\b(?:admin|root|user \w|pw|kennwort|pass(?:word)?[:=])[^\n]{1,40}",
    re.IGNORECASE,
)
_SET_TO = re.compile(
    rf"\b{PASSWORD}\b[^\n.;]{{0,60}}?\b(?:auf|to|now|jetzt|neu|again|is"
    rf"|ist)\b (?P<value>[^\s,;]{{4,64}})",
    re.IGNORECASE,
)
_AIR_AFTER = re.compile(
    r"\b(?:wi-?fi|wlan|wireless|ssid|hotspot)\b[^\n]{0,40}?\b(?:key|pass\w*|pw|schlüssel"
    r"|kennwort)\b"
    r"[^\n,;]{0,30}? (?P<value>(?=[^\s,;]{0,40}[A-Za-z])(?=[^\s,;]{0,40}\d)[^\s,;]{6,63})",
    re.IGNORECASE,
)
_SHARED = re.compile(
    r"\b(?:psk|pre-?shared key|(?:snmp )?community|seed|unlock (?:key|code|string)|licen[cs]e key"
    r"|activation (?:key|code)"
    r"|freischalt\w+|lizenzschlüssel|(?:app|join|device|network) ?key|client secret"
    r"|shared secret|passkey)\b"
    r"[^\n]{0,60}?(?<!\S)(?P<value>(?=[^\s,;]{0,40}[A-Za-z])(?=[^\s,;]{0,40}\d)[^\s,;]{8,128}"
    r"|(?:[0-9A-F]{4} ){3,16}[0-9A-F]{4}\b)",
    re.IGNORECASE,
)
_PASS_AFTER = re.compile(
    rf"\b{PASSWORD}\b[^\n.;]{{0,40}}?[ '\"](?P<value>(?=[^\s,;'\"]{{0,40}}[A-Za-z])"
    r"(?=[^\s,;'\"]{0,40}\d)(?=[^\s,;'\"]{0,40}(?:[a-z]{3}|[^\w\s]))[^\s,;'\"]{7,64})",
    re.IGNORECASE,
)
_IN_LINK = re.compile(
    r"[?&](?:sig|signature|key|apikey|token|auth|secret|sas|pw|pass)=[\w%.+~-]{6,}", re.IGNORECASE
)
_REMOTE = re.compile(
    r"\b(?:remote (?:desk(?:top)?|session|support|access)|partner|session|fernwartung)\b"
    r"[^\n\d]{0,16}"
    r"(?:no\.?|number|nr\.?|id|nummer)\b[:. ]{0,3}\d(?:[ -]?\d){6,11}(?!\w)",
    re.IGNORECASE,
)
_SPEAKING = (
    *PASSWORD_WORDS,
    *AIR_WORDS,
    *("log", "sign", "cred", "secret", "admin", "root", "guest", "engineer", "service", "svc"),
    *("user", "operator", "installer", "supervisor", "tech", "benutzer", "anmeld", "u/n", "name"),
    *("takes", "wants", "front end", "bms", "gateway", "router", "viewer", "head end", "vpn"),
    *("cloud", "portal", "remote", "partner", "session", "desk", "support", "fern", "wireless"),
    *("hotspot", "psk", "shared", "community", "seed", "unlock", "license", "licence"),
    *("activation", "freischalt", "lizenz", "key", "sig=", "auth", "sas="),
)


def logins_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text lets somebody in."""
    folded = text.casefold()
    if not any(map(folded.__contains__, _SPEAKING)):
        return
    for pattern in (_SIGN_IN, _WHO_AND_WORD, _SLASHED, _AIR_SAID, _SET_TO, _AIR_AFTER, _PASS_AFTER):
        for found in pattern.finditer(text):
            if _odd(found["value"]) and not NO_SECRET.match(found["value"]):
                yield "a password", *found.span()
    for found in _SHORT_PAIR.finditer(text):
        if not NO_SECRET.match(found["value"]):
            yield "a password", *found.span()
    for pattern in (_NAMED_IN_QUOTES, _SAID_SO, _ADDRESS_LOGIN, _REMOTE):
        yield from (("a password", *found.span()) for found in pattern.finditer(text))
    for pattern in (_SHARED, _IN_LINK):
        yield from (("a token or key", *found.span()) for found in pattern.finditer(text))


def _odd(word: str) -> bool:
    """Return whether a word holds a digit or a sign that prose has not, or is of two in one."""
    return drawn(word) or bool(re.search(r"[!@#$%&*_]|\w-\w", word))
