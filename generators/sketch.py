"""Draw a sketch or frame a photo, with its pins; the sensor in question stands out."""

from __future__ import annotations

from collections.abc import Mapping

from kb.model import Drawing
from kb.model.drawing import Box, Shape

from .html import Html, el, join

WIDE = 400
"""Width of every sketch in its own units; the height follows its proportion."""

Scale = tuple[float, float]
"""Units of the sketch to one per cent of its width, and of its height."""


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
    scale = (WIDE / 100, high / 100)
    inner = _ground(drawing, scale=scale, photo_href=photo_href)
    # The pin in question comes last, so that nothing covers it.
    for name in sorted(drawing.pins, key=lambda pin: pin == here):
        inner.append(_pin(drawing, name, scale=scale, here=here, goes_to=goes_to or {}))
    shown = drawing.pins.get(here) if here is not None else None
    what = f": {here}, {shown.where}" if shown else f". {drawing.described}"
    svg = el(
        "svg",
        inner,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {WIDE} {_n(high)}",
        role="group" if goes_to else "img",
        aria_label=f"{drawing.name}{what}",
        class_="ohm-sketch",
    )
    caption = [el("strong", here), f": {shown.where}"] if shown else drawing.described
    return el("figure", svg, el("figcaption", caption), class_="ohm-drawing")


def _ground(drawing: Drawing, *, scale: Scale, photo_href: str | None) -> list[Html]:
    """Return what the pins stand on: the photo, or the shapes in their order."""
    if drawing.photo:
        wide, high = _n(100 * scale[0]), _n(100 * scale[1])
        return [el("image", href=photo_href, x=0, y=0, width=wide, height=high)]
    return [_shape(shape, scale=scale) for shape in drawing.shapes]


def _shape(shape: Shape, *, scale: Scale) -> Html:
    x, y = scale
    if shape.box is not None:
        return _box(shape.box, scale=scale)
    if shape.circle is not None:
        circle = shape.circle
        drawn = el(
            "circle",
            cx=_n(circle.x * x),
            cy=_n(circle.y * y),
            r=_n(circle.r * x),
            class_="ohm-shape",
        )
        return join([drawn, _label(circle.words, circle.x * x, circle.y * y + 4)])
    if shape.line is not None:
        line = shape.line
        points = " ".join(f"{_n(px * x)},{_n(py * y)}" for px, py in line.through)
        kind = "ohm-pipe" if line.pipe else "ohm-wire"
        title = el("title", line.pipe) if line.pipe else None
        return el("polyline", title, points=points, class_=kind, fill="none")
    if shape.words is not None:
        return _label(shape.words.say, shape.words.x * x, shape.words.y * y)
    return Html("")


def _box(box: Box, *, scale: Scale) -> Html:
    x, y = scale
    drawn = el(
        "rect",
        x=_n(box.x * x),
        y=_n(box.y * y),
        width=_n(box.w * x),
        height=_n(box.h * y),
        rx=2,
        class_="ohm-shape",
    )
    return join([drawn, _label(box.words, (box.x + box.w / 2) * x, box.y * y + 12)])


def _label(words: str | None, x: float, y: float) -> Html:
    if not words:
        return Html("")
    return el("text", words, x=_n(x), y=_n(y), text_anchor="middle", class_="ohm-shape-words")


def _pin(
    drawing: Drawing,
    name: str,
    *,
    scale: Scale,
    here: str | None,
    goes_to: Mapping[str, tuple[str, str]],
) -> Html:
    pin = drawing.pins[name]
    px, py = pin.x * scale[0], pin.y * scale[1]
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
