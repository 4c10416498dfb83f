"""Another reading of the same sensor on the command line: `8.1k at 25 strapped with METER`."""

from __future__ import annotations

import re
from dataclasses import replace

from kb.answers.instruments import Tools
from kb.answers.reading_earlier import EarlierReading
from kb.answers.statement import Refusal
from kb.answers.typed import placed_temperature, typed_reading_ohm
from kb.catalog import Catalog
from kb.facts import named_meter
from kb.numbers.placement import PLACEMENTS

from .instruments_used import meter_entry
from .options import NotUnderstood, refused

_WRITTEN = re.compile(
    rf"(?P<reading>.+?)\s+at\s+(?P<at>\S+(?: ?°?[CF])?)"
    rf"(?:\s+(?P<placement>{'|'.join(PLACEMENTS)}))?(?:\s+with\s+(?P<meter>\S+))?",
    re.IGNORECASE,
)


def other_reading(text: str, *, tools: Tools, catalog: Catalog) -> EarlierReading:
    """Return what was written as another reading; taken with `tools` where it does not say.

    Raises
    ------
    NotUnderstood
        When it is not written so, or names a meter that there is not.
    """
    written = _WRITTEN.fullmatch(text.strip())
    if written is None:
        raise NotUnderstood(
            f"'{text}' is not another reading; write '8.1k at 25', '8.1k at 25 strapped' or "
            "'8.1k at 25 with METER'"
        )
    if written["placement"]:
        tools = replace(tools, placement=written["placement"].lower(), placement_assumed=False)
    if written["meter"]:
        tools = replace(tools, meter=named_meter(meter_entry(written["meter"], catalog=catalog)))
    try:
        typed_reading_ohm(written["reading"], field="reading")
        placed_temperature(written["at"], field="at", placement=tools.placement)
    except Refusal as refusal:
        raise refused(refusal, at=written["at"]) from None
    return EarlierReading(reading=written["reading"], at=written["at"], tools=tools)
