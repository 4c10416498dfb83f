"""What the trade calls the fields: the first word is the column's name, the others are understood.

A field that is not named here gets its name from its own; `derived_name` says how.
"""

from __future__ import annotations

from collections.abc import Mapping

Way = tuple[str | int, ...]

ALL_KINDS: Mapping[str, str] = {
    "name": "name | title of the entry | called | description",
    "aka": "also called | aka | other names | alias",
    "source": "source | from | document | datasheet | data sheet | reference",
    "checked.by": "checked by | verified by",
    "checked.on": "checked on | verified on | date checked",
    "family": "family | unit | model",
    "pinned.drawing": "drawing | sketch | picture",
    "pinned.pin": "pin on drawing | drawing pin | position",
    "order": "order text | order | order number | part number | part no | spare part",
    "methods": "methods | method | how to test",
    "cautions": "cautions | caution | warning | hazards",
    "is_a": "what it is | is a | sort",
    "does": "what it does | does | purpose | function",
}
"""Field → names, for every kind that has the field."""

OF_KIND: Mapping[str, Mapping[str, str]] = {
    "sources": {
        "title": "title | document title",
        "publisher": "publisher | published by | issuer",
        "edition": "edition | revision | document number | issue",
        "where": "where in it | page | pages",
        "practice": "practice | common practice",
    },
    "families": {
        "maker": "maker | manufacturer | brand | make",
        "plate": "on the plate | type plate | plate | type designations | types",
        "supply.volts": "supply | supply voltage | voltage | volts",
        "supply.isolate_at": "isolate at | isolator | isolated at | lock off at",
        "drain_min": "minutes to drain | drain minutes | wait minutes | discharge time",
        "drained_below_v": "drained below V | drained below | safe below V",
        "drain_at": "measure drain at | drain at | discharge measured at",
        "charge_v": "charge V | stored volts",
        "no_charge": "why no charge | no charge",
        "controllers.#.name": "controller | display | lamp",
        "controllers.#.shows": "controller shows | shows",
        "controllers.#.ask": "how to ask | ask",
        "drawings": "drawings",
    },
    "curves": {
        "law": "law | formula | equation",
        "range_c.0": "coldest °C | coldest | from °C | lowest °C",
        "range_c.1": "hottest °C | hottest | to °C | highest °C",
        "tolerance.r_percent": "tolerance % | ± % | r tolerance",
        "tolerance.b_percent": "B tolerance %",
        "tolerance.b_k": "B of the tolerance",
        "tolerance.platinum_class": "class | platinum class",
        "tolerance.kelvin": "tolerance K | ± K",
        "r_ref": "R25 | resistance at 25 °C | r ref | nominal resistance",
        "b_k": "B | B value | beta | B25/85",
        "r0": "R0 | resistance at 0 °C",
    },
    "sensors": {
        "label": "label | tag | designation | mark on diagram | sensor",
        "senses": "senses | measures | what it measures",
        "place": "place | where | location | where it sits | mounted at",
        "plug.board": "board | on board | controller board",
        "plug.mark": "plug | socket | connector | terminal | plug mark",
        "plug.pins": "pins | pin numbers | terminals",
        "plug.colour": "colour | color | wire colour | plug colour",
        "reach": "reach | access | how easy",
        "reach_how": "how to reach | how to get there",
        "curve": "curve | sensor type | characteristic | element | type",
        "meets_c.0": "coldest °C | coldest | lowest °C | min °C | from °C",
        "meets_c.1": "hottest °C | hottest | highest °C | max °C | to °C",
        "allow_k": "allowed K | machine allows K | allowed error",
        "rests_with": "rests with | at rest like",
        "when_open": "when open | if open | open circuit",
        "when_short": "when short | if short | short circuit",
        "healthy.#.when": "healthy when | state",
        "healthy.#.reads": "healthy reads | reads | should read",
        "board_input.supply_v": "board supply V | supply V",
        "board_input.pull_up_ohm": "pull-up Ω | pull-up",
        "untestable.why": "why no test | why untestable",
        "untestable.instead": "test instead | instead",
        "when_good": "when good | if good",
        "when_bad": "when bad | if bad | replace",
    },
    "codes": {
        "shown.#.text": "shown | code | fault code | error code | display shows | text",
        "shown.#.where": "shown on | where shown | display",
        "shown.#.blinks.lamp": "lamp | led",
        "shown.#.blinks.long": "long blinks | long flashes | long",
        "shown.#.blinks.short": "short blinks | blinks | flashes | short flashes | short",
        "shown.#.asked": "number when asked | asked | history number",
        "stops": "machine then | what the machine does | stops",
        "meaning": "meaning | means | fault | description of fault",
        "trip.#.sensor": "trip sensor",
        "trip.#.below_c": "trips below °C",
        "trip.#.above_c": "trips above °C",
        "trip.#.below_ohm": "trips below Ω",
        "trip.#.above_ohm": "trips above Ω",
        "trip.#.for_s": "trips after s",
        "trip.#.off_k": "trips off by K",
        "trip.#.words": "trip rule | trips when",
        "ask": "how to ask | ask",
        "suspects.#.thing": "suspect | cause | possible cause | accuses",
        "suspects.#.share": "share | weight | how likely",
        "suspects.#.minutes": "minutes | minutes to check | time",
        "suspects.#.method": "method | how to check",
        "suspects.#.look_for": "look for | sign",
        "suspects.#.live": "live | checked live",
        "suspects.#.when_good": "then if good",
        "suspects.#.when_bad": "then if bad",
        "suspects.#.when_open": "then if open",
        "suspects.#.when_short": "then if short",
        "rule_out": "rule out | rule out first",
        "clear": "clear | reset | how to clear | how to reset",
        "afterwards": "afterwards | watch afterwards | after repair",
    },
    "parts": {
        "families": "families | family | machine | unit | model",
        "is_a": "what it is | is a | sort | type",
        "dear": "dear | expensive",
        "windings.pairs": "windings | winding | winding resistances | lead pairs",
        "windings.at_c": "windings at °C",
        "windings.connection": "connection | joined as",
        "windings.balance_percent": "balance %",
        "insulation.min_ohm": "least insulation Ω | insulation | minimum insulation",
        "insulation.test_v": "insulation test V | test voltage",
        "insulation.rated_v": "rated V | rated voltage",
        "insulation.disconnect": "disconnect first | disconnect",
        "rule_out": "rule out | what kills a new one",
        "labour_min": "minutes to replace | labour minutes | labour",
        "replace": "how to replace | steps",
        "settings.#.what": "setting",
        "settings.#.is_a": "setting sort",
        "settings.#.mark": "setting mark",
        "settings.#.choices": "setting choices",
        "settings.#.note": "setting note",
        "refit.#.what": "goes back | refit",
        "refit.#.is_a": "goes back sort",
        "refit.#.mark": "goes back mark",
        "refit.#.count": "goes back count",
        "refit.#.note": "goes back note",
        "prove.#.what": "proof | prove",
        "prove.#.must": "proof must | must then be",
        "prove.#.sensor": "proof sensor",
        "prove.#.watch_min": "proof minutes",
    },
    "instruments": {
        "resistance.#.span": "range up to | span",
        "resistance.#.resolution": "one digit | resolution",
        "resistance.#.percent": "± % of reading",
        "resistance.#.digits": "± digits",
        "temperature.accuracy_k": "accuracy K",
        "temperature.resolution_k": "resolution K",
        "temperature.range_c.0": "coldest °C | coldest | from °C",
        "temperature.range_c.1": "hottest °C | hottest | to °C",
        "insulation.#.volts": "test V | test voltage",
        "insulation.#.max_ohm": "shows up to Ω | shows up to",
        "insulation.#.percent": "insulation ± %",
        "rated.category": "category | measuring category",
        "rated.volts": "rated V | rated voltage",
    },
    "lessons": {
        "order": "place in Learn | order",
        "read.#.entry": "page",
        "read.#.why": "why",
        "steps.#.read": "page to read",
        "steps.#.why": "what to take from it",
    },
    "terms": {"means": "means | meaning | definition", "see": "see also | see"},
    "cases": {
        "on": "on | date | day | when",
        "by": "by | who | initials",
        "code": "code | fault code | shown",
        "machine": "which machine | machine",
        "found": "found | what was found | story",
        "readings.#.sensor": "reading of | sensor read",
        "readings.#.r": "reading Ω | reading | it read",
        "readings.#.t_c": "reading at °C | at °C",
        "readings.#.how": "reading temperature by | taken by",
        "readings.#.meter": "reading with | meter",
        "readings.#.thermometer": "reading thermometer | thermometer",
        "readings.#.after": "reading before or after | before or after",
        "measured": "also measured | other measurements",
        "cause.sensor": "cause: sensor | faulty sensor",
        "cause.part": "cause: part | faulty part",
        "cause.what": "cause: else | cause | what it was",
        "cure": "cure | what was done | repair | remedy",
        "minutes": "minutes | minutes on site | duration",
        "learnt": "learnt | lesson | what to know",
        "photos.#.file": "photo | photo file",
        "photos.#.of": "photo shows | photo of",
    },
    "drawings": {"described": "described | description of the drawing", "pins": "pins | pin"},
    "methods": {"judge": "how to judge | judge", "live": "dead or live | live"},
}
"""Kind → field → names. `#` stands for the number of an item, which follows: `suspect 2`."""

_UNITS = {"c": "°C", "k": "K", "ohm": "Ω", "v": "V", "min": "minutes", "percent": "%", "s": "s"}


def names_of(kind: str, *, field: str) -> list[str]:
    """Return what a field of a kind is called, its column's name first."""
    words = OF_KIND.get(kind, {}).get(field) or ALL_KINDS.get(field) or derived_name(field)
    return [name.strip() for name in words.split("|")]


def derived_name(field: str) -> str:
    """Return a name made of the field's own: `input.supply_v` gives `input supply V`."""
    words = []
    for step in field.split("."):
        if step == "#":
            continue
        if step in ("0", "1"):
            words.append("from" if step == "0" else "to")
            continue
        *before, last = step.split("_")
        words += [*before, _UNITS.get(last, last) if before else last]
    return " ".join(words)
