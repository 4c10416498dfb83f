"""What a part's rated voltage asks of its insulation test: the volts, and the least value."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class RatedTest:
    """The test that a standard has for a rated voltage.

    Parameters
    ----------
    most_v : float
        Direct test volts.
    least_ohm : float
        No sound part reads less, in Ω.
    volts_source, ohm_source : str
        Whose they are.
    """

    most_v: float
    least_ohm: float
    volts_source: str
    ohm_source: str


IEC_60364 = "IEC 60364-6, Table 6.1"
IEEE_43 = "IEEE 43-2013, Table 1"


def rated_test(rated_v: float, *, wound: bool) -> RatedTest:
    """Return the test for a part of so many rated volts.

    Parameters
    ----------
    rated_v : float
        Volts between lines, r.m.s., up to 2500.
    wound : bool
        Whether it is a motor's winding: above extra-low voltage its test volts are then
        IEEE 43's.

    Source: IEC 60364-6, Table 6.1: 250 V and 0.5 MΩ for extra-low voltage, 500 V and 1 MΩ up to
    500 V, 1000 V and 1 MΩ above; IEEE 43-2013, Table 1: 500 V below 1000 V rated, 500 to 1000 V up
    to 2500 V. Both from memory.
    """
    extra_low = rated_v <= 50
    installation_v = 250.0 if extra_low else 500.0 if rated_v <= 500 else 1000.0
    machine = wound and not extra_low
    machine_v = 500.0 if rated_v < 1000 else 1000.0
    return RatedTest(
        most_v=machine_v if machine else installation_v,
        least_ohm=0.5e6 if extra_low else 1e6,
        volts_source=IEEE_43 if machine else IEC_60364,
        ohm_source=IEC_60364,
    )
