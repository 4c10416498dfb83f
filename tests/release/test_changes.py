"""What an engineer would notice between two releases, in the words they would use."""

from __future__ import annotations

import copy

import pytest

from generators.release.changed_curves import curve_moves
from generators.release.changes import counts, level_name, tell_changes
from kb.model import CURVE_LAWS, KINDS
from kb.words.catalogue import speaking, words

NOTES = {
    "entries": {
        "families": {"roof": {"name": "Roof unit", "drain_min": 10.0, "cautions": ["Hot pipe."]}},
        "curves": {
            "ntc": {"name": "NTC 10k", "points": [1], "tolerance": {"r_percent": 5.0}},
            "pt": {"name": "Pt1000", "tolerance": {"platinum_class": "A"}},
            "long": {
                "name": "Long",
                "tolerance": {
                    "pieces": [
                        {"from_c": -40.0, "to_c": 0.0, "kelvin": 1.0},
                        {"from_c": 0.0, "to_c": 60.0, "kelvin": 0.5},
                    ]
                },
            },
        },
        "drawings": {"front": {"name": "Front", "photo": "front.heic"}},
        "sensors": {
            "air": {
                "name": "return air",
                "label": "R1",
                "curve": "ntc",
                "plug": {"board": "main", "mark": "X12", "pins": ["1", "2"]},
            }
        },
        "codes": {
            "k1": {
                "name": "return air sensor",
                "shown": [{"text": "K1-1"}],
                "meaning": "Out of range.",
                "suspects": [{"sensor": "air", "share": 4.0, "minutes": 8.0}],
            }
        },
        "parts": {
            "main": {"name": "Main board"},
            "fan": {
                "name": "Fan",
                "insulation": {"min_ohm": 1e6, "test_v": 500.0, "disconnect": "Plug X1"},
            },
        },
        "methods": {
            "ice": {"name": "Ice water", "steps": ["Crush.", "Stir."], "cautions": ["Wet."]}
        },
        "cases": {},
    },
    "numbers": {"ntc": [[0.0, 32650.0, -1500.0], [20.0, 12100.0, -500.0], [40.0, 5300.0, -200.0]]},
    "team": {"name": "Fenwick Cooling", "safety": None, "short_below_ohm": 5.0},
    "own": {"safety.md": "a", "learn.md": "b"},
    "photos": {"drawings/front.jpg": "1"},
}


def told(change) -> list[tuple[str, str]]:
    """Return (level, text) of what changed after `change` was made to the notes."""
    now = copy.deepcopy(NOTES)
    change(now)
    return [(one.level, one.text) for one in tell_changes(NOTES, new=now)]


def entry(kind: str, entry_id: str, **fields: object):
    return lambda notes: notes["entries"][kind][entry_id].update(fields)


def test_the_same_notes_have_no_changes():
    assert tell_changes(NOTES, new=copy.deepcopy(NOTES)) == []


def test_a_curve_that_moved_is_told_in_ohms_and_in_kelvin():
    def moved(notes):
        notes["numbers"]["ntc"][1][1] = 11900.0

    assert told(moved) == [
        (
            "numbers",
            "curve NTC 10k moved at 20\u00a0°C from 12.1\u00a0kΩ to 11.9\u00a0kΩ (−0.4\u00a0K)",
        )
    ]


def test_a_curve_that_moved_most_elsewhere_names_that_place():
    old = NOTES["numbers"]["ntc"]
    new = [[0.0, 32050.0, -1500.0], [20.0, 12050.0, -500.0], [40.0, 5000.0, -200.0]]
    assert curve_moves(old, new=new) == (
        "moved at 20\u00a0°C from 12.1\u00a0kΩ to 12.0\u00a0kΩ (−0.1\u00a0K), "
        "most at 40\u00a0°C (−1.5\u00a0K)"
    )


def test_a_curve_that_stands_at_twenty_is_told_where_it_moved():
    old = NOTES["numbers"]["ntc"]
    new = [[0.0, 32050.0, -1500.0], old[1], old[2]]
    assert curve_moves(old, new=new) == (
        "moved at 0\u00a0°C from 32.6\u00a0kΩ to 32.0\u00a0kΩ (−0.4\u00a0K); "
        "at 20\u00a0°C it stands"
    )


def test_less_than_a_fiftieth_of_a_kelvin_is_no_move():
    old = NOTES["numbers"]["ntc"]
    assert curve_moves(old, new=[[20.0, 12100.0 + 0.019 * 500, -500.0]]) == ""
    assert curve_moves(old, new=[[20.0, 12100.0 + 0.021 * 500, -500.0]]) != ""


def test_a_temperature_that_only_one_of_them_reaches_is_not_compared():
    assert curve_moves([[20.0, 100.0, 1.0]], new=[[30.0, 200.0, 1.0]]) == ""


