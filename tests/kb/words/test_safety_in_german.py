"""No caution loses a rule on its way into German: whatever English asks for, German asks for."""

from __future__ import annotations

import re

import pytest

from kb.words.catalogue import ENGLISH, words_of
from tests.kb.words.test_languages import leaves

RULES = {
    r"\bisolat(e|ed|ing)\b": r"frei(ge)?schalte",
    r"\block(ed|ing)? (it )?off\b|, locked and": r"gegen Wiedereinschalten",
    r"\bprov(e|es|ed|ing) dead\b": r"Spannungsfrei",
    r"\bmeasured? (all the same )?below\b": r"\bmessen: unter\b",
    r"\bnever\b(?! ends)": r"\b(nie|niemals|niemand)\b",
    r"\bnobody\b": r"\bniemand\b",
    r"\bring\b": r"an(ge)?ruf|Notruf|\bruf\b",
    r"\bmaker's\b": r"Hersteller",
    r"\blicensed\b": r"zugelassen|Sachkundenachweis",
    r"\bauthorised\b": r"befugt",
    r"\bat most\b": r"höchstens",
    r"\bdoctor\b": r"\bArzt\b",
    r"\bhospital\b": r"Krankenhaus",
    r"\bfirst\b(?! to)": r"\b(zuerst|erst|bevor|gehen vor|ersten)\b",
}
"""What English says → how German says it, by the trade's own rules (DIN VDE 0105-100, from memory)."""


def cautions(language: str) -> dict[str, str]:
    """Return every text about what can hurt, without its source."""
    sections = {name: words_of(language)[name] for name in ("caution", "stop")}
    return {
        at: str(text)
        for at, text in leaves(sections)
        if not re.search(r"\.(source|where\.\d+)$", at)
    }


@pytest.mark.parametrize("english", RULES)
def test_german_asks_for_what_english_asks_for(english):
    german = cautions("german")
    asked = [at for at, text in cautions(ENGLISH).items() if re.search(english, text, re.I)]
    assert asked, "no caution says so"
    weaker = {at: german[at] for at in asked if not re.search(RULES[english], german[at], re.I)}
    assert weaker == {}


def test_numbers_in_cautions_are_the_same():
    german = cautions("german")
    for at, text in cautions(ENGLISH).items():
        assert re.findall(r"\d[\d.]*", text) == re.findall(r"\d[\d.]*", german[at]), at


def test_every_caution_stands_where_it_stood():
    def where(language: str) -> list[object]:
        return [text for at, text in leaves(words_of(language)["caution"]) if ".where." in at]

    assert where("german") == where(ENGLISH)
