"""Rules between entries: what no single file can know about itself.

A rule is a pure function from the notes to problems. Adding one: a function in the file of its
subject, one line in `RULES`, and a folder under `tests/data/entries/bad/` with the exact message.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from kb.notes.load import Notes, load_notes
from kb.notes.problem import Problem

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

Rule = Callable[[Notes], Iterable[Problem]]

RULES: tuple[Rule, ...] = (
    references.ids_resolve,
    references.lessons_lead_somewhere,
    references.former_ids_are_free,
    lessons.looks_can_be_shown,
    lessons.lessons_have_places_of_their_own,
    terms.terms_mean_one_thing,
    terms.meanings_are_short,
    curves.curves_compute,
    tolerances.tolerance_suits_its_law,
    curves.curves_cover_their_sensors,
    curves.one_b_value_suits_its_sensors,
    misprints.tables_look_as_printed,
    fitted.laws_meet_their_rows,
    implausible.tables_are_in_ohms,
    implausible.ntcs_read_as_sensors_do,
    implausible.b_is_the_curves_own,
    codes.no_two_codes_alike,
    codes.blinks_are_counted,
    codes.suspects_stand_once,
    codes.trips_fit_their_sensor,
    families.one_family_throughout,
    families.labels_stand_once,
    charge.charge_is_waited_for,
    families.plugs_are_on_boards,
    families.pins_are_on_their_drawing,
    places.plugs_hold_one_sensor,
    places.pins_show_one_thing,
    families.causes_are_known,
    photos.photos_are_there,
    photos.photos_have_their_own_proportions,
    insulation.no_tester_on_electronics,
    insulation.limits_suit_the_rating,
    insulation.hermetic_is_a_motor,
    live_work.live_steps_are_marked,
    live_work.live_volts_are_named,
    live_work.dead_is_proved_by_a_voltage_tester,
    cautions.measuring_begins_with_isolating,
    cautions.gas_has_its_cautions,
    cautions.nothing_is_shorted_out,
    repairs.replaced_parts_are_refitted,
    refits.marked_lines_are_pinned,
    refits.earth_goes_on_first,
    refits.earth_comes_off_last,
    cut_sentences.sentences_stay_whole,
    cut_sentences.every_sign_can_be_seen,
    facts.publications_are_dated,
    facts.numbers_have_more_than_practice,
    people.cases_name_nobody,
    past_jobs.cases_are_filled_in,
    past_jobs.jobs_are_told_once,
    slips.slips_name_an_entry,
    slips.slips_name_nobody,
    content.safety_page_is_there,
    content.pages_keep_their_names,
    content.pages_can_be_built,
    orphans.everything_is_used,
    examples_left.examples_left,
)


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
    for rule in RULES:
        found.update(rule(notes))
    return sorted(found)