@pytest.mark.parametrize(
    ("change", "level", "text"),
    [
        (
            entry("sensors", "air", plug={"board": "main", "mark": "X14", "pins": ["1", "2"]}),
            "places",
            "R1 return air: plug is X14, not X12",
        ),
        (
            entry("sensors", "air", plug={"board": "fan", "mark": "X12", "pins": ["1", "2"]}),
            "places",
            "R1 return air: plugs into Fan, not Main board",
        ),
        (
            entry("sensors", "air", plug={"board": "main", "mark": "X12", "pins": ["3", "4"]}),
            "places",
            "R1 return air: pins 3 and 4, not 1 and 2",
        ),
        (
            entry("sensors", "air", curve="pt"),
            "numbers",
            "R1 return air: curve is Pt1000, not NTC 10k",
        ),
        (
            entry("sensors", "air", untestable={"why": "Built in.", "instead": "Ask it."}),
            "codes",
            "R1 return air: cannot be tested any more: Built in.",
        ),
        (
            entry("sensors", "air", place="Behind the filter"),
            "places",
            "R1 return air: place added: Behind the filter",
        ),
        (
            entry("codes", "k1", suspects=[{"sensor": "air", "share": 5.0, "minutes": 8.0}]),
            "codes",
            "K1-1 return air sensor: R1 return air: share 5, not 4",
        ),
        (
            entry("codes", "k1", shown=[{"text": "K1-2"}]),
            "codes",
            "K1-2 return air sensor: shown as K1-2, not K1-1",
        ),
        (
            entry("families", "roof", drain_min=15.0),
            "safety",
            "Roof unit: minutes to wait for stored charge is 15 min, not 10 min",
        ),
        (
            entry("families", "roof", no_charge="Relays only"),
            "safety",
            "Roof unit: why nothing is stored added: Relays only",
        ),
        (
            entry("families", "roof", cautions=["Hot pipe.", "Sharp fins."]),
            "safety",
            "Roof unit: cautions, added: Sharp fins.",
        ),
        (
            entry("families", "roof", cautions=None),
            "safety",
            "Roof unit: cautions, taken out: Hot pipe.",
        ),
        (
            entry("families", "roof", no_charge="Relays only, " * 40),
            "safety",
            "Roof unit: why nothing is stored added",
        ),
        (
            entry("methods", "ice", steps=["Stir.", "Crush."]),
            "words",
            "Ice water: steps: in another order",
        ),
        (
            entry(
                "parts",
                "fan",
                insulation={"min_ohm": 2e6, "test_v": 500.0, "disconnect": "Plug X1"},
            ),
            "safety",
            "Fan: least insulation 2.000\u00a0MΩ, not 1.000\u00a0MΩ",
        ),
        (
            entry("curves", "ntc", tolerance={"r_percent": 1.0, "b_percent": 0.5, "b_k": 3435.0}),
            "numbers",
            "NTC 10k: tolerance is ± 1\u00a0% at 25\u00a0°C and ± 0.5\u00a0% of B, not ± 5\u00a0%",
        ),
        (
            entry("curves", "ntc", tolerance=None),
            "numbers",
            "NTC 10k: tolerance taken out: ± 5\u00a0%",
        ),
        (
            entry("curves", "pt", tolerance={"kelvin": 0.3, "kelvin_per_c": 0.005}),
            "numbers",
            "Pt1000: tolerance is ± 0.3\u00a0K + 0.005\u00a0K for each °C away from 0\u00a0°C, "
            "not class A, film",
        ),
        (
            entry(
                "curves",
                "long",
                tolerance={
                    "pieces": [
                        {"from_c": -40.0, "to_c": 0.0, "kelvin": 1.5},
                        {"from_c": 0.0, "to_c": 60.0, "kelvin": 0.5},
                    ]
                },
            ),
            "numbers",
            "Long: tolerance is ± 1.5\u00a0K from −40\u00a0°C to 0\u00a0°C, "
            "not ± 1\u00a0K from −40\u00a0°C to 0\u00a0°C",
        ),
        (
            lambda notes: notes["photos"].update({"drawings/front.jpg": "2"}),
            "places",
            "Front: the photo front.heic is another picture now",
        ),
        (
            lambda notes: notes["team"].update(safety="Never alone."),
            "safety",
            "the team's words about safety changed",
        ),
        (
            lambda notes: notes["own"].update({"safety.md": "c"}),
            "safety",
            "the page safety was rewritten",
        ),
        (lambda notes: notes["own"].pop("learn.md"), "gone", "the page learn is gone"),
        (
            lambda notes: notes["entries"]["parts"].update(pump={"name": "Pump"}),
            "new",
            "new part: Pump",
        ),
        (lambda notes: notes["entries"]["parts"].pop("fan"), "gone", "part Fan is gone"),
        (
            lambda notes: notes["entries"]["cases"].update(c1={"name": "Cold shop"}),
            "cases",
            "new past job: Cold shop",
        ),
    ],
)
def test_one_change_is_told_in_one_sentence(change, level, text):
    assert (level, text) in told(change)


