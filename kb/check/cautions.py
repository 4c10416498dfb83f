"""What can hurt has its caution where the work is: isolation, gas that burns, stored charge."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kb.model import Family, Method
from kb.notes.load import Notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

MEASURES = ("resistance", "insulation", "windings", "voltage")
"""What a method judges with tips on metal."""
_ISOLATES = re.compile(r"\b(isolat\w*|lock\w* off|prov\w+ (it )?dead)\b", re.IGNORECASE)
_BURNS = re.compile(r"\b(burn\w*|flamm\w*|flame\w*|ignit\w*)\b", re.IGNORECASE)
_POISONS = re.compile(r"\b(toxic|poison\w*|breath\w*|gas mask|ammonia)\b", re.IGNORECASE)
_HIGH = re.compile(r"\bbar\b", re.IGNORECASE)
_DESIGNATION = re.compile(r"\bR-?(\d{2,4}[A-Z]{0,2}(?:\([A-Z]\))?)", re.IGNORECASE)
FLAMMABLE = frozenset(
    {
        *("32", "142B", "143A", "152A", "1234YF", "1234ZE", "1234ZE(E)"),
        *("452B", "454A", "454B", "454C", "455A", "457A", "459A", "516A"),
        *("50", "170", "290", "600", "600A", "1150", "1270"),
        "717",
    }
)
"""Safety classes A2L, A2, A3, B2L. Source: ISO 817:2014 and ASHRAE 34, from memory."""
TOXIC = frozenset({"123", "717", "764"})
"""Safety class B. Source: as above, from memory."""
HIGH_PRESSURE = frozenset({"744"})
"""Above 100 bar on the high side. Source: common practice, no source."""
_SHORTED = re.compile(
    r"\b(short (it|them|the \w+) (out|across|with)|discharge\w* (it |them )?with a screwdriver|"
    r"screwdriver across)\b",
    re.IGNORECASE,
)
_SHORTED_NEEDS = ("short", "screwdriver", "\\")
"""Without one of these no text of a file is such a one; letters may be written with a backslash."""
_FORBIDS = re.compile(r"\b(never|not|don't|no)\b", re.IGNORECASE)


def measuring_begins_with_isolating(method: Method, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a method that puts tips on metal and whose cautions do not isolate.

    A live one isolates before its plugs are pulled: it needs the words too, in a step or caution.
    """
    words = [*method.cautions, *(method.steps if method.live == "live" else [])]
    if method.judges in MEASURES and not any(_ISOLATES.search(text) for text in words):
        yield notes.problem(
            method,
            ("cautions",),
            "not-isolated",
            "it is measured with tips on metal, and no caution says to isolate",
            hint="say 'Isolate, lock off, prove dead' first of all",
            warning=True,
        )


def gas_has_its_cautions(family: Family, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a family whose refrigerant burns or poisons, and whose cautions do not say so."""
    names = {name.upper() for name in _DESIGNATION.findall(family.refrigerant or "")}
    words = [*family.cautions, family.refrigerant or ""]
    for gases, wanted, what in (
        (FLAMMABLE, _BURNS, "burns"),
        (TOXIC, _POISONS, "is toxic"),
        (HIGH_PRESSURE, _HIGH, "stands under more than 100 bar"),
    ):
        found = sorted(names & gases)
        cautioned = words if wanted is _HIGH else family.cautions
        if found and not any(wanted.search(text) for text in cautioned):
            yield notes.problem(
                family,
                ("refrigerant",),
                "gas",
                f"R-{found[0]} {what}, and no caution of the family says so",
                hint="say in 'cautions' what it does and what must be there before the first "
                "screw: detector, air, no flame",
                warning=True,
            )


def nothing_is_shorted_out(read: YamlText) -> Iterator[Problem]:
    """Yield each text that tells somebody to short stored charge out."""
    whole = "\n".join(read.lines).casefold()
    if not any(sign in whole for sign in _SHORTED_NEEDS):
        return
    for path, text in read.texts():
        found = _SHORTED.search(text)
        if found and not _FORBIDS.search(text[: found.start()]):
            yield read.problem(
                path,
                "shorted-out",
                f"'{found[0]}': what is stored flashes in the face",
                hint="discharge through a resistor made for it, or wait and measure",
            )
