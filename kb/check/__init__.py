"""Rules between entries: what no single file can know about itself.

A rule is a pure function that yields problems. Adding one: a function in the file of its subject,
one line in `RULES` that says what it looks at, and a folder under `tests/data/entries/bad/` with
the exact message.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from kb.model import (
    KINDS,
    Case,
    Code,
    Curve,
    Drawing,
    Entry,
    Family,
    Lesson,
    Method,
    Part,
    Sensor,
    Source,
    Term,
)
from kb.notes.load import Notes, load_notes
from kb.notes.problem import Problem
from kb.notes.yaml_text import YamlText

from . import (
    cautions,
    charge,
    codes,
    content,
    curves,
    cut_sentences,
    examples_left,
    facts,
    families,
    fitted,
    implausible,
    insulation,
    lessons,
    live_work,
    misprints,
    orphans,
    past_jobs,
    people,
    photos,
    places,
    references,
    refits,
    repairs,
    slips,
    terms,
    tolerances,
)
from .outline import Outline, outline_of
from .rule import Key, OfAlike, OfEach, OfFile, OfNotes, OfOutlines, Rule, alike

RULES: tuple[Rule, ...] = (
    OfEach(references.ids_resolve, (Entry,)),
    OfNotes(references.ids_of_the_team_resolve),
    OfOutlines(references.lessons_lead_somewhere),
    OfEach(lessons.looks_can_be_shown, (Lesson,)),
    OfAlike(lessons.lessons_have_places_of_their_own, (Lesson,), lessons.place_of),
    OfAlike(terms.terms_mean_one_thing, (Term,), terms.forms_of),
    OfEach(terms.meanings_are_short, (Term,)),
    OfEach(references.former_ids_are_free, (Entry,)),
    OfAlike(references.former_ids_are_had_once, (Entry,), references.former_ids_of),
    OfEach(curves.curves_compute, (Curve,)),
    OfEach(tolerances.tolerance_suits_its_law, (Curve,)),
    OfEach(curves.curves_cover_their_sensors, (Sensor,)),
    OfEach(curves.one_b_value_suits_its_sensors, (Sensor,)),
    OfEach(misprints.tables_look_as_printed, (Curve,)),
    OfEach(fitted.laws_meet_their_rows, (Curve,)),
    OfEach(implausible.tables_are_in_ohms, (Curve,)),
    OfEach(implausible.ntcs_read_as_sensors_do, (Curve,)),
    OfEach(implausible.b_is_the_curves_own, (Curve,)),
    OfAlike(codes.no_two_codes_alike, (Code,), codes.looks_of),
    OfEach(codes.blinks_are_counted, (Code,)),
    OfEach(codes.suspects_stand_once, (Code,)),
    OfEach(codes.trips_fit_their_sensor, (Code,)),
    OfEach(families.one_family_throughout, (Entry,)),
    OfAlike(families.labels_stand_once, (Sensor,), families.label_of),
    OfEach(charge.charge_is_waited_for, (Family,)),
    OfEach(families.plugs_are_on_boards, (Sensor,)),
    OfEach(families.pins_are_on_their_drawing, (Sensor, Part)),
    OfAlike(places.plugs_hold_one_sensor, (Sensor,), places.plug_of),
    OfAlike(places.pins_show_one_thing, (Sensor, Part), places.pin_of),
    OfEach(families.causes_are_known, (Case,)),
    OfEach(photos.photos_are_there, (Drawing, Case)),
    OfEach(photos.photos_have_their_own_proportions, (Drawing,)),
    OfEach(insulation.no_tester_on_electronics, (Sensor, Part)),
    OfEach(insulation.no_tester_for_suspects, (Code,)),
    OfEach(insulation.limits_suit_the_rating, (Part,)),
    OfEach(insulation.hermetic_is_a_motor, (Part,)),
    OfEach(live_work.live_steps_are_marked, (Method,)),
    OfEach(live_work.live_volts_are_named, (Method,)),
    OfNotes(live_work.dead_is_proved_by_a_voltage_tester),
    OfEach(cautions.measuring_begins_with_isolating, (Method,)),
    OfEach(cautions.gas_has_its_cautions, (Family,)),
    OfFile(cautions.nothing_is_shorted_out),
    OfEach(repairs.replaced_parts_are_refitted, (Part,)),
    OfEach(refits.marked_lines_are_pinned, (Part,)),
    OfEach(refits.earth_goes_on_first, (Part,)),
    OfEach(refits.earth_comes_off_last, (Part,)),
    OfEach(cut_sentences.sentences_stay_whole, (Entry,)),
    OfEach(cut_sentences.every_sign_can_be_seen, (Entry,)),
    OfEach(facts.publications_are_dated, (Source,)),
    OfEach(facts.numbers_have_more_than_practice, (Curve,)),
    OfEach(people.cases_name_nobody, (Case,)),
    OfEach(past_jobs.cases_are_filled_in, (Case,)),
    OfAlike(past_jobs.jobs_are_told_once, (Case,), past_jobs.job_of),
    OfNotes(slips.slips_name_an_entry),
    OfNotes(slips.slips_name_nobody),
    OfNotes(content.safety_page_is_there),
    OfOutlines(content.pages_keep_their_names),
    OfOutlines(content.pages_differ_in_more_than_capitals),
    OfOutlines(content.pages_can_be_built),
    OfOutlines(orphans.everything_is_used),
    OfNotes(examples_left.examples_left),
)

_OF_EACH: dict[str, list[OfEach]] = {
    kind: [rule for rule in RULES if isinstance(rule, OfEach) and kind in rule.kinds]
    for kind in KINDS
}
_OF_ALIKE = [rule for rule in RULES if isinstance(rule, OfAlike)]
_SHARED: dict[str, list[OfAlike]] = {
    kind: [rule for rule in _OF_ALIKE if kind in rule.kinds] for kind in KINDS
}
_OF_FILE = [rule for rule in RULES if isinstance(rule, OfFile)]


def check_notes(folder: Path) -> Notes:
    """Load the notes and add every problem between entries, all sorted by place.

    Parameters
    ----------
    folder : Path
        The folder that holds `docs_data/`.
    """
    notes = load_notes(folder)
    notes.problems = problems_of(notes)
    return notes


def problems_of(notes: Notes) -> list[Problem]:
    """Return the problems of loading and those between entries, sorted by place, each once."""
    found = {*notes.problems}
    outlines = {}
    for kind in KINDS:
        for entry in notes.of_kind(kind).values():
            found.update(problems_of_entry(entry, notes=notes))
            outlines[(kind, entry.id)] = outline(entry)
    for read in notes.texts.values():
        found.update(problems_of_file(read))
    found.update(problems_of_all(notes, outlines=outlines))
    return sorted(found)


def problems_of_entry(entry: Entry, *, notes: Notes) -> Iterator[Problem]:
    """Yield what the rules of one entry find in it."""
    for each in _OF_EACH[entry.kind]:
        yield from each.rule(entry, notes=notes)


def problems_of_file(read: YamlText) -> Iterator[Problem]:
    """Yield what the rules of one entry's file find in it."""
    for each in _OF_FILE:
        yield from each.rule(read)


def problems_of_all(notes: Notes, *, outlines: Mapping[Key, Outline]) -> Iterator[Problem]:
    """Yield what the rules over several entries find.

    Parameters
    ----------
    notes : Notes
    outlines : mapping of (kind, id) to Outline
        Of every entry that can be read, by kind, then by id.
    """
    yield from alike(outlines, notes=notes, of=_OF_ALIKE)
    for each in RULES:
        if isinstance(each, OfNotes):
            yield from each.rule(notes)
        elif isinstance(each, OfOutlines):
            yield from each.rule(notes, outlines=outlines)


def outline(entry: Entry) -> Outline:
    """Return what the rules over several entries ask of one."""
    shares = [
        f"{each.name}\n{shared}" for each in _SHARED[entry.kind] for shared in each.shares(entry)
    ]
    return outline_of(entry, shares=shares)