def test_photos_of_a_record_that_knows_none_are_not_said_to_be_others():
    old = {key: value for key, value in NOTES.items() if key != "photos"}
    assert tell_changes(old, new=copy.deepcopy(NOTES)) == []


def test_of_many_pieces_of_a_tolerance_only_the_number_is_told():
    pieces = [{"from_c": 10.0 * i, "to_c": 10.0 * i + 10, "kelvin": 1.0} for i in range(9)]
    before = copy.deepcopy(NOTES)
    before["entries"]["curves"]["long"]["tolerance"] = {"pieces": pieces}
    after = copy.deepcopy(before)
    for piece in after["entries"]["curves"]["long"]["tolerance"]["pieces"][:4]:
        piece["kelvin"] = 2.0
    assert [change.text for change in tell_changes(before, new=after)] == [
        "Long: tolerance: 4 of 9 pieces are others"
    ]


def test_a_new_suspect_and_one_that_is_gone_are_both_named():
    change = entry("codes", "k1", suspects=[{"part": "main", "share": 1.0, "minutes": 20.0}])
    assert told(change) == [
        ("codes", "K1-1 return air sensor: new suspect: Main board"),
        ("codes", "K1-1 return air sensor: no longer a suspect: R1 return air"),
    ]


def test_an_entry_under_a_new_id_is_renamed_and_not_gone_and_new():
    def renamed(notes):
        notes["entries"]["parts"]["fan-motor"] = notes["entries"]["parts"].pop("fan")

    assert told(renamed) == [("renamed", "part Fan is now filed as fan-motor, before as fan")]


def test_safety_is_told_first_and_the_counts_say_so():
    def much(notes):
        entry("sensors", "air", plug={"board": "main", "mark": "X14", "pins": ["1", "2"]})(notes)
        entry("families", "roof", drain_min=15.0)(notes)
        notes["entries"]["parts"]["pump"] = {"name": "Pump"}

    now = copy.deepcopy(NOTES)
    much(now)
    changes = tell_changes(NOTES, new=now)
    assert [one.level for one in changes] == ["safety", "places", "new"]
    assert counts(changes) == {"changes": 3, "safety": 1}


def test_who_checked_an_entry_when_is_no_change_to_an_engineer():
    assert told(entry("parts", "fan", checked={"by": "MO", "on": "2026-01-01"})) == []


def test_changes_are_told_in_the_language_of_the_release_that_tells_them():
    """A record keeps values and no sentence: nothing of an older language is left in it."""

    def much(notes):
        notes["numbers"]["ntc"][1][1] = 11900.0
        entry("families", "roof", drain_min=15.0)(notes)
        notes["own"]["kennen.md"] = "k"

    with speaking("german"):
        assert told(much) == [
            ("safety", "Roof unit: Wartezeit für die Restladung: jetzt 15 min, vorher 10 min"),
            (
                "numbers",
                "Kennlinie NTC 10k verschoben bei 20\u00a0°C von 12.1\u00a0kΩ auf 11.9\u00a0kΩ "
                "(−0.4\u00a0K)",
            ),
            ("new", "neue Seite: kennen"),
        ]
        assert level_name("safety") == "Sicherheit zuerst"
    assert level_name("safety") == "Safety first"


def test_a_team_that_changes_its_language_is_told_so_by_what_each_calls_itself():
    assert told(lambda notes: notes["team"].update(language="german")) == [
        ("words", "the site speaks Deutsch, not English")
    ]


def test_what_an_older_program_did_not_ask_a_team_is_no_change_at_its_default():
    assert told(lambda notes: notes["team"].update(language="english", ring=[])) == []


def test_every_field_whose_change_is_told_has_a_name_that_its_model_agrees_to():
    names = words()["changed-field"]
    wrong = [
        f"{kind}.{field}"
        for kind, model in [*KINDS.items(), *(("curves", law) for law in CURVE_LAWS.values())]
        for field, change in model.changes.items()
        if change.level != "told otherwise"
        and names.get(f"{kind}-{field}", names.get(field)) != change.called
    ]
    assert wrong == []


def test_a_kind_is_called_in_the_language_in_force():
    with speaking("german"):
        assert told(lambda notes: notes["entries"]["parts"].update(pump={"name": "Pumpe"})) == [
            ("new", "neu: Bauteil Pumpe")
        ]
