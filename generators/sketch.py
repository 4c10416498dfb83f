"""Draw a sketch or frame a photo, with its pins; the sensor in question stands out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from kb.model import Drawing
from kb.model.drawing import Shape
from kb.numbers.same import Same

from .html import Html, bullets, el, join
from .pin_places import PIN_TEXT, pin_size, place_names, word_box

WIDE = 400
"""Width of every sketch in its own units; the height follows its proportion."""

THUMB = 25.0
"""Half of what a thumb in a glove needs, in the sketch's units: 45 pixels on a page of 390."""


LEAST_LEADER = 4.0
"""A name that stands nearer to its pin's place needs no line to it."""


@dataclass(frozen=True, kw_only=True)
class Photo:
    """Where a drawing's photo lies, and how wide and high it is as it stands upright."""

    href: str
    wide: float
    high: float


Scale = tuple[float, float]
"""Units of the sketch to one per cent of its width, and of its height."""
Ends = tuple[tuple[float, float], tuple[float, float]]
"""Where a pin is, and where its name stands, in the sketch's units."""


def draw_sketch(
    drawing: Drawing,
    *,
    here: str | None = None,
    goes_to: Mapping[str, tuple[str, str]] | None = None,
    photo: Photo | None = None,
    only: Collection[str] | None = None,
    caption: str | None = None,
) -> Html:
    """Return the drawing as a figure.

    Parameters
    ----------
    drawing : Drawing
        Shapes or a photo, with pins in percent.
    here : str, optional
        The pin that the page is about: filled, and with a ring.
    goes_to : mapping of pin → (href, name), optional
        Where a tap on a pin leads.
    photo : Photo, optional
        For a drawing that is one: pins are placed by its proportions.
    only : collection of pins, optional
        Those that are drawn, where others would be in the way; all of them by default.
    caption : str, optional
        What stands below it instead of the whole in words, which the sketch says itself.
    """
    laid = _laid_out(Same(drawing), photo)
    drawn = [name for name in drawing.pins if only is None or name in only]
    leaders = _leaders(laid.ends[name] for name in drawn)
    pins = _pins(drawing, laid=laid, drawn=drawn, here=here, goes_to=goes_to or {})
    there = drawing.pins.get(here or "")
    what = f": {here}, {there.where}" if there else f". {drawing.described}"
    words = [el("strong", here), f": {there.where}"] if there else caption or drawing.described
    svg = el(
        "svg",
        laid.ground,
        leaders,
        pins,
        viewBox=f"0 0 {WIDE} {_n(100 * laid.scale[1])}",
        role="group" if goes_to else "img",
        aria_label=f"{drawing.name}{what}",
        class_="ohm-sketch ohm-on-photo" if photo else "ohm-sketch",
        data_drawing=drawing.id,
    )
    return el("figure", svg, el("figcaption", words), class_="ohm-drawing")


@dataclass(frozen=True, kw_only=True)
class _LaidOut:
    """What a drawing shows alike on every page that it stands on."""

    scale: Scale
    ground: Html
    ends: Mapping[str, Ends]
    pins: Mapping[str, Html]
    """Those that lead nowhere."""


@lru_cache(maxsize=512)
def _laid_out(of: Same[Drawing], photo: Photo | None) -> _LaidOut:
    # A sketch stands on the page of each sensor and part that it shows.
    drawing = of.it
    scale = _scale(photo or drawing)
    ends = _ends(drawing, scale=scale)
    return _LaidOut(
        scale=scale,
        ground=join(_ground(drawing, scale=scale, photo=photo)),
        ends=ends,
        pins={name: _pin(name, drawing, ends=ends[name]) for name in drawing.pins},
    )


def _pins(
    drawing: Drawing,
    *,
    laid: _LaidOut,
    drawn: Sequence[str],
    here: str | None,
    goes_to: Mapping[str, tuple[str, str]],
) -> Iterator[Html]:
    """Yield the pins that are drawn; the one in question last, so that nothing covers it."""
    ends = laid.ends
    for name in sorted(drawn, key=lambda pin: pin == here):
        if name == here:
            yield _pin(name, drawing, ends=ends[name], chosen=True)
        elif way := goes_to.get(name):
            reach = _reach(name, places={other: ends[other][1] for other in drawn})
            yield _pin(name, drawing, ends=ends[name], reach=reach, way=way)
        else:
            yield laid.pins[name]


def _scale(sized: Photo | Drawing) -> Scale:
    return WIDE / 100, WIDE / 100 * sized.high / sized.wide


def _ground(drawing: Drawing, *, scale: Scale, photo: Photo | None) -> list[Html]:
    """Return what the pins stand on: the photo, or the shapes in their order, then their words.

    Neighbours that are drawn alike share a path: a sketch stands on many pages.
    """
    if photo is not None:
        wide, high = _n(100 * scale[0]), _n(100 * scale[1])
        return [el("image", href=photo.href, x=0, y=0, width=wide, height=high)]
    drawn = [
        el(
            "path",
            _carries(kind[1]),
            d="".join(_outline(shape, scale=scale) for shape in alike),
            class_=kind[0],
        )
        for kind, alike in itertools.groupby(drawing.shapes, key=_kind)
    ]
    return [*drawn, *(_label(*_words(shape, scale=scale)) for shape in drawing.shapes)]


