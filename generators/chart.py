"""Draw one curve: resistance over temperature with its tolerance band, and the band in kelvin."""

from __future__ import annotations

import io
import json
import logging
import re
import warnings
import xml.etree.ElementTree as ElementTree
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

from kb.numbers.rounding import format_plain, significant

SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"

# Drawn in these four colours, then replaced by classes, so that the page's own light and dark
# colours apply. Nothing else in a chart is coloured.
_INK, _BAND, _GRID, _OWN = "#010203", "#040506", "#070809", "#0a0b0c"
_CLASS = {_INK: "ohm-line", _BAND: "ohm-band", _GRID: "ohm-grid", _OWN: "ohm-own"}
_PRESENTATION = {
    "fill",
    "fill-opacity",
    "fill-rule",
    "stroke",
    "stroke-width",
    "stroke-opacity",
    "opacity",
    "stroke-linejoin",
    "stroke-linecap",
    "stroke-dasharray",
    "stroke-dashoffset",
    "text-anchor",
    "stroke-miterlimit",
}


@dataclass(frozen=True)
class ChartData:
    """What one chart shows; the same data always give the same bytes.

    `words` says what is drawn to whoever does not see it, `axis` stands beside the resistance: the
    language they are in is part of the picture. `t_c` in °C, the resistances in ohms, `tol_k` and
    `own_k` in kelvin share one length. `tol_k` is empty when nobody knows the tolerance, `own_k`,
    the curve's own width, where it is not seen, and its ohms where they are no wider than the line.
    """

    curve_id: str
    words: str
    axis: str
    falling: bool
    t_c: tuple[float, ...]
    r_ohm: tuple[float, ...]
    low_ohm: tuple[float, ...]
    high_ohm: tuple[float, ...]
    tol_k: tuple[float, ...]
    own_k: tuple[float, ...] = ()
    own_low_ohm: tuple[float, ...] = ()
    own_high_ohm: tuple[float, ...] = ()

    @property
    def has_kelvin(self) -> bool:
        """Whether there is something to draw in kelvin, below the resistance."""
        return bool(self.tol_k or self.own_k)


def draw_chart(data: ChartData) -> str:
    """Return the chart as an SVG element without style, script, date or fixed colour."""
    # A cache of fonts that cannot be kept is no news for whoever builds notes.
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    # Imported here: it costs more than a second, and a build that draws nothing never pays.
    import matplotlib
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_settings(data)), warnings.catch_warnings():
        # The page's own fonts draw the letters: one that is not among matplotlib's is no fault.
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        figure = Figure(figsize=(4.6, 4.4))
        FigureCanvasSVG(figure)
        figure.patch.set_alpha(0)
        if data.has_kelvin:
            resistance, lowest = figure.subplots(2, 1, sharex=True, height_ratios=(3, 1))
        else:
            lowest = resistance = figure.subplots(1, 1)
        for plot in dict.fromkeys((resistance, lowest)):
            _draw_frame(plot, data)
        _draw_resistance(resistance, data)
        _draw_fahrenheit(resistance)
        if data.has_kelvin:
            _draw_kelvin(lowest, data)
        lowest.set_xlabel("°C", color=_INK, labelpad=1, loc="right")
        # Fixed margins: a layout solver would move with every change of a label's width.
        figure.subplots_adjust(left=0.115, right=0.955, top=0.895, bottom=0.095, hspace=0.13)
        raw = io.BytesIO()
        figure.savefig(raw, format="svg", metadata={"Date": None, "Creator": None})
        plot_area = _plot_area(figure, resistance, data)
        if data.has_kelvin:
            plot_area["kelvin"] = _kelvin_area(figure, lowest)
    return _undress(raw.getvalue().decode("utf-8"), data, plot_area)


def _settings(data: ChartData) -> dict[Any, Any]:
    return {
        "svg.hashsalt": data.curve_id,
        "svg.fonttype": "none",
        "font.size": 10,
        "axes.linewidth": 0.8,
        "path.simplify": True,
    }


