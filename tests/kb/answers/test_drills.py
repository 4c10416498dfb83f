"""Drills out of a thousand seeds: each answer is held to the numbers, each wrong choice is wrong."""

from __future__ import annotations

import dataclasses
import itertools
import math
import re
from collections import Counter, defaultdict
from pathlib import Path
from typing import get_args

import numpy as np
import pytest

from kb.answers.drill import KINDS, Drill, bare
from kb.answers.drill_lamp import MOST_FLASHES_HZ, Pace, lamp_bars
from kb.answers.drill_marked import (
    mark_choice,
    mark_display,
    mark_order,
    mark_resistance,
    mark_temperature,
)
from kb.answers.drill_notes import DrillNotes
from kb.answers.drill_set import SET, DrillPool
from kb.answers.instruments import Tools
from kb.catalog import Catalog, spoken
from kb.drill_facts import drill_notes
from kb.model import Code, Family, Part
from kb.model.lesson import Practise
from kb.notes.load import load_notes
from kb.numbers.grid import compile_grid
from kb.numbers.seeded import Seeded
from kb.numbers.verdict import judge
from kb.suspects import rank_suspects
from kb.words.catalogue import speaking
from kb.words.phrase import Voice, sentence

DEMO = Path(__file__).resolve().parents[3]
SEEDS = 1000
CATALOG = Catalog(load_notes(DEMO))


@pytest.fixture(scope="module")
def notes() -> DrillNotes:
    """The demo's, with curves as a phone has them."""
    found = drill_notes(CATALOG)
    grids = {name: compile_grid(curve) for name, curve in found.curves.items()}
    return dataclasses.replace(found, curves=grids)


@pytest.fixture(scope="module")
def pool(notes: DrillNotes) -> DrillPool:
    return DrillPool(notes)


@pytest.fixture(scope="module")
def drills(pool: DrillPool) -> dict[str, list[Drill]]:
    """One set for each of a thousand seeds, by kind."""
    found: dict[str, list[Drill]] = defaultdict(list)
    for seed in range(1, SEEDS + 1):
        for drill in pool.drills(seed=seed):
            found[drill.kind].append(drill)
    return found


def words_of(drill: Drill) -> str:
    """Return all that stands on the page before it is answered, choices aside."""
    voice = Voice(digits=drill.digits)
    return " ".join(sentence(part, voice=voice) for part in (drill.ask, *drill.given))


