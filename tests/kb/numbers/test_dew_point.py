"""Where water condenses: held to printed tables, and to the saturation that it solves."""

from __future__ import annotations

import math

import pytest

from kb.numbers.dew_point import HIGH_C, LOW_C, MARGIN_K, dew_point_c, surface_state


@pytest.mark.published("dew_point")
def test_it_is_the_dew_point_of_the_tables(sheet):
    for air_c, humidity, printed_c in sheet.fields["rows"]:
        found_c = dew_point_c(air_c, humidity_percent=humidity)
        assert found_c == pytest.approx(printed_c, abs=0.05 + 1e-9), (air_c, humidity)


@pytest.mark.parametrize("air_c", [-45.0, -10.0, 0.0, 23.0, 60.0])
@pytest.mark.parametrize("humidity", [1.0, 40.0, 99.0, 100.0])
def test_at_the_dew_point_the_vapour_that_there_is_saturates(air_c, humidity):
    def saturated_hpa(t_c: float) -> float:
        return 6.112 * math.exp(17.62 * t_c / (243.12 + t_c))

    dew_c = dew_point_c(air_c, humidity_percent=humidity)
    assert saturated_hpa(dew_c) == pytest.approx(humidity / 100 * saturated_hpa(air_c))
    assert dew_c <= air_c + 1e-9


def test_saturation_itself_is_that_of_steam_tables():
    # 23.37 hPa at 20 °C and 12.27 hPa at 10 °C (steam tables, from memory).
    ratio = math.exp(17.62 * 20 / 263.12) / math.exp(17.62 * 10 / 253.12)
    assert ratio == pytest.approx(23.37 / 12.27, rel=0.002)


@pytest.mark.parametrize(
    ("air_c", "humidity"), [(LOW_C - 0.1, 50), (HIGH_C + 0.1, 50), (20, 0), (20, 100.1), (20, -1)]
)
def test_there_is_no_dew_point_of_such_air(air_c, humidity):
    with pytest.raises(ValueError, match=r"^no dew point of such air$"):
        dew_point_c(air_c, humidity_percent=humidity)


@pytest.mark.parametrize(
    ("surface_c", "state"),
    [(9.0, "wet"), (10.0, "wet"), (10.1, "near"), (12.9, "near"), (13.0, "dry"), (30.0, "dry")],
)
def test_a_surface_is_wet_to_the_dew_point_and_near_it_for_three_kelvin(surface_c, state):
    assert MARGIN_K == 3.0
    assert surface_state(surface_c, dew_c=10.0) == state
