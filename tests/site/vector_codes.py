"""Codes and blinks as people write them: every way that we know, and every slip beside it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kb.answers.blinks import COUNT_WORDS, FILLERS, BlinkPattern, read_blinks
from kb.answers.code_lookup import CodeQuestion, CodesFound, KnownCode, ShownWay, find_codes
from kb.answers.family_words import FamiliesNamed, KnownNames, families_named
from kb.answers.normal_form import look_of, normal_form, one_slip, words_of
from kb.numbers.grid import Grid

from .page_names import page_names
from .vector_readings import one_of

COUNTS_IN_WORDS = {count: word for word, count in reversed(COUNT_WORDS.items())}
COUNTS_IN_GERMAN = {count: word for word, count in COUNT_WORDS.items() if word != "eins"}
SIXTEEN = (
    "{l} long {s} short",
    "{l}L{s}S",
    "{l}l {s}s",
    "L{l}S{s}",
    "{l}-{s}",
    "{l} {s}",
    "{l}/{s}",
    "{l}x long {s}x short",
    "{l} × long, {s} × short",
    "{lw} long {sw} short",
    "{dashes} {dots}",
    "{s} short, {l} long",
    "long {l}, short {s}",
    "{longs} {shorts}",
    "flashes {l} long and {s} short",
    "{l} long, then {s} short, a pause, and again",
)
"""Ways to write a pattern of both kinds."""
OTHERWISE = (
    "{l}–{s}", "{l} — {s}", "{l}.{s}", "{l},{s}", "{l}+{s}", "{l} & {s}", "{lw} {sw}", "{lw}-{sw}",
    "lamp {l}-{s}", "unit {l} {s}", "controller {lw} {sw}", "H1 {l} long {s} short", "{l} long {s} short (H3 on the unit board)",
    "the red lamp: {l} longs, {s} shorts!", "{l}xlong {s}xshort", "{l}-long-{s}-short",
    "{l} lang {s} kurz", "{l}L{s}K", "{s}k, {l}l", "{lg}mal lang, {sg}mal kurz", "Gerät: {l}mal lange {s}mal kurze",
    "die rote Lampe blinkt {l}x lang, dann {s}x kurz", "{lg} lange und {sg} kurze Impulse", "L{l} K{s}",
)  # fmt: skip
NO_BLINKS = ("L{l} K{s}",)
"""Of these: K5 is what a relay or a code is called, so nobody takes it for five short."""
ONE_KIND = (
    "{n}", "{n}x", "{n} ×", "x{n}", "{n} blinks", "{nw} blinks", "flashes {n} times", "0{n}",
    "the lamp blinks {n} times", "{n} short", "{n}S", "s{n}", "0-{n}", "{n} long", "{n}L",
    "{n} long 0 short", "{n}{n}", "blinks {n}2", "board {n}", "unit {n}{n}", "12", "{n}1 blinks", "{dots}", "{dashes}", "{n} A", "H{n}", "K{n}-2", "{n} amp short",
    "blinkt {n} mal", "Lampe grün: {ng}mal", "{n} kurze", "{n}mal lang", "Platine {n}", "Gerät {ng}", "{n}k", "Fehler {n}",
)  # fmt: skip
UNREADABLE = (
    "", " ", "short", "long", "short circuit", "0", "0-0", "21", "99 long", "2 long 3 long", "1:30",
    "2 long short 4", "2-4-6", "4 5 6 short", "2%4", "-", "--", ".", "open", "02", "20-20", "21-1",
    "kurz", "Kurzschluss", "lang lang kurz", "4L4L", "0L12K", "langmal 2", "mal", "constructor", "toString 3", "long long", "l s", "ss", "…", "1e3",
)  # fmt: skip
TEXTS = (
    "K4-2", "K1-2", "K42", "NO", "ON", "012", "12", "02E", "O2E", "1E3", "1:30", "C-01", "CO1", "--",
    "-", "24", "42", "0P1", "S5", "5b", "I1", "Füße", "T2℃", "Ω3", "º", "3×4", "ΟΔΟΣ", "É2", "K²",
)  # fmt: skip
NAMES = (
    "Marl RT rooftop heat pump", "RT 045", "RT-045", "Orrin wall split", "red lamp", "unit", "long board",
    "Tarn CR cold room set", "2000", "Kälte Süd", "K4 chiller", "water-cooled", "four seasons", "",
)  # fmt: skip
WIDE = str.maketrans({chr(sign): chr(sign + 0xFEE0) for sign in range(0x21, 0x7F)})


def _dressed(rng: np.random.Generator, text: str) -> str:
    """Return a text as another hand and another keyboard leave it."""
    how = one_of(rng, ("", "", "upper", "title", "wide", "dash", "spaces", "thin"))
    dressed = {
        "": text,
        "upper": text.upper(),
        "title": text.title(),
        "wide": text.translate(WIDE),
        "dash": text.replace("-", one_of(rng, "‐–—−﹣－‑")),
        "spaces": f"  {text.replace(' ', '   ')} ",
        "thin": text.replace(" ", one_of(rng, "\u00a0\u2009\u202f\u3000\t")),
    }
    return str(dressed[str(how)])


def written(rng: np.random.Generator, pattern: BlinkPattern, *, way: str) -> str:
    """Return a pattern of both kinds, written in one of the ways."""
    long, short = pattern.long, pattern.short
    return way.format(
        l=long,
        s=short,
        lw=COUNTS_IN_WORDS.get(long, long),
        sw=COUNTS_IN_WORDS.get(short, short),
        lg=COUNTS_IN_GERMAN.get(long, long),
        sg=COUNTS_IN_GERMAN.get(short, short),
        dashes=str(one_of(rng, "-–_—")) * long,
        dots=str(one_of(rng, ".•·*")) * short,
        longs=" ".join(["long"] * long),
        shorts=" ".join(["short"] * short),
    )


def _counted(rng: np.random.Generator, count: int) -> str:
    return str(one_of(rng, ONE_KIND)).format(
        n=count,
        nw=COUNTS_IN_WORDS.get(count, count),
        ng=COUNTS_IN_GERMAN.get(count, count),
        dots="." * count,
        dashes="-" * count,
    )


def _some_pattern(rng: np.random.Generator) -> BlinkPattern:
    most = int(one_of(rng, (5, 9, 9, 22)))
    return BlinkPattern(long=int(rng.integers(1, most)), short=int(rng.integers(1, most)))


def _some_blinks(rng: np.random.Generator) -> str:
    what = rng.random()
    if what < 0.6:
        way = str(one_of(rng, (*SIXTEEN, *SIXTEEN, *OTHERWISE)))
        return _dressed(rng, written(rng, _some_pattern(rng), way=way))
    if what < 0.8:
        return _dressed(rng, _counted(rng, int(rng.integers(0, 22))))
    if what < 0.9:
        return str(one_of(rng, UNREADABLE))
    pieces = ("2", "4", "07", "long", "short", "l", "s", "x", "×", "-", " ", ", ", "H1", *FILLERS)
    return "".join(str(one_of(rng, (*pieces, " "))) for _ in range(int(rng.integers(1, 7))))


def _slipped(rng: np.random.Generator, text: str) -> str:
    """Return a text with a sign wrong, missing, extra or swapped; or two of them."""
    for _ in range(int(one_of(rng, (0, 1, 1, 1, 2)))):
        i = int(rng.integers(0, len(text) + 1))
        how = str(one_of(rng, ("wrong", "missing", "extra", "swapped")))
        text = {
            "wrong": f"{text[:i]}{one_of(rng, 'kK47oO0sS5 -')}{text[i + 1 :]}",
            "missing": text[:i] + text[i + 1 :],
            "extra": f"{text[:i]}{one_of(rng, 'kK47iI1bB8')}{text[i:]}",
            "swapped": text[:i] + text[i : i + 2][::-1] + text[i + 2 :],
        }[how]
    return text


def spelling(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """A text, and the same or another one with a slip."""
    text = _dressed(rng, str(one_of(rng, TEXTS)))
    other = _slipped(rng, text if rng.random() < 0.8 else str(one_of(rng, TEXTS)))

    def answer() -> dict[str, object]:
        form = normal_form(text)
        slip = one_slip(form, other=normal_form(other))
        return {"form": form, "look": look_of(form), "words": words_of(text), "slip": slip}

    return {"text": text, "other": other}, answer


def blinks_written(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """Blinks as somebody writes them down, or something else."""
    text = _some_blinks(rng)
    return {"text": text}, lambda: list(read_blinks(text))


def codes_asked(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """A few codes, and one of them typed right, alike, with a slip, miscounted, or not at all."""
    count = int(one_of(rng, (0, 1, 3, 6, 8, 9, 12)))
    codes = [KnownCode(id=f"code-{i}", ways=_some_ways(rng)) for i in range(count)]
    ways = [way for code in codes for way in code.ways]
    shown = _asked_way(rng, one_of(rng, ways)) if ways and rng.random() < 0.8 else _anything(rng)
    question = CodeQuestion(shown=shown, family="Unit A", codes=codes)

    def answer() -> CodesFound:
        return find_codes(question)

    known = [{"id": code.id, "ways": [_way_for_page(way) for way in code.ways]} for code in codes]
    return {"shown": shown, "family": "Unit A", "codes": known}, answer


def families_asked(rng: np.random.Generator, _: dict[str, Grid]) -> tuple[object, Callable]:
    """A few families, and a text that names one, two or none of them beside something else."""
    families = [
        KnownNames(id=f"family-{i}", names=[str(name) for name in rng.choice(NAMES, size=size)])
        for i, size in enumerate(rng.integers(1, 4, size=int(rng.integers(0, 4))))
    ]
    own = [name for family in families for name in family.names] or NAMES
    words = [word for name in (*NAMES, *own * 9) for word in name.split(" ")]
    pieces = [str(one_of(rng, words)) for _ in range(int(rng.integers(0, 4)))]
    pieces = [piece[: int(one_of(rng, (3, 5, 99, 99)))] for piece in pieces]
    pieces = [_slipped(rng, piece) if rng.random() < 0.3 else piece for piece in pieces]
    pieces.insert(int(rng.integers(0, len(pieces) + 1)), _some_blinks(rng))
    text = _dressed(rng, str(one_of(rng, (" ", " ", "-", ": "))).join(pieces))

    def answer() -> FamiliesNamed:
        return families_named(text, families=families)

    known = [{"id": family.id, "names": list(family.names)} for family in families]
    return {"text": text, "families": known}, answer


def _some_ways(rng: np.random.Generator) -> tuple[ShownWay, ...]:
    ways = [ShownWay(text=str(one_of(rng, TEXTS)))]
    if rng.random() < 0.7:
        kinds = (int(rng.integers(0, 4)), int(rng.integers(0, 4)))
        pattern = BlinkPattern(long=kinds[0], short=kinds[1] if any(kinds) else 1)
        ways.append(ShownWay(blinks=pattern))
    return tuple(ways if rng.random() < 0.8 else ways[-1:])


def _way_for_page(way: ShownWay) -> dict[str, object]:
    return {"text": way.text, "blinks": page_names(way.blinks)}


def _asked_way(rng: np.random.Generator, way: ShownWay) -> str:
    if way.blinks is None:
        return _dressed(rng, _slipped(rng, way.text))
    off = int(one_of(rng, (0, 0, 0, 1)))
    pattern = BlinkPattern(long=way.blinks.long + off, short=way.blinks.short)
    if not pattern.long or not pattern.short:
        return _dressed(rng, _counted(rng, pattern.long or pattern.short))
    return _dressed(rng, written(rng, pattern, way=str(one_of(rng, (*SIXTEEN, *OTHERWISE)))))


def _anything(rng: np.random.Generator) -> str:
    return str(one_of(rng, (*TEXTS, *UNREADABLE, "zzzz", "99", "  ")))