def test_a_set_has_every_kind_and_the_same_seed_makes_the_same(pool, drills):
    assert Counter({kind: len(found) for kind, found in drills.items()}) == Counter(
        dict.fromkeys(KINDS, SEEDS * SET // len(KINDS))
    )
    assert pool.drills(seed=77, family="veldane-chiller") == pool.drills(
        seed=77, family="veldane-chiller"
    )
    assert len({str(pool.drills(seed=seed, count=2)) for seed in range(1, 60)}) == 59


def test_a_family_alone_is_asked_about_where_it_is_chosen(pool):
    for seed in range(1, 25):
        for drill in pool.drills(seed=seed, family="osterlyn-coldroom"):
            assert drill.family in ("osterlyn-coldroom", "") or drill.kind == "kills"


@pytest.mark.parametrize("kind", ["ohm", "temperature"])
def test_a_typed_answer_is_the_curves_and_passes_within_its_tolerance(drills, notes, kind):
    by_curve: dict[str, list[Drill]] = defaultdict(list)
    for drill in drills[kind]:
        by_curve[drill.curve_id].append(drill)
    for curve_id, asked in by_curve.items():
        # The entry's own curve, and not the grid that a phone has: it is what a meter meets.
        curve = CATALOG.computing_curves[curve_id]
        t_c = np.array([drill.figures["t_c"] for drill in asked])
        r_ohm = np.asarray(curve.r_ohm(np.clip(t_c, curve.low_c, curve.high_c)))
        told_ohm = np.array([drill.because[0].figures["r_ohm"] for drill in asked], dtype=float)
        limit_k = np.array([drill.figures["limit_k"] for drill in asked])
        slope = np.abs(np.asarray(curve.slope_ohm_per_k(np.clip(t_c, curve.low_c, curve.high_c))))
        assert np.all(np.abs(told_ohm - r_ohm) / slope < 0.004)
        assert limit_k == pytest.approx(np.asarray(curve.tol_k(t_c)), abs=2e-3)
        for drill, right_ohm in zip(asked, r_ohm, strict=True):
            _hold_typed(drill, right_ohm=float(right_ohm), curve=notes.curves[curve_id])


def _hold_typed(drill: Drill, *, right_ohm: float, curve: object) -> None:
    t_c, limit_k = drill.figures["t_c"], drill.figures["limit_k"]
    for share, right in ((0.0, True), (0.9, True), (-0.9, True), (1.1, False), (-1.1, False)):
        asked_c = t_c + share * limit_k
        if drill.kind == "temperature":
            mark = mark_temperature(f"{asked_c:.6f}", drill=drill)
        else:
            typed = f"{float(curve.beyond_ohm(asked_c)):.9f}"
            mark = mark_resistance(typed, drill=drill, curve=curve)
        assert mark.right is right, (drill, share)
        assert mark.off_k == pytest.approx(share * limit_k, abs=0.01)


def test_the_verdict_is_that_of_judge(drills, notes):
    names = ("within", "outside", "undecided", "open", "short")
    sensors = {sensor.id: sensor for sensor in notes.sensors}
    meters = {meter.name: meter for meter in notes.meters}
    probes = {probe.name: probe for probe in notes.thermometers}
    met: Counter[str] = Counter()
    for drill in drills["verdict"]:
        given = drill.given[0].figures
        tools = Tools(
            meter=meters[given["meter"]],
            thermometer=probes.get(str(given["thermometer"])),
            placement=given["how"].id.removeprefix("drill.how-"),
        )
        sensor = sensors[drill.about.removeprefix("sensors/")]
        verdict = judge(
            notes.curves[drill.curve_id],
            measured=tools.take(drill.figures["shown_ohm"], t_c=drill.figures["t_c"]),
            allow_k=sensor.allow_k,
            short_ohm=notes.short_ohm,
        )
        assert names[drill.right[0]] == verdict.verdict
        marks = [mark_choice(place, drill=drill).right for place in range(len(names))]
        assert marks.count(True) == 1
        met[verdict.verdict] += 1
    assert min(met[name] for name in names) > 80, met


def test_an_order_that_passes_is_the_notes_own_and_no_other(drills):
    codes = CATALOG.all(Code)
    rng = np.random.default_rng(5)
    for drill in drills["order"]:
        code = codes[drill.about.removeprefix("codes/")]
        ranked = rank_suspects(code, cases=CATALOG.cases_of(code)).suspects
        shares = [row.share for row in ranked[: len(drill.choices)]]
        assert [drill.choices[i].figures["part_share"] for i in drill.right] == shares
        worth = [c.figures["part_share"] / c.figures["minutes"] for c in drill.choices]
        order = [int(i) for i in rng.permutation(len(worth))]
        best = all(worth[a] >= worth[b] - 1e-12 for a, b in itertools.pairwise(order))
        assert mark_order(list(drill.right), drill=drill).right
        assert mark_order(order, drill=drill).right is best


def test_a_display_is_read_by_its_own_accuracy(drills, notes):
    meters = {f"instruments/{meter.id}": meter.meter for meter in notes.meters}
    shows = set()
    for drill in drills["meter"]:
        meter, (shown, sign) = meters[drill.about], drill.shown
        r_ohm = drill.figures["shown_ohm"]
        if math.isinf(r_ohm):
            shows.add(shown)
            assert mark_display("OL", half="", drill=drill).right
            assert not mark_display("1", half="1", drill=drill).right
            continue
        typed, half_ohm = f"{shown}{sign[:-1]}", float(meter.half_width_ohm(r_ohm))
        assert drill.figures["half_ohm"] == pytest.approx(half_ohm)
        assert mark_display(typed, half=f"{half_ohm:.6g}", drill=drill).right
        assert not mark_display(typed, half=f"{half_ohm * 1.2:.6g}", drill=drill).right
        other = f"{r_ohm + meter.digit_ohm(r_ohm):.9g}"
        assert not mark_display(other, half=f"{half_ohm:.6g}", drill=drill).right
    # Each meter its own way.
    assert shows == {"OL", "1"}


def test_no_choice_beside_the_right_one_is_right_as_well(drills):
    """Asked of the entries themselves, and not of what the drills were made from."""
    codes, parts, families = CATALOG.all(Code), CATALOG.all(Part), CATALOG.all(Family)
    for kind in ("blinks", "place", "plug", "safe", "kills"):
        for drill in drills[kind]:
            if drill.form == "order":
                continue
            chosen = [bare(str(choice.figures["words"])) for choice in drill.choices]
            assert len(set(chosen)) == len(chosen) >= 2
            right = chosen.pop(drill.right[0])
            id_ = drill.about.partition("/")[2]
            if kind == "blinks":
                shown = (drill.figures["long"], drill.figures["short"])
                alike = {
                    bare(code.name)
                    for code in codes.values()
                    for way in code.shown
                    if code.family == drill.family
                    and way.blinks
                    and (way.blinks.long, way.blinks.short) == shown
                }
                assert not any(name in choice for name in alike for choice in chosen)
            elif kind == "kills":
                assert right in map(bare, parts[id_].rule_out)
                assert not set(chosen) & set(map(bare, parts[id_].rule_out))
            elif kind == "safe":
                family = families[id_]
                assert right in (bare(family.supply.isolate_at), bare(f"{family.drain_min:g}"))


def test_no_drill_gives_its_own_answer_away(drills):
    spoken_ways = {
        code.id: [spoken(way) for way in code.shown if way.blinks]
        for code in CATALOG.all(Code).values()
    }
    for kind in ("blinks", "place", "plug", "safe", "kills"):
        for drill in drills[kind]:
            asked = words_of(drill)
            for place in drill.right if drill.form != "order" else ():
                answer = str(drill.choices[place].figures["words"])
                assert not re.search(rf"(?<!\w){re.escape(answer)}(?!\w)", asked), drill
            if kind == "blinks":
                ways = spoken_ways[drill.about.removeprefix("codes/")]
                text = asked + " ".join(str(c.figures["words"]) for c in drill.choices)
                assert not any(way in text for way in ways), drill
    for drill in (*drills["ohm"], *drills["temperature"]):
        figures = [part.figures for part in (drill.ask, *drill.given)]
        assert ("r_ohm" in figures[0]) != ("t_c" in figures[0])


@pytest.mark.parametrize("language", ["english", "german"])
def test_everything_that_a_drill_says_has_words(drills, language):
    with speaking(language):
        for found in drills.values():
            for drill in found[:60]:
                for part in (drill.ask, *drill.given, *drill.choices, *drill.because):
                    assert sentence(part)


@pytest.mark.parametrize("long", range(4))
@pytest.mark.parametrize("short", range(1, 8))
def test_no_lamp_flashes_more_than_three_times_in_any_second(long, short):
    """Counted in every second of it, round after round, however fast the machine is."""
    pace = Pace(long_s=0.3, short_s=0.05, dark_s=0.05, pause_s=0.2)
    bars = lamp_bars(long, short=short, pace=pace)
    starts_s = np.cumsum([0.0, *(lit + dark for lit, dark in bars * 6)])[:-1]
    within = np.searchsorted(starts_s, starts_s + 1.0, side="left") - np.arange(len(starts_s))
    assert within.max() <= MOST_FLASHES_HZ
    assert len(bars) == long + short
    lit = [on_s for on_s, _ in bars]
    assert lit[:long] == [bars[0][0]] * long and (not long or lit[0] > 2 * lit[-1])


def test_a_pace_that_eyes_can_bear_is_the_machines_own():
    pace = Pace(long_s=1.5, short_s=0.4, dark_s=0.5, pause_s=3)
    assert lamp_bars(1, short=2, pace=pace) == ((1.5, 0.5), (0.4, 0.5), (0.4, 3.0))


def test_a_drill_is_made_again_on_what_is_due(pool):
    for kind in KINDS:
        subject = pool.about(kind)[0]
        assert pool.drill(subject, kind=kind, draw=Seeded(5)).about.endswith(subject.id)


def test_notes_of_one_family_and_no_meter_still_have_drills(notes):
    bare_notes = dataclasses.replace(
        notes, families=notes.families[:1], meters=(), codes=(), parts=(), pins={}
    )
    kinds = {drill.kind for drill in DrillPool(bare_notes).drills(seed=3)}
    assert kinds == {"ohm", "temperature", "plug", "safe"}
    nothing = dataclasses.replace(bare_notes, families=(), sensors=())
    assert DrillPool(nothing).drills(seed=3) == []


def test_a_code_with_the_same_blinks_and_a_proof_that_is_a_killer_are_no_choices(notes):
    """The demo has neither, so that its thousand seeds say nothing of it."""
    code, *others = (code for code in notes.codes if code.lamps)
    twin = dataclasses.replace(others[0], family=code.family, lamps=code.lamps, name="Z9: the twin")
    plain = [
        dataclasses.replace(other, family=code.family)
        for other in others
        if other.lamps[0].long != code.lamps[0].long
    ][:2]
    part = dataclasses.replace(
        notes.parts[0],
        kills=("Look at A.", "C kills"),
        afterwards=("look at a", "Look at B"),
        families=("f",),
    )
    few = dataclasses.replace(notes, codes=(code, twin, *plain), parts=(part,))
    chosen = {
        choice.figures["words"]
        for seed in range(40)
        for drill in DrillPool(few).drills(seed=seed, kind="blinks")
        if drill.about == f"codes/{code.id}"
        for choice in drill.choices
    }
    assert code.name in chosen and twin.name not in chosen
    wrong = {
        choice.figures["words"]
        for drill in DrillPool(few).drills(seed=1, kind="kills")
        for place, choice in enumerate(drill.choices)
        if place not in drill.right
    }
    assert wrong == {"Look at B"}


def test_a_lesson_can_name_each_drill_there_is_and_no_other() -> None:
    """The model may not ask the floor of answers, so both lists are written: they are one."""
    assert get_args(Practise.model_fields["drill"].annotation) == KINDS
