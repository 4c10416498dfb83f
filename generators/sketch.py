"""Draw a sketch or frame a photo, with its pins; the sensor in question stands out."""

from __future__ import annotations

from collections.abc import Mapping

from kb.model import Drawing
from kb.model.drawing import Box, Circle, Line, Shape, Words

from .html import Html, el, join

WIDE = 400
"""Width of every sketch in its own units; the height follows its proportion."""


def draw_sketch(
    drawing: Drawing,
    *,
    here: str | None = None,
    goes_to: Mapping[str, tuple[str, str]] | None = None,
    photo_href: str | None = None,
) -> Html:
    """Return the drawing as a figure.

    Parameters
    ----------
    drawing : Drawing
        Shapes or a photo, with pins in percent.
    here : str, optional
        The pin that the page is about: drawn larger, with a ring and an arrow.
    goes_to : mapping of pin → (href, name), optional
        Where a tap on a pin leads.
    photo_href : str, optional
        Where the photo lies, for a drawing that is one.
    """
    high = WIDE * drawing.high / drawing.wide
    x, y = WIDE / 100, high / 100
    inner: list[Html] = []
    if drawing.photo:
        inner.append(el("image", href=photo_href, x=0, y=0, width=WIDE, height=_n(high)))
    inner.extend(_shape(shape, x, y) for shape in drawing.shapes)
    # The pin in question comes last, so that nothing covers it.
    for name in sorted(drawing.pins, key=lambda one: one == here):
        inner.append(_pin(drawing, name, x, y, here=here, goes_to=goes_to or {}))
    title = f"{drawing.name}. {drawing.described}"
    if here in drawing.pins:
        title = f"{drawing.name}: {here}, {drawing.pins[here].where}"
    svg = el(
        "svg",
        inner,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {WIDE} {_n(high)}",
        role="group" if goes_to else "img",
        aria_label=title,
        class_="ohm-sketch",
    )
    caption = el(
        "figcaption",
        [el("strong", here), f": {drawing.pins[here].where}"]
        if here in drawing.pins
        else drawing.described,
    )
    return el("figure", svg, caption, class_="ohm-drawing")


def _shape(shape: Shape, x: float, y: float) -> Html:
    what = shape.box or shape.circle or shape.line or shape.words
    if isinstance(what, Box):
        drawn = el(
            "rect",
            x=_n(what.x * x),
            y=_n(what.y * y),
            width=_n(what.w * x),
            height=_n(what.h * y),
            rx=2,
            class_="ohm-shape",
        )
        return join([drawn, _label(what.words, (what.x + what.w / 2) * x, what.y * y + 12)])
    if isinstance(what, Circle):
        drawn = el(
            "circle", cx=_n(what.x * x), cy=_n(what.y * y), r=_n(what.r * x), class_="ohm-shape"
        )
        return join([drawn, _label(what.words, what.x * x, what.y * y + 4)])
    if isinstance(what, Line):
        points = " ".join(f"{_n(px * x)},{_n(py * y)}" for px, py in what.through)
        kind = "ohm-pipe" if what.pipe else "ohm-wire"
        title = el("title", what.pipe) if what.pipe else None
        return el("polyline", title, points=points, class_=kind, fill="none")
    assert isinstance(what, Words)
    return _label(what.say, what.x * x, what.y * y)


def _label(words: str | None, x: float, y: float) -> Html:
    if not words:
        return Html("")
    return el("text", words, x=_n(x), y=_n(y), text_anchor="middle", class_="ohm-shape-words")


def _pin(
    drawing: Drawing,
    name: str,
    x: float,
    y: float,
    *,
    here: str | None,
    goes_to: Mapping[str, tuple[str, str]],
) -> Html:
    pin = drawing.pins[name]
    px, py = pin.x * x, pin.y * y
    is_here = name == here
    wide = max(18.0, 7.2 * len(name) + 8)
    high = 18.0
    if is_here:
        wide, high = wide + 6, high + 6
    parts = [
        el("title", f"{name}: {pin.where}"),
        # A ring as well as a fill: the pin must stand out without its colour.
        el("circle", cx=_n(px), cy=_n(py), r=_n(wide / 2 + 7), class_="ohm-pin-ring")
        if is_here
        else None,
        el(
            "rect",
            x=_n(px - wide / 2),
            y=_n(py - high / 2),
            width=_n(wide),
            height=_n(high),
            rx=_n(high / 2),
            class_="ohm-pin-spot",
        ),
        el("text", name, x=_n(px), y=_n(py + 4), text_anchor="middle", class_="ohm-pin-name"),
    ]
    group = el("g", parts, class_="ohm-pin ohm-pin-here" if is_here else "ohm-pin")
    if name in goes_to and not is_here:
        href, to = goes_to[name]
        return el("a", group, href=href, aria_label=f"{name}: {to}")
    return group


def _n(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")
