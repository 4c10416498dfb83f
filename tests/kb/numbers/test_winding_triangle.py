"""Which pair of three stands apart, and the lead that the others share: phases solved by hand."""

from __future__ import annotations

import pytest

from kb.numbers.winding_triangle import PHASE_TIMES, PairApart, pair_apart


def star(u: float, v: float, w: float) -> dict[str, float]:
    """Return what three windings in a star read between their leads."""
    return {"U-V": u + v, "V-W": v + w, "W-U": w + u}


def delta(uv: float, vw: float, wu: float) -> dict[str, float]:
    """Return what three windings in a delta read: each in parallel with the two others in a row."""
    around = uv + vw + wu
    return {
        "U-V": uv * (vw + wu) / around,
        "V-W": vw * (wu + uv) / around,
        "W-U": wu * (uv + vw) / around,
    }


def test_shorted_turns_of_a_star_leave_the_sound_pair_high():
    # 2.30, 2.42 and 2.30 Ω: U is 1.09 Ω where V and W are 1.21.
    readings = star(1.09, 1.21, 1.21)
    assert readings == pytest.approx({"U-V": 2.30, "V-W": 2.42, "W-U": 2.30})
    assert pair_apart(readings) == PairApart(pair="V-W", high=True, lead="U")


def test_a_bad_joint_of_a_star_leaves_the_sound_pair_low():
    assert pair_apart({"U-V": 1.42, "V-W": 1.43, "W-U": 1.02}) == PairApart(
        pair="W-U", high=False, lead="V"
    )


@pytest.mark.parametrize(("vw", "high"), [(2.0, False), (4.0, True)])
def test_in_a_delta_the_pair_apart_is_the_winding_itself(vw, high):
    apart = pair_apart(delta(3.0, vw, 3.0))
    assert apart is not None
    assert (apart.pair, apart.high, apart.lead) == ("V-W", high, "U")


def test_of_two_faults_nobody_is_named():
    assert pair_apart({"U-V": 1.0, "V-W": 1.2, "W-U": 1.4}) is None
    assert pair_apart({"U-V": 1.0, "V-W": 1.0, "W-U": 1.0}) is None


@pytest.mark.parametrize(
    "readings",
    [
        {"U-V": 1.0, "V-W": 2.0},
        {"U1-U2": 1.0, "V1-V2": 1.0, "W1-W2": 2.0},
        {"A-B": 1.0, "A-C": 1.0, "A-D": 2.0},
        {"A-B": 1.0, "B-A": 1.0, "A-C": 2.0},
    ],
)
def test_only_three_pairs_of_three_leads_are_a_triangle(readings):
    assert pair_apart(readings) is None


@pytest.mark.parametrize("joined", [star, delta])
@pytest.mark.parametrize("off_share", [-0.09, 0.09])
def test_a_limit_on_the_pairs_is_three_times_that_on_one_winding(joined, off_share):
    readings = joined(1.0, 1.0 + off_share, 1.0)
    mean_ohm = sum(readings.values()) / 3
    worst = max(abs(r_ohm / mean_ohm - 1) for r_ohm in readings.values())
    assert worst * PHASE_TIMES == pytest.approx(abs(off_share), rel=0.07)
