"""Whether an insulation reading is of a wet surface: what was seen there, and the dew point."""

from __future__ import annotations

import re
from dataclasses import dataclass

from kb.numbers.dew_point import HIGH_C, LOW_C, MARGIN_K, dew_point_c, surface_state

from .statement import Refusal, Statement
from .typed import typed_temperature

_HUMIDITY = re.compile(r"(\d+(?:[.,]\d*)?) ?%?", re.ASCII)


@dataclass(frozen=True, kw_only=True)
class Damp:
    """What is known of the surface and of the air.

    Parameters
    ----------
    air_c, humidity_share, dew_c : float or None
        °C, a share, °C; None where not typed, and all where one is missing.
    surface : str
        "seen" to be wet or dirty, "wet" or "near" by the dew point, "dry"; "" where nobody knows.
    """

    air_c: float | None = None
    humidity_share: float | None = None
    dew_c: float | None = None
    surface: str = ""

    @property
    def doubtful(self) -> bool:
        """Whether water or dirt on the surface may be what was read."""
        return self.surface in ("seen", "wet", "near")


def typed_damp(
    *, air: str, humidity: str, surface: str, unit: str, winding_c: float | None
) -> Damp:
    """Return what was typed of air and surface.

    Parameters
    ----------
    air, humidity : str
        Temperature and relative humidity, both or neither: one alone tells nothing.
    surface : str
        "wet", "dry", or "" where nobody looked.
    winding_c : float or None
        °C; without it only what was seen is known.

    Raises
    ------
    Refusal
        Where one cannot be read, or there is no such air.
    """
    air_c = typed_temperature(air, field="air", unit=unit).t_c if air.strip() else None
    percent = _typed_humidity(humidity) if humidity.strip() else None
    if air_c is not None and not LOW_C <= air_c <= HIGH_C:
        figures = {"air_c": air_c, "low_c": LOW_C, "high_c": HIGH_C}
        raise Refusal(Statement(id="insulation.no-such-air", figures=figures), field="air")
    seen = {"wet": "seen", "dry": "dry"}.get(surface, "")
    if air_c is None or percent is None:
        return Damp(surface=seen)
    dew_c = dew_point_c(air_c, humidity_percent=percent)
    by_dew = "" if winding_c is None else surface_state(winding_c, dew_c=dew_c)
    return Damp(
        air_c=air_c,
        humidity_share=percent / 100,
        dew_c=dew_c,
        surface=seen if seen == "seen" or (by_dew in ("", "dry") and seen) else by_dew,
    )


def _typed_humidity(text: str) -> float:
    found = _HUMIDITY.fullmatch(text.strip())
    percent = float(found[1].replace(",", ".")) if found else 0.0
    if not 0 < percent <= 100:
        statement = Statement(id="insulation.no-humidity", figures={"typed": text.strip()})
        raise Refusal(statement, field="humidity")
    return percent


def damp_notes(damp: Damp, *, wound: bool, winding_c: float | None) -> list[Statement]:
    """Return the dew point and by which formula; what it waits for."""
    if damp.dew_c is None:
        return []
    figures: dict[str, object] = {
        "dew_c": damp.dew_c,
        "air_c": damp.air_c,
        "humidity_share": damp.humidity_share,
        "margin_k": MARGIN_K,
    }
    found = [Statement(id="insulation.dew", figures=figures)]
    if wound and winding_c is None:
        found.append(Statement(id="insulation.dew-waits"))
    return found


def damp_headline(damp: Damp, *, figures: dict[str, object]) -> Statement:
    """Return what a reading that is too little says where its surface is wet."""
    return Statement(
        id=f"insulation.outside-{damp.surface}",
        figures={**figures, "dew_c": damp.dew_c, "margin_k": MARGIN_K},
    )
