"""Find in plain text what opens a door: its code however it is said, and where its key lies.

A code is found where something that is locked, a word for typing or turning, and signs that may be
a code stand close together. Every pattern is bounded or goes over a text once. How people say these
things is common practice, no source.
"""

from __future__ import annotations

import re

from .forms_in_text import Found
from .spoken_digits import SPOKEN_DIGIT

_STRONG_LOCK = (
    r"(?:(?:key|lock) ?(?:pad|box|safe|tin)s?|pad ?lock|combination lock|door (?:pad|lock)|fob"
    r"|entry ?phone|strongbox|schlüssel(?:tresor|safe|kasten|box)|tresor|zahlenschloss"
    r"|vorhängeschloss|türöffner)"
)
"""What is there to be opened by a code, and for nothing else."""
_LOCKED = (
    r"(?:chain|cage|barriers?|bollards?|shutters?|gates?|roller ?door|call ?point|lock|safe"
    r"|(?:server room|plant ?room|front|back|side|entry|cellar|main|roof) door|pforte|hoftor"
    r"|rolltor|schranke|haustür|hintertür|schloss|klingel)"
)
_GUARDED = r"(?:alarm panel|intruder(?: alarm)?|burglar alarm|alarm|alarmanlage)"
"""The trade has alarms of its own, with codes: it takes a word for switching this one off."""
_DOES = (
    r"(?:codes?|pins?|combo|combination|numbers?|digits|letters|wheels|keypad|punch|dial(?:led)?"
    r"|press|enter|type|key in|tap|set to|set at|opens?|unlocks?|takes|wants|use|answers to|is"
    r"|then|star|hash|pull|zahlen|kombination|nummer|raute|stern|tippen|eingeben|lautet|ist|mit"
    r"|geht auf)"
)
_TYPES = (
    r"(?:code|combo|combination|keypad|punch|dial|hash|star|number twice|wheels|kombination"
    r"|raute|zahlen)"
)
_DISARMS = r"(?:punch|unset|disarm|siren|unscharf|entschärfen|off with)"
_APART = r"[^\n]{0,70}?"
_UNIT = (
    r"(?![.,:/]?\d)(?! ?(?:[°%ΩµVAWK]|k?Pa|bar|m?m|cm|ms|s|h|min|rpm|Hz|kΩ|ohms?|psi|l|kg"
    r"|g|am|pm|Uhr)\b)"
)
_TYPED = (
    rf"(?P<code>[*#]?(?<![\w.,:/-])(?:\d{{4,8}}(?:[#*]|(?:[A-Z])?(?!\w)){_UNIT}|\d{{3}}[#*]"
    rf"|(?:[*#]|\d)(?:[ -]\d){{2,7}}(?![\w-]){_UNIT}|(?:[A-Z]-){{3,7}}[A-Z](?![\w-])"
    rf"|(?:{SPOKEN_DIGIT})(?:[ ,-]{{1,2}}(?:and |und )?(?:{SPOKEN_DIGIT})){{2,9}}\b))"
)
_CODE = re.compile(
    rf"\b(?:{_STRONG_LOCK}\b{_APART}\b{_DOES}|{_LOCKED}\b{_APART}\b{_TYPES}"
    rf"|{_GUARDED}\b{_APART}\b{_DISARMS})\b[^\n]{{0,30}}?{_TYPED}",
    re.IGNORECASE,
)
_STRONG = re.compile(
    rf"\b(?:{_STRONG_LOCK}|türcode|torcode|zugangscode|(?:door|gate|entry|access) (?:code|pin)"
    rf"|(?:fuel |bank )?card pin)\b{_APART}{_TYPED}"
    r"|\b(?:key|lock) ?(?:safe|box|tin)\b[^\n]{0,50}?\b(?:opens?|set|code)\b[^\n]{0,12}?"
    r"(?<!\w)(?-i:(?=[A-Z\d]{0,6}\d)(?=\d{0,6}[A-Z])[A-Z\d]{4,8})(?!\w)"
    r"|\bdoor\b[^\n]{0,30}?\b(?:wants|takes) "
    r"(?-i:(?=[A-Z\d]{0,6}\d)(?=\d{0,6}[A-Z])[A-Z\d]{4,6})(?!\w)"
    r"|\bkey in \d{4,8}(?!\w)"
    rf"|\b{_LOCKED}\b[^\n]{{0,40}}?(?<![\w.,:/-])\d{{3,8}}(?:[#*]| (?:then |and |dann )?"
    r"(?:hash|star|raute|stern)\b)",
    re.IGNORECASE,
)
_SOME_CODE = re.compile(
    rf"\d{{3}}|\d[ -]\d[ -]\d|(?-i:[A-Z]-[A-Z]-[A-Z]-|[A-Z\d]{{4}})|\b{SPOKEN_DIGIT}[ ,-]{{1,2}}"
    rf"(?:and |und )?{SPOKEN_DIGIT}\b",
    re.IGNORECASE,
)
_YEAR = re.compile(r"(?:19|20)\d\d")
_PIN_SAID = re.compile(
    rf"\b(?-i:PIN)\b[^\n.]{{0,14}}?(?:(?:{SPOKEN_DIGIT})(?:[ ,-]{{1,2}}(?:{SPOKEN_DIGIT})){{2,9}}\b"
    r"|\d(?:[ -]\d){3,7}(?![\w-]))",
    re.IGNORECASE,
)
_SPOKEN_TO_GUARD = re.compile(
    r"\b(?:alarm|monitoring|guards?|security|wachdienst|leitstelle)\b[^\n]{0,60}?"
    r"\b(?:tell them|say the word|the word is|word of the (?:day|week|month)"
    r"|kennwort|codewort|losung)\b"
    r"[^\n]{0,40}",
    re.IGNORECASE,
)
_HIDES = (
    r"(?:wellington|porch|doormat|mat|brick|flower ?pot|planter|slab|gnome|wheelie|gutter|downpipe"
    r"|letter ?box|mail ?box|meter (?:box|cupboard)|gas meter|sill|ledge|lintel|visor|wheel arch"
    r"|tyre|magnet tin|fire bucket|fußmatte|matte|stein|blumentopf|topf|tonne|mülltonne"
    r"|regenrinne|fallrohr|briefkasten|haken|nagel|fensterbank|zählerkasten)"
)
_HIDDEN = re.compile(
    rf"\b(?:keys?|schlüssel|ersatzschlüssel|zweitschlüssel)\b[^\n]{{0,60}}?"
    r"\b(?:under(?:neath)?|beneath|behind|inside|on top of|above|on (?:the|a)|in (?:the|a)|hidden|"
    r"below|kept|stuck|unter|hinter|über|oben auf|am|an der|im|in der|auf (?:dem|der))\b"
    rf"[^\n.;]{{0,40}}?\b{_HIDES}\b",
    re.IGNORECASE,
)
_SPARE = re.compile(
    r"\b(?:spare|house|front door|back door|site|plant room|roof) keys?\b(?! switch)[^\n.;]{0,30}?"
    r"\b(?:is|are|lives|hangs|sits|lies|stays|kept|hidden|hides?|taped|inside|below|with the"
    r"|at the|at number)\b[^\n.;]{0,60}"
    r"|\b(?:second|extra|other) keys?\b[^\n.;]{0,30}?\b(?:lives|hangs|kept|hidden|taped)\b"
    r"[^\n.;]{0,60}"
    r"|\bspare for the [^\n.;]{2,20} (?:lives|hangs|stays) [^\n.;]{0,60}"
    r"|\bmagnet(?:ic)? (?:tin|key ?(?:box|holder))\b[^\n.;]{0,60}"
    r"|\bthere(?:'?s| is) your key\b"
    r"|\b(?:ersatz|zweit|haustür|haus)schlüssel\b[^\n.;]{0,30}?\b(?:liegt|hängt|klemmt|steckt)\b"
    r"[^\n.;]{0,60}",
    re.IGNORECASE,
)
_LOCKED_WORDS = (
    *("key", "lock", "chain", "cage", "barrier", "bollard", "shutter", "gate", "door", "fob"),
    *("phone", "intercom", "buzzer", "point", "lift", "elevator", "safe", "alarm", "intruder"),
    *("box", "tresor", "spare for", "magnet", "schl", "pforte", "hoftor", "rolltor", "torcode"),
    *("schranke", "tür", "klingel", "pin"),
)
"""What a text must hold before any form is tried, letters folded."""


def doors_in(text: str) -> Found:
    """Yield (what it looks like, start, end) for whatever in a text lets strangers in."""
    folded = text.casefold()
    if not any(map(folded.__contains__, _LOCKED_WORDS)):
        return
    if _SOME_CODE.search(text):
        for found in _CODE.finditer(text):
            if not _YEAR.fullmatch(found["code"]):
                yield "a code that opens something", *found.span()
        for found in _STRONG.finditer(text):
            yield "a code that opens something", *found.span()
    for found in _PIN_SAID.finditer(text) if "PIN" in text else ():
        yield "a code that opens something", *found.span()
    for found in _SPOKEN_TO_GUARD.finditer(text):
        yield "a word that stops an alarm", *found.span()
    if any(map(folded.__contains__, ("key", "schlüssel", "spare for", "magnet"))):
        for form in (_HIDDEN, _SPARE):
            yield from (("the place of a key", *found.span()) for found in form.finditer(text))
