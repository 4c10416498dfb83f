"""What goes back on a part: the drawing of its plugs, the list to tick, what proves the repair."""

from __future__ import annotations

from kb.model import Drawing, Part, Sensor
from kb.model.part import Refit
from kb.numbers.rounding import format_plain
from kb.words.phrase import counted, number_of

from ..html import Child, Html, el, section
from ..pins import photo_of
from ..site_context import SiteContext
from ..sketch import draw_sketch


def part_drawing(context: SiteContext, part: Part) -> Html:
    """Return where the part sits and where everything on its list goes back."""
    if part.drawing is None:
        return Html("")
    drawing = context.catalog.get(Drawing, part.drawing)
    lines = _lines(part, drawing=drawing)
    own = part.pinned.pin if part.pinned and part.pinned.drawing == drawing.id else None
    drawn = draw_sketch(
        drawing,
        here=own if not lines else None,
        only=[*lines, *([own] if own else [])] if lines else None,
        goes_to={mark: (f"#{_box(part, i)}", part.refit[i].what) for mark, i in lines.items()},
        photo=photo_of(context, drawing),
        caption=f"{drawing.name}. A tap on a mark leads to its line below." if lines else None,
    )
    return section("Where it is", drawn, _not_drawn(part, lines=lines), _sits(context, part))


def _lines(part: Part, *, drawing: Drawing) -> dict[str, int]:
    """Return the marks that the drawing pins, each with the first line that goes back there."""
    found: dict[str, int] = {}
    for i, refit in enumerate(part.refit):
        if refit.mark and refit.mark in drawing.pins:
            found.setdefault(refit.mark, i)
    return found


def _not_drawn(part: Part, *, lines: dict[str, int]) -> Html | None:
    """Return which lines of the list the drawing does not show."""
    missing = [
        " ".join(filter(None, [refit.mark, refit.what]))
        for refit in part.refit
        if refit.mark not in lines
    ]
    if not missing:
        return None
    return el("p", el("strong", "Not on the drawing: "), "; ".join(missing), ".", class_="ohm-hint")


def _sits(context: SiteContext, part: Part) -> Html | None:
    """Return the way to the drawing that shows where the part sits, where it is another one."""
    if part.pinned is None or part.pinned.drawing == part.drawing:
        return None
    drawing = context.catalog.get(Drawing, part.pinned.drawing)
    pin = drawing.pins[part.pinned.pin]
    return el(
        "p",
        "It sits at ",
        el("strong", part.pinned.pin),
        f" ({pin.where}): ",
        context.link(drawing),
        class_="ohm-way",
    )


def refit_list(part: Part) -> Html:
    """Return everything to put back, in order, to tick."""
    if not part.refit:
        return Html("")
    rows = [_refit_row(part, i, refit) for i, refit in enumerate(part.refit)]
    return section(
        "Put back",
        el(
            "p",
            f"{counted(len(rows), noun='thing')} to put back, in this order: {_sorts(part)}. "
            "Tick each one.",
            class_="ohm-tick-count",
            data_of=len(rows),
        ),
        el(
            "ol",
            rows,
            class_="ohm-tick",
            data_list=f"{part.id}-refit",
            data_done="put back",
            data_finish="Everything is back",
        ),
    )


def _sorts(part: Part) -> str:
    """Return how many pieces of each sort go back: `7 plugs, 4 screws, 1 seal`."""
    pieces: dict[str, float] = {}
    for refit in part.refit:
        pieces[refit.is_a] = pieces.get(refit.is_a, 0) + refit.count
    return ", ".join(number_of(f"refit-{sort}", count) for sort, count in pieces.items())


def _refit_row(part: Part, index: int, refit: Refit) -> Html:
    words: list[Child] = [refit.what]
    if refit.mark:
        words = [el("strong", refit.mark), " ", refit.what]
    if refit.count != 1:
        words.append(f" ({format_plain(refit.count)})")
    if refit.earth:
        words.append(el("span", "Earth: first on, last off", class_="ohm-earth"))
    return _tick(_box(part, index), index, words, refit.note)


def _box(part: Part, index: int) -> str:
    """Return the anchor of a line's box."""
    return f"{part.id}-refit-{index + 1}"


def _tick(box: str, index: int, words: Child, note: Child) -> Html:
    return el(
        "li",
        el("input", type="checkbox", id=box, data_tick=f"{index + 1}"),
        el("label", words, el("span", note, class_="ohm-note") if note else None, for_=box),
    )


def proofs(context: SiteContext, part: Part) -> Html:
    """Return what proves the repair; what goes back comes before it."""
    if not part.prove:
        return Html("")
    rows = [
        _tick(
            f"{part.id}-prove-{i + 1}",
            i,
            [el("strong", proof.what), ": ", proof.must],
            [
                f"Watch for {format_plain(proof.watch_min)} minutes. " if proof.watch_min else None,
                context.link_to(Sensor, proof.sensor) if proof.sensor else None,
            ],
        )
        for i, proof in enumerate(part.prove)
    ]
    waits = "Only when everything above is put back and ticked." if part.refit else None
    return section(
        "Prove it",
        el("p", waits, class_="ohm-waits") if waits else None,
        el(
            "ol",
            rows,
            class_="ohm-tick",
            data_list=f"{part.id}-prove",
            data_done="proved",
            data_finish="It is proved",
            data_waits_for=f"{part.id}-refit" if part.refit else None,
        ),
    )