def _draw_frame(plot: Axes, data: ChartData) -> None:
    plot.patch.set_alpha(0)
    # No box: the grid is frame enough, and thinner than anything that is read.
    plot.grid(True, color=_GRID, linewidth=0.5)
    plot.set_axisbelow(True)
    for spine in plot.spines.values():
        spine.set_visible(False)
    plot.tick_params(colors=_INK, length=0, pad=3)
    plot.set_xlim(data.t_c[0], data.t_c[-1])


def _draw_resistance(plot: Axes, data: ChartData) -> None:
    from matplotlib.ticker import FuncFormatter, LogLocator, NullLocator

    if data.own_low_ohm:
        _draw_own(plot, data.t_c, data.own_low_ohm, data.own_high_ohm)
    if data.tol_k:
        plot.fill_between(data.t_c, data.low_ohm, data.high_ohm, color=_BAND, linewidth=0)
    plot.plot(data.t_c, data.r_ohm, color=_INK, linewidth=2)
    if data.falling:
        plot.set_yscale("log")
        plot.yaxis.set_major_locator(LogLocator(subs=(1.0, 2.0, 5.0)))
        plot.yaxis.set_minor_locator(NullLocator())
    plot.yaxis.set_major_formatter(FuncFormatter(lambda r_ohm, _: _short_ohm(r_ohm)))
    # Where the curve is not: a falling one leaves the right upper corner, a rising one the left.
    _draw_name(plot, data.axis, right=data.falling)


def _draw_name(plot: Axes, words: str, *, right: bool) -> None:
    """Say in the plot itself what it shows: no legend, and no words that stand on their side."""
    x, side = (0.985, "right") if right else (0.015, "left")
    plot.text(x, 0.96, words, transform=plot.transAxes, ha=side, va="top", color=_INK)


def _draw_fahrenheit(plot: Axes) -> None:
    scale = plot.secondary_xaxis(
        "top",
        functions=(
            lambda t_c: np.asarray(t_c, dtype=float) * 1.8 + 32,
            lambda t_f: (np.asarray(t_f, dtype=float) - 32) / 1.8,
        ),
    )
    scale.patch.set_visible(False)
    scale.tick_params(colors=_INK, length=0, pad=2)
    scale.spines["top"].set_visible(False)
    scale.set_xlabel("°F", color=_INK, labelpad=2, loc="right")


def _draw_own(
    plot: Axes, t_c: Sequence[float], low: Sequence[float], high: Sequence[float]
) -> None:
    """Draw how far the curve itself may be off: fainter than a tolerance, its edges dashed."""
    plot.fill_between(t_c, low, high, color=_OWN, alpha=0.2, linewidth=0)
    for edge in (low, high):
        plot.plot(t_c, edge, color=_OWN, linewidth=1, dashes=(3, 2))


def _draw_kelvin(plot: Axes, data: ChartData) -> None:
    from matplotlib.ticker import MaxNLocator

    # To both sides: a good part reads warm as well as cold.
    if data.tol_k:
        below = [-tol_k for tol_k in data.tol_k]
        plot.fill_between(data.t_c, below, data.tol_k, color=_BAND, linewidth=0)
        for edge in (below, data.tol_k):
            plot.plot(data.t_c, edge, color=_INK, linewidth=1)
    if data.own_k:
        _draw_own(plot, data.t_c, [-own_k for own_k in data.own_k], data.own_k)
    plot.axhline(0, color=_INK, linewidth=0.8)
    most_k = max((*data.tol_k, *data.own_k)) * 1.5
    plot.set_ylim(-most_k, most_k)
    plot.yaxis.set_major_locator(MaxNLocator(4, symmetric=True))
    _draw_name(plot, "± K", right=False)


def _short_ohm(r_ohm: float) -> str:
    for factor, prefix in ((1e6, "M"), (1e3, "k")):
        if r_ohm >= factor:
            return f"{format_plain(r_ohm / factor)}{prefix}"
    return format_plain(r_ohm)