def _kind(shape: Shape) -> tuple[str, str | None]:
    """Return what a shape is drawn as, and what it carries if it is a pipe."""
    if shape.line is None:
        return ("ohm-shape", None)
    return ("ohm-pipe", shape.line.pipe) if shape.line.pipe else ("ohm-wire", None)


def _carries(pipe: str | None) -> Html | None:
    return el("title", pipe) if pipe else None


def _outline(shape: Shape, *, scale: Scale) -> str:
    """Return the course of a shape's outline; none for words alone."""
    x, y = scale
    if shape.box is not None:
        box = shape.box
        wide, high = _n(box.w * x), _n(box.h * y)
        return f"M{_n(box.x * x)},{_n(box.y * y)}h{wide}v{high}h-{wide}z"
    if shape.circle is not None:
        circle = shape.circle
        r = _n(circle.r * x)
        arcs = "".join(f"a{r},{r} 0 1 0 {way}{_n(2 * circle.r * x)},0" for way in ("", "-"))
        return f"M{_n((circle.x - circle.r) * x)},{_n(circle.y * y)}{arcs}z"
    if shape.line is not None:
        points = "L".join(f"{_n(px * x)},{_n(py * y)}" for px, py in shape.line.through)
        return f"M{points}"
    return ""


def _words(shape: Shape, *, scale: Scale) -> tuple[str | None, float, float]:
    """Return what is written at a shape, and where its line has its middle."""
    x, y = scale
    if shape.box is not None:
        return shape.box.words, (shape.box.x + shape.box.w / 2) * x, shape.box.y * y + 14
    if shape.circle is not None:
        return shape.circle.words, shape.circle.x * x, shape.circle.y * y + 4.5
    if shape.words is not None:
        return shape.words.say, shape.words.x * x, shape.words.y * y
    return None, 0.0, 0.0


def _label(words: str | None, x: float, y: float) -> Html:
    if not words:
        return Html("")
    return el("text", words, x=_n(x), y=_n(y))


def _ends(drawing: Drawing, *, scale: Scale) -> dict[str, Ends]:
    """Return where each pin is, and where its name stands: alike on every page that shows it."""
    at = {name: (pin.x * scale[0], pin.y * scale[1]) for name, pin in drawing.pins.items()}
    written = (_words(shape, scale=scale) for shape in drawing.shapes)
    stands = place_names(
        at,
        words=[word_box(words, x=x, y=y) for words, x, y in written if words],
        size=(100 * scale[0], 100 * scale[1]),
    )
    return {name: (place, stands[name]) for name, place in at.items()}


def pin_links(drawing: Drawing, goes_to: Mapping[str, tuple[str, str]]) -> Html:
    """Return the ways of the drawing's pins as a list: a pin is small for a thumb in a glove."""
    return bullets(
        (
            el(
                "a",
                el("strong", name),
                " ",
                _without(name, goes_to[name][1]),
                href=goes_to[name][0],
            )
            for name in drawing.pins
            if name in goes_to
        ),
        class_="ohm-pins",
    )


def _without(name: str, to: str) -> str:
    """Return the name of what sits at a pin, without the pin's own at its beginning."""
    return to.removeprefix(name).lstrip() or to


def _reach(name: str, *, places: Mapping[str, tuple[float, float]]) -> float:
    """Return how far round a name a tap still means it: up to a thumb, or half way to the next."""
    apart = [math.dist(places[name], place) for other, place in places.items() if other != name]
    return min([THUMB, *(distance / 2 for distance in apart)])


def _pin(
    name: str,
    drawing: Drawing,
    *,
    ends: Ends,
    chosen: bool = False,
    reach: float | None = None,
    way: tuple[str, str] | None = None,
) -> Html:
    (at, stands), (wide, high) = ends, pin_size(name)
    px, py = stands
    parts = [
        # A way has a name of its own, and the sketch says of itself where the pin in question is.
        None if way or chosen else el("title", f"{name}: {drawing.pins[name].where}"),
        el("circle", cx=_n(px), cy=_n(py), r=_n(reach), class_="ohm-pin-reach") if reach else None,
        # A ring as well as a fill: the pin must stand out without its colour.
        el("circle", cx=_n(px), cy=_n(py), r=_n(wide / 2 + 7), class_="ohm-pin-ring")
        if chosen
        else None,
        el("circle", cx=_n(at[0]), cy=_n(at[1]), r=3, class_="ohm-pin-at")
        if _stands_aside(at, place=stands)
        else None,
        el("rect", x=_n(px - wide / 2), y=_n(py - high / 2), width=_n(wide), height=_n(high), rx=3),
        el("text", name, x=_n(px), y=_n(py + PIN_TEXT * 0.36)),
    ]
    group = el("g", parts, class_="ohm-pin ohm-pin-here" if chosen else "ohm-pin")
    return el("a", group, href=way[0], aria_label=f"{name}: {way[1]}") if way else group


def _stands_aside(at: tuple[float, float], *, place: tuple[float, float]) -> bool:
    return math.dist(at, place) > LEAST_LEADER


def _leaders(pins: Iterable[Ends]) -> Html:
    """Return the lines from pins to names that stand aside; all names are drawn over them."""
    course = "".join(
        f"M{_n(at[0])},{_n(at[1])}L{_n(place[0])},{_n(place[1])}"
        for at, place in pins
        if _stands_aside(at, place=place)
    )
    return el("path", d=course, class_="ohm-pin-leader") if course else Html("")


def _n(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")
