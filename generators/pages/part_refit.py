"""What goes back on a part: the drawing of its plugs, the list to tick, what proves the repair."""

from __future__ import annotations

from kb.model import Drawing, Part, Sensor
from kb.model.part import Refit
from kb.numbers.rounding import format_plain
from kb.words.phrase import in_words, listed, number_of

from ..html import Child, Html, el, section
from ..in_words import words_around
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
        caption=in_words("part-refit.drawn", drawing=drawing.name) if lines else None,
    )
    return section(
        in_words("part-refit.where"),
        drawn,
        _not_drawn(part, lines=lines),
        _sits(context, part),
        id_="where-it-is",
    )


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
    first = el("strong", in_words("part-refit.not-drawn-first"), " ")
    words = words_around("part-refit.not-drawn", not_drawn=first, lines="; ".join(missing))
    return el("p", words, class_="ohm-hint")


def _sits(context: SiteContext, part: Part) -> Html | None:
    """Return the way to the drawing that shows where the part sits, where it is another one."""
    if part.pinned is None or part.pinned.drawing == part.drawing:
        return None
    drawing = context.catalog.get(Drawing, part.pinned.drawing)
    pin = drawing.pins[part.pinned.pin]
    return el(
        "p",
        words_around(
            "part-refit.sits-at",
            pin=el("strong", part.pinned.pin),
            where=pin.where,
            drawing=context.link(drawing),
        ),
        class_="ohm-way",
    )


def refit_list(part: Part) -> Html:
    """Return everything to put back, in order, to tick."""
    if not part.refit:
        return Html("")
    rows = [_refit_row(part, i, refit) for i, refit in enumerate(part.refit)]
    return section(
        in_words("part-refit.title"),
        el("p", refit_count(part), class_="ohm-tick-count", data_of=len(rows)),
        el(
            "ol",
            rows,
            class_="ohm-tick",
            data_list=f"{part.id}-refit",
            data_done=in_words("part-refit.done"),
            data_finish=in_words("part-refit.finish"),
        ),
        id_="put-back",
    )


def refit_count(part: Part) -> str:
    """Return how much goes back, and of which sorts, in a sentence."""
    things = number_of("refit-thing", count=len(part.refit))
    return in_words("part-refit.in-order", things=things, sorts=_sorts(part))


def _sorts(part: Part) -> str:
    """Return how many pieces of each sort go back: `7 plugs, 4 screws, 1 seal`."""
    pieces: dict[str, float] = {}
    for refit in part.refit:
        pieces[refit.is_a] = pieces.get(refit.is_a, 0) + refit.count
    sorts = [number_of(f"refit-{sort}", count=count) for sort, count in pieces.items()]
    return listed(sorts, joiner="comma")


def _refit_row(part: Part, index: int, refit: Refit) -> Html:
    words: list[Child] = [refit.what]
    if refit.mark:
        words = [el("strong", refit.mark), " ", refit.what]
    if refit.count != 1:
        words.append(f" ({format_plain(refit.count)})")
    if refit.earth:
        words.append(el("span", in_words("part-refit.earth"), class_="ohm-earth"))
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
                _watch(proof.watch_min),
                context.link_to(Sensor, proof.sensor) if proof.sensor else None,
            ],
        )
        for i, proof in enumerate(part.prove)
    ]
    waits = in_words("part-proof.waits") if part.refit else None
    return section(
        in_words("part-proof.title"),
        el("p", waits, class_="ohm-waits") if waits else None,
        el(
            "ol",
            rows,
            class_="ohm-tick",
            data_list=f"{part.id}-prove",
            data_done=in_words("part-proof.done"),
            data_finish=in_words("part-proof.finish"),
            data_waits_for=f"{part.id}-refit" if part.refit else None,
        ),
        id_="prove-it",
    )


def _watch(minutes: float | None) -> str | None:
    return f"{in_words('part-proof.watch', minutes=minutes)} " if minutes else None