def _plot_area(figure: Figure, plot: Axes, data: ChartData) -> dict[str, object]:
    """Return where the main plot lies, so that the page can set a marker on it."""
    box = plot.get_window_extent()
    scale = 72 / figure.dpi
    high = figure.get_figheight() * 72
    bottom_ohm, top_ohm = plot.get_ylim()
    return {
        "left": round(box.x0 * scale, 2),
        "right": round(box.x1 * scale, 2),
        "top": round(high - box.y1 * scale, 2),
        "bottom": round(high - box.y0 * scale, 2),
        "low_c": data.t_c[0],
        "high_c": data.t_c[-1],
        "bottom_ohm": significant(bottom_ohm, digits=6),
        "top_ohm": significant(top_ohm, digits=6),
        "log": data.falling,
    }


def _kelvin_area(figure: Figure, plot: Axes) -> dict[str, float]:
    """Return where zero lies in the plot of the tolerance, and how high one kelvin is."""
    box = plot.get_window_extent()
    scale = 72 / figure.dpi
    high = figure.get_figheight() * 72
    return {
        "zero": round(high - (box.y0 + box.y1) / 2 * scale, 2),
        "each": round(box.height * scale / 2 / plot.get_ylim()[1], 3),
    }


def _undress(svg: str, data: ChartData, plot: dict[str, object]) -> str:
    """Turn styles into attributes and colours into classes: a strict policy allows no style."""
    ElementTree.register_namespace("", SVG)
    ElementTree.register_namespace("xlink", XLINK)
    root = ElementTree.fromstring(svg)
    for parent in list(root.iter()):
        for child in list(parent):
            if child.tag in (f"{{{SVG}}}metadata", f"{{{SVG}}}style"):
                parent.remove(child)
    prefix = f"chart-{data.curve_id}-"
    pointed_at = set(re.findall(r"#([\w.-]+)", svg))
    for node in root.iter():
        _style_to_attributes(node)
        anchor = node.attrib.pop("id", "")
        if anchor in pointed_at:
            node.set("id", prefix + anchor)
        for name in ("clip-path", f"{{{XLINK}}}href"):
            if name in node.attrib:
                node.set(name, node.attrib[name].replace("#", "#" + prefix))
        for name in ("d", "x", "y", "transform"):
            if name in node.attrib:
                node.set(name, _shorter(node.attrib[name]))
    for name in ("width", "height", "version"):
        root.attrib.pop(name, None)
    root.set("class", "ohm-chart-svg")
    root.set("role", "img")
    root.set("aria-label", data.words)
    root.set("data-plot", json.dumps(plot, sort_keys=True, separators=(",", ":")))
    root.set("stroke-linejoin", "round")
    text = ElementTree.tostring(root, encoding="unicode")
    return re.sub(r">\s+<", "><", text).replace("\n", " ")


def _shorter(numbers: str) -> str:
    """Round to a hundredth of a unit, a fortieth of a millimetre on a phone."""
    kept = re.sub(r"\d+\.\d+", lambda m: f"{float(m.group()):.2f}".rstrip("0").rstrip("."), numbers)
    return re.sub(r"\s+", " ", kept).strip()


def _style_to_attributes(node: ElementTree.Element) -> None:
    style = node.attrib.pop("style", "")
    classes = set()
    for rule in filter(None, (part.strip() for part in style.split(";"))):
        name, _, value = (piece.strip() for piece in rule.partition(":"))
        if name in ("font", "font-size"):
            size = re.search(r"([\d.]+)px", value)
            node.set("font-size", size.group(1) if size else "9")
        elif name in _PRESENTATION:
            node.set(name, value)
    for name in ("fill", "stroke"):
        colour = node.get(name)
        if colour in _CLASS:
            classes.add(_CLASS[colour])
            node.set(name, "currentColor")
    if node.tag == f"{{{SVG}}}text":
        node.set("fill", "currentColor")
        classes = {"ohm-axis"}
    if classes:
        node.set("class", " ".join(sorted(classes)))
