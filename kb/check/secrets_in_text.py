"""Find in plain text what opens something: keys, tokens, words to log in, codes of doors.

Every pattern is bounded or goes over a text once. How people name these things is common practice,
no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from .forms_in_text import Found
from .password_words import AIR_WORDS, NO_SECRET, PASSWORD, PASSWORD_WORDS, drawn

_KEY = re.compile(
    r"-{2,5} ?BEGIN [A-Z0-9 ]{0,40}PRIVATE KEY(?: BLOCK)?(?: ?-{2,5})?", re.IGNORECASE
)
_IS = r"\s{0,3}(?:[:=]|=>)\s{0,3}"
_VALUE = r"""["'(]?(?P<value>[^\s"'(),;]{3,128})"""
_SAID = re.compile(rf"\b{PASSWORD}\b[\"']?{_IS}{_VALUE}", re.IGNORECASE)
_IS_SAID = re.compile(
    rf"\b(?:{PASSWORD}|pass)\b(?: (?:is|ist|lautet|est|es|on))? {_VALUE}", re.IGNORECASE
)
_PASS_SAID = re.compile(
    r"\bpass\s{0,3}[:=]\s{0,3}(?P<value>(?=\S{0,40}[A-Za-z])(?=\S{0,40}\d)[^\s,;]{7,128})",
    re.IGNORECASE,
)
"""What passes a test is said so too: this short word needs a value that is none of a reading."""
_LOGIN = re.compile(
    rf"\b(?:login|log-in|anmeldung|zugang|user|username|benutzer)\b{_IS}\S{{1,40}} ?/ ?{_VALUE}",
    re.IGNORECASE,
)
_LOGIN_DRAWN = re.compile(
    rf"\b(?:log-?in|anmeldung|wlan|wi-?fi|ssid)\b[: ]{{1,2}}[^\s/]{{1,40}} ?/ ?{_VALUE}",
    re.IGNORECASE,
)
_AS_WITH = re.compile(
    rf"\blog(?:ged)?[ -]?in as \S{{1,40}} with {_VALUE}"
    rf"|\b(?:credentials|zugangsdaten)\b{_IS}[^\s:/]{{1,40}} ?[:/] ?\S{{3,128}}",
    re.IGNORECASE,
)
_BOTH = re.compile(
    r"\b(?:user(?:name)?|benutzer)\b[:= ]{1,3}\S{1,40}[,; ]{1,3}"
    rf"(?:pass|{PASSWORD})\b[:= ]{{1,3}}{_VALUE}",
    re.IGNORECASE,
)
_GROUPS = re.compile(
    r"(?<![\w-])(?=[A-Z0-9-]{0,60}\d)(?=[A-Z0-9-]{0,60}[A-Z])[A-Z0-9]{4,5}"
    r"(?:-[A-Z0-9]{4,5}){3,7}(?![\w-])"
)
"""What a program is unlocked with."""
_AIR_KEY = re.compile(r"\bWPA\d?[: ]{1,2}(?P<value>[^\s,;/]{8,63})")
_AIR_CODE = re.compile(r"\bWIFI:(?:[A-Z]:[^;\n]{0,63};){2,6}")
"""What a square code holds of a network."""
_WIRELESS = re.compile(
    rf"\b(?:wi-?fi|wlan|wpa\d?|network|netzwerk)[ -]?"
    rf"(?:key|code|schlüssel|{PASSWORD})\b(?:{_IS}|\s){_VALUE}",
    re.IGNORECASE,
)
_LOGIN_WORDS = ("ssid", "login", "log-in", "anmeldung", "zugang", "user", "benutzer")
_CODE_WORDS = (
    *("pin", "code", "kombination", "combination", "safe", "box", "tresor", "kasten", "lock"),
    *("gate", "hoftor", "haustür", "front door", "back door", "side door", "schloss", "alarm"),
    "disarm",
)
_TOKEN_WORDS = ("token", "secret", "key", "bearer", "basic")
"""What a text must hold before the patterns of its kind are tried, letters folded."""
_ALL_WORDS = (
    *("private key", "://"),
    *(
        "authorization",
        "credentials",
        "log in",
        "logged in",
        *PASSWORD_WORDS,
        *_LOGIN_WORDS,
        *AIR_WORDS,
        *_CODE_WORDS,
        *_TOKEN_WORDS,
    ),
)
_DIGITS = (
    r"(?:\s{0,2}[:=]\s{0,2}| is | ist | lautet | )#?\d{4,8}(?!\w)(?![.,]\d)(?! ?(?:mm|m|cm|V|Ω)\b)"
)
_PIN = re.compile(rf"\bPIN(?:-?[Cc]ode)?(?:(?: (?:for|für|of|am) [^\d\n:]{{1,40}}(?=:))?){_DIGITS}")
_LOCK = "door|gate|entry|entrance|access|lock|safe|garage|keypad|key ?safe|key ?box|building|house"
_LOCK_DE = "tür|tor|zugangs|eingangs|haus|schloss|schlüsseltresor|schlüsselkasten"
_CODE = re.compile(
    rf"\b(?:(?:{_LOCK}|{_LOCK_DE})[ -]?(?:code|combination|kombination|pin)"
    r"|key ?safe|key ?box|schlüsseltresor|schlüsselkasten"
    rf"|code (?:for|of|to|für) (?:the |das |die |den )?(?:{_LOCK}|alarm|{_LOCK_DE})){_DIGITS}",
    re.IGNORECASE,
)
_UNIT = r"(?![.,]?\d)(?! ?(?:[°%ΩµVAWK]|k?Pa|bar|m?m|cm|ms|s|h|min|rpm|Hz|kΩ|ohms?|psi|l|kg|g)\b)"
_CLOSED = re.compile(
    r"\b(?:lock ?box|key ?safe|key ?box|schlüssel(?:tresor|safe|kasten|box)|padlock|"
    rf"vorhängeschloss|zahlenschloss|combination lock)\b[^\d\n.]{{1,30}}\d{{3,8}}(?!\w){_UNIT}"
    r"|\b(?:gate|hoftor|haustür|front door|back door|side door)(?: is| ist|:| ?=) ?"
    rf"#?\d{{4,8}}(?!\w){_UNIT}"
    r"|\bcode (?:am|an der|at the|by the|on the|vom|der) (?:\w{1,12} )?"
    rf"(?:{_LOCK}|{_LOCK_DE})\b[: ]{{1,2}}(?:is |ist )?\d{{4,8}}(?!\w){_UNIT}"
    r"|(?:\b(?:alarm(?:anlage)?)\b[^\n.\d]{0,12}\b(?:off with|unscharf|entschärfen)"
    rf"|\bdisarm)\b[^\d\n]{{0,12}}\d{{4,8}}(?!\w){_UNIT}",
    re.IGNORECASE,
)
"""What is locked, and the digits that open it."""
_TOKEN_NAMED = re.compile(
    r"(?<![^\W_])(?:(?:api|access|auth|client|private|secret|license|encryption|shared)[ _-]?)?"
    rf"(?:token|secret|(?<=[ _-])key|apikey|privatekey)\b[\"']?{_IS}[\"']?"
    r"(?P<value>[A-Za-z0-9+/_.=-]{8,512})",
    re.IGNORECASE,
)
_HEADER = re.compile(
    r"\b(?:api|access|auth)[ _-]?(?:token|key) (?P<third>[A-Za-z0-9+/_.=-]{16,512})|"
    r"\b(?:Bearer|Basic) (?P<value>[A-Za-z0-9+/_.=-]{16,2048})"
    r"|\bAuthorization: ?(?:\w{1,20} )?(?P<other>[A-Za-z0-9+/_.=-]{8,2048})"
)
_SIGNED = re.compile(r"\beyJ[\w-]{8,2048}\.[\w-]{8,4096}\.[\w-]{0,2048}")
"""A signed token (RFC 7519): its head is JSON in base 64."""
_USER_INFO = re.compile(r"://[^\s/@:]{1,64}:[^\s/@]{1,128}@")
"""Name and password in an address (RFC 3986, 3.2.1)."""
_LONG = re.compile(r"[A-Za-z0-9+/_=.-]{20,}")
_HEX = re.compile(r"(?<![0-9A-Za-z])(?=[a-f]{0,64}\d)(?=\d{0,64}[a-f])[0-9a-f]{32,}(?![0-9A-Za-z])")
_CAPITALS = re.compile(r"(?<![\w-])[A-Z0-9]{20,}(?![\w-])")
_LEAST_MIXED = 0.4
"""Changes between small, capital and digit, to the letter: drawn text has 0.6, names 0.3."""
_LEAST_MIXED_CAPITALS = 0.25


def secrets_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text opens something."""
    # Ten thousand entries have a hundred thousand lines, and few of these words: a pattern is tried
    # where what it cannot do without is there.
    folded = text.casefold()
    if any(map(folded.__contains__, _ALL_WORDS)):
        yield from _named(text, folded=folded)
    yield from _tokens(text)


def _named(text: str, *, folded: str) -> Found:
    """Yield what is called by its name."""

    def tried(*patterns: re.Pattern[str], needs: Sequence[str]) -> Iterator[re.Match[str]]:
        if any(map(folded.__contains__, needs)):
            for pattern in patterns:
                yield from pattern.finditer(text)

    for key in tried(_KEY, needs=("private key",)):
        yield "a private key", *key.span()
    named = ((_SAID, PASSWORD_WORDS), (_LOGIN, _LOGIN_WORDS), (_WIRELESS, AIR_WORDS))
    for pattern, needs in (*named, (_PASS_SAID, PASSWORD_WORDS)):
        for found in tried(pattern, needs=needs):
            if not NO_SECRET.match(found["value"]):
                yield "a password", *found.span()
    for found in tried(_IS_SAID, needs=PASSWORD_WORDS):
        if drawn(found["value"]):
            yield "a password", *found.span()
    for found in tried(_LOGIN_DRAWN, needs=(*_LOGIN_WORDS, *AIR_WORDS)):
        if drawn(found["value"]):
            yield "a password", *found.span()
    for found in tried(_AIR_KEY, needs=AIR_WORDS):
        if drawn(found["value"]):
            yield "a password", *found.span()
    for found in tried(_BOTH, needs=_LOGIN_WORDS):
        if not NO_SECRET.match(found["value"]):
            yield "a password", *found.span()
    for found in tried(_AS_WITH, needs=("log", "credentials", "zugangsdaten")):
        if not NO_SECRET.match(found["value"] or "drawn"):
            yield "a password", *found.span()
    for found in tried(_AIR_CODE, needs=AIR_WORDS):
        yield "a password", *found.span()
    for found in tried(_PIN, _CODE, _CLOSED, needs=_CODE_WORDS):
        yield "a code that opens something", *found.span()
    for found in tried(_USER_INFO, needs=("://",)):
        yield "a password", *found.span()
    for found in tried(_HEADER, needs=("bearer", "basic", "authorization", "token", "key")):
        if drawn(found["value"] or found["other"] or found["third"]):
            yield "a token or key", *found.span()
    for found in tried(_TOKEN_NAMED, needs=_TOKEN_WORDS):
        if drawn(found["value"]):
            yield "a token or key", *found.span()


def _tokens(text: str) -> Found:
    for found in _SIGNED.finditer(text) if "eyJ" in text else ():
        yield "a token or key", *found.span()
    if not _LONG.search(text):
        return
    for found in _HEX.finditer(text):
        yield "a token or key", *found.span()
    for found in _GROUPS.finditer(text):
        yield "a token or key", *found.span()
    for found in _LONG.finditer(text):
        if _random(found[0]):
            yield "a token or key", *found.span()
    for found in _CAPITALS.finditer(text):
        sorts = _sorts(found[0])
        both = min(sorts.count("d"), sorts.count("u"))
        if both >= 4 and _changes(sorts) >= _LEAST_MIXED_CAPITALS:
            yield "a token or key", *found.span()


def _random(word: str) -> bool:
    """Return whether a long word is mixed as only a machine mixes them."""
    sorts = _sorts(word)
    return len(sorts) >= 18 and set(sorts) == set("lud") and _changes(sorts) >= _LEAST_MIXED


def _sorts(word: str) -> str:
    """Return l, u or d for each small letter, capital and digit of a word."""
    return "".join(
        "d" if sign.isdigit() else "u" if sign.isupper() else "l" for sign in word if sign.isalnum()
    )


def _changes(sorts: str) -> float:
    changes = sum(before != after for before, after in pairwise(sorts))
    return changes / max(len(sorts), 1)
