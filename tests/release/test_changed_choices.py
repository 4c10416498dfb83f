"""What a field chose from words is told as a change in words of the language, never as it is kept."""

from __future__ import annotations

from typing import Literal, get_origin

import pytest

from generators.release.changed_fields import CHOSEN, field_changes
from kb.model import CURVE_LAWS, KINDS
from kb.words.catalogue import speaking
from tests.unplaced_words import types_in

CHOICES = {
    ("sensors", "reach"): (
        *("open", "behind a panel"),
        "Zugang: jetzt hinter einer Verkleidung, vorher frei zugänglich",
    ),
    ("codes", "stops"): (
        *("stops", "runs on"),
        "was das Gerät tut: jetzt läuft weiter, vorher geht aus und bleibt aus",
    ),
    ("methods", "judges"): (
        *("windings", "plain look"),
        "was beurteilt wird: jetzt Sichtprüfung, vorher Wicklungen",
    ),
    ("methods", "live"): (
        *("dead", "live"),
        "Zustand des Geräts: jetzt unter Spannung, "
        "vorher freigeschaltet und gegen Wiedereinschalten gesichert",
    ),
    ("instruments", "is_a"): (
        *("meter", "thermometer"),
        "was es ist: jetzt Thermometer, vorher Multimeter",
    ),
    ("parts", "is_a"): (*("fan", "motor"), "was es ist: jetzt Motor, vorher Ventilator"),
    ("curves", "law"): (*("table", "beta"), "Formel: jetzt ein B-Wert, vorher Tabelle"),
}
"""(kind, field) → what it chose before, what now, and how that is told."""


@pytest.mark.parametrize(("kind", "field"), CHOICES)
def test_what_a_field_chose_is_told_in_words_of_the_language(kind, field):
    before, now, in_german = CHOICES[kind, field]
    sides = {"before": {field: before}, "now": {field: now}, "names": lambda _, name: name}
    with speaking("german"):
        assert [text for _, text in field_changes(kind, **sides)] == [in_german]
    [(_, in_english)] = field_changes(kind, **sides)
    assert in_english.endswith(f" is {now}, not {before}")


def test_every_field_that_chooses_from_words_is_told_in_them():
    silent = {("curves", "constant"), ("curves", "ppm_per_k")}  # numbers
    models = [*KINDS.items(), *(("curves", law) for law in CURVE_LAWS.values())]
    chooses = {
        (kind, name)
        for kind, model in models
        for name, field in model.model_fields.items()
        for type_ in types_in(field.annotation)
        if get_origin(type_) is Literal and name in model.changes
    }
    assert chooses - silent == CHOSEN.keys()
