"""Small pieces that many pages say alike: temperatures, sources, drafts, cautions."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from kb.catalog import shown_name
from kb.made_pages import STOP
from kb.model import Case, Entry, Family, Instrument, Method, Source
from kb.model.entry import Cited
from kb.model.method import LIVE_STEP
from kb.numbers.rounding import format_k, format_plain, format_t
from kb.words.catalogue import name_of
from kb.words.phrase import in_words

from .html import Child, Html, bullets, el, join, slug
from .in_words import words_around
from .site_context import SiteContext

_ON_VOLTS = ("meter", "voltage tester")
"""What measures volts."""
Titled = Callable[..., Html]
"""How children stand under a title: `section`, or `fold`."""


def degrees(t_c: float) -> Html:
    """Return a temperature that the page can turn into °F."""
    decimals = 0 if float(t_c).is_integer() else 1
    return el("span", format_t(t_c, decimals=decimals), class_="ohm-t", data_c=format_plain(t_c))


def kelvin(tol_k: float) -> Html:
    """Return a difference of temperature that the page can turn into °F."""
    return el("span", format_k(tol_k), class_="ohm-dt", data_k=format_plain(tol_k))


def source_line(context: SiteContext, entry: Entry) -> Html:
    """Return where the entry's facts come from, and who checked it when."""
    cited: list[Cited] = entry.source or []
    sources = [
        join([context.link_to(Source, cite.id), f" ({cite.at})" if cite.at else None])
        for cite in cited
    ]
    parts: list[Child] = []
    if sources:
        parts += [words_around("shared.source", sources=join(sources, "; ")), " "]
    if entry.checked:
        by, on = entry.checked.by, entry.checked.on.isoformat()
        parts.append(in_words("shared.checked", by=by, on=on))
    else:
        parts.append(in_words("shared.unchecked"))
    return el("p", parts, class_="ohm-source")


def draft_badge(entry: Entry) -> Html:
    """Return a visible warning on an entry that nobody has checked."""
    if not entry.draft:
        return Html("")
    word = el("strong", in_words("shared.draft-word"))
    return el("p", words_around("shared.draft", draft=word), class_="ohm-draft")


def other_names(entry: Entry, *, already: str = "") -> Html:
    """Return what people also call it, but for what the page says `already`."""
    names = [name for name in entry.aka if name.casefold() != already.casefold()]
    if not names:
        return Html("")
    return el("p", in_words("shared.also-called", names=", ".join(names)), class_="ohm-aka")


def sentence(text: str) -> str:
    """Return a text as one sentence: a capital first, one full stop last."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def caution_box(items: list[Child], *, title: str | None = None, more: Html | None = None) -> Html:
    """Return the cautions as a box with its own shape and words; before measuring by default."""
    title = title or in_words("minding.before-measuring")
    return el(
        "aside",
        el("h2", el("span", "⚠", aria_hidden="true"), " ", title),
        bullets(items),
        more,
        _maker_first(),
        class_="ohm-caution",
        aria_label=title,
    )


def paper_caution(words: str) -> Html:
    """Return a caution that only paper shows, of a page that itself touches no machine."""
    return el(
        "p",
        el("strong", "⚠ ", words),
        " ",
        in_words("minding.maker-first"),
        class_="ohm-paper-first",
        hidden=True,
    )


def ring_line(context: SiteContext) -> Html:
    """Return whom to ring when the work stops, in a line for paper; nothing where nobody is."""
    rings = [f"{ring.who}: {ring.number or ring.when}" for ring in context.catalog.team.ring]
    if not rings:
        return Html("")
    title = el("strong", in_words("minding.stop-and-ring"), ".")
    return el("p", title, " ", " ".join(map(sentence, rings)), class_="ohm-whom")


def _maker_first() -> Html:
    return el("p", in_words("minding.maker-first"), class_="ohm-caution-first")


def safety_links(context: SiteContext) -> Html:
    """Return the ways to the page about safety and to the one for when the work stops."""
    return join(
        [
            el("a", in_words("minding.safety-in-full"), href=context.root + "safety.html"),
            " · ",
            el("a", in_words("minding.stop-and-ring"), href=f"{context.root}{STOP}.html"),
        ]
    )


def _proves_dead(context: SiteContext) -> Html:
    """Return what proves the machine dead, by the team's own instrument where it names one."""
    tester = context.catalog.team.voltage_tester
    link = context.link_to(Instrument, tester) if tester else in_words("minding.two-pole-tester")
    return words_around("minding.prove-dead", tester=link)


def rated_line(context: SiteContext, volts: float) -> Html:
    """Return which of the team's instruments may be put where so many volts stand."""
    asked = [tool for tool in context.catalog.all(Instrument).values() if tool.is_a in _ON_VOLTS]
    rated = [tool for tool in asked if tool.is_rated_for(volts)]
    never = [tool for tool in asked if not tool.is_rated_for(volts)]
    tools = context.links(rated) if rated else el("strong", in_words("minding.rated-none"))
    names = ", ".join(tool.name for tool in never)
    return join(
        [
            words_around("minding.rated", volts=format_plain(volts), tools=tools),
            el("strong", " ", in_words("minding.rated-never", tools=names), class_="ohm-never")
            if never
            else None,
        ]
    )


def live_marked(text: str) -> Child:
    """Return a step with its first words marked where it cannot be done dead."""
    if not text.startswith(LIVE_STEP):
        return text
    words = in_words("minding.live-step")
    return join([el("strong", f"⚠ {words}", class_="ohm-live-words"), text[len(LIVE_STEP) :]])


def team_rules(context: SiteContext) -> list[str]:
    """Return the team's own words about safety, paragraph by paragraph; none if it has none."""
    paragraphs = re.split(r"\n\s*\n", context.catalog.team.safety or "")
    return [" ".join(paragraph.split()) for paragraph in paragraphs if paragraph.strip()]


def family_cautions(context: SiteContext, family: Family, *, whole: bool = False) -> Html:
    """Return what applies before a meter touches a machine of this family.

    The essentials always stand open, short enough to be read each time. Where and how folds away
    on pages that are read in a hurry, the team's own words first; `whole` lays it all open.
    """
    rules: list[Child] = [*team_rules(context)]
    if whole:
        return caution_box(rules + _essential(family) + _there(context, family))
    folded = el(
        "details",
        el("summary", in_words("minding.folded")),
        bullets(rules + _there(context, family)),
    )
    return caution_box(_essential(family), more=folded)


def caution_line(context: SiteContext, family: Family) -> Html:
    """Return the same as one line that unfolds, for a page whose answer must be in reach.

    It stands above every field that is measured by hand. What must be done is said in the line
    itself, so that nobody has to open it to be warned; where and how is inside, the team's own
    words first. Without scripts it stands open, as every fold does.
    """
    volts, minutes = family.drained_below_v, family.drain_min
    charge = in_words("minding.line-wait", minutes=minutes, volts=volts)
    if family.no_charge is not None:
        charge = in_words("minding.line-nothing", volts=volts)
    return el(
        "details",
        el(
            "summary",
            el(
                "span",
                el("span", "⚠ ", aria_hidden="true", class_="ohm-caution-sign"),
                el("strong", in_words("minding.dead")),
                f" {charge}",
            ),
        ),
        bullets([*team_rules(context), *_essential(family)[1:], *_there(context, family)]),
        _maker_first(),
        class_="ohm-fold ohm-caution ohm-caution-line",
        open=True,
    )


def _essential(family: Family) -> list[Child]:
    """Return what is read each time; what the line of caution says itself comes first."""
    return [
        el("strong", in_words("minding.dead")),
        _charge(family),
        words_around(
            "minding.insulation", never=el("strong", in_words("minding.insulation-never"))
        ),
    ]


def _there(context: SiteContext, family: Family) -> list[Child]:
    """Return where and how on this machine, and what else there is to mind."""
    return [
        in_words(
            "minding.isolate-at",
            where=sentence(family.supply.isolate_at),
            supply=sentence(family.supply.volts),
        ),
        _proves_dead(context),
        in_words("minding.charge-at", where=sentence(family.drain_at)),
        rated_line(context, family.charge_v) if family.charge_v else None,
        in_words("minding.live"),
        *[sentence(caution) for caution in family.cautions],
        safety_links(context),
    ]


def _charge(family: Family) -> Html:
    """Return how long to wait for stored charge, or why there is none; either is measured."""
    volts = format_plain(family.drained_below_v)
    if family.no_charge is not None:
        nothing = el("strong", in_words("minding.uncharged-first"))
        why = sentence(family.no_charge)
        return words_around("minding.uncharged", nothing=nothing, why=why, volts=volts)
    wait = el("strong", in_words("minding.wait-first", minutes=family.drain_min))
    return words_around("minding.wait", wait=wait, volts=volts)


def charge_words(family: Family) -> str:
    """Return the same in a few words, for a table."""
    volts = family.drained_below_v
    if family.no_charge is not None:
        why = family.no_charge.rstrip(".")
        return in_words("minding.uncharged-short", why=why, volts=volts)
    return in_words("minding.charge-short", minutes=family.drain_min, volts=volts)


def method_cautions(context: SiteContext, method: Method) -> Html:
    """Return a method's own cautions, with the way to the full ones."""
    live = method.live == "live"
    title = in_words("minding.before-start-live" if live else "minding.before-start")
    return caution_box([*team_rules(context), *method.cautions, safety_links(context)], title=title)


def fold(title: str, *children: Child, id_: str | None = None, open_beside: bool = False) -> Html:
    """Return a titled section that a script folds as the page opens; nothing when it is empty.

    Written open: without scripts, and on paper, everything can be read. `open_beside`: it stays
    open where the page is wide enough for two columns.
    """
    body = join(children)
    if not body:
        return Html("")
    heading = el("summary", el("h2", title, id=id_ or slug(title)))
    class_ = "ohm-fold ohm-fold-beside" if open_beside else "ohm-fold"
    return el("details", heading, body, class_=class_, open=True)


def two_columns(first: Child, *, beside: Html) -> Html:
    """Return what is done, and what is looked at: above it, or beside it where there is room."""
    if not beside:
        return join(first)
    return el(
        "div",
        el("div", beside, class_="ohm-two-beside"),
        el("div", first, class_="ohm-two-first"),
        class_="ohm-two",
    )


def lines(items: Iterable[tuple[str, Child, Child]]) -> Html:
    """Return ways to pages, a line each: where it leads, its name, a word beside it."""
    return bullets(
        (
            el("a", el("span", name, class_="ohm-line-name"), el("span", word), href=href)
            for href, name, word in items
        ),
        class_="ohm-lines",
    )


def card(href: str, *, title: Child, kind: str = "", mark: str = "", note: Child = None) -> Html:
    """Return one card of a list: what it is or is looked for by, its name, a line about it."""
    return el(
        "a",
        el("span", kind, class_="ohm-card-kind") if kind else None,
        el("span", mark, class_="ohm-card-mark") if mark else None,
        el("span", title, class_="ohm-card-title"),
        el("span", note, class_="ohm-card-note") if note else None,
        href=href,
        class_="ohm-card",
    )


def cards(items: list[Html]) -> Html:
    """Return cards as a list, or nothing."""
    return el("div", items, class_="ohm-cards") if items else Html("")


def past_jobs(context: SiteContext, cases: Iterable[Case]) -> Html:
    """Return the past jobs as a fold, each with its day; nothing when there are none."""
    return fold(in_words("shared.past-jobs"), dated(context, cases), id_="past-jobs")


def dated(context: SiteContext, cases: Iterable[Case]) -> Html:
    """Return past jobs as a list, each with its day."""
    return bullets(join([f"{case.on.isoformat()}: ", context.link(case)]) for case in cases)


def siblings(context: SiteContext, entry: Entry, *, entries: Sequence[Entry]) -> Html:
    """Return the neighbours of a page: the one before, the one after, and how many there are.

    The catalogue's section `siblings` has the words, by the entry's kind.
    """
    ids = [other.id for other in entries]
    if entry.id not in ids or len(ids) < 2:
        return Html("")
    at = ids.index(entry.id)
    before = entries[at - 1] if at else None
    after = entries[at + 1] if at + 1 < len(entries) else None
    place = name_of("siblings", name=entry.kind, form="place")
    return el(
        "nav",
        context.link(before, ["‹ ", shown(before)]) if before else el("span", ""),
        el("span", place.format(at=at + 1, count=len(ids))),
        context.link(after, [shown(after), " ›"]) if after else el("span", ""),
        class_="ohm-siblings",
        aria_label=name_of("siblings", name=entry.kind, form="others"),
    )


def shown(entry: Entry) -> str:
    """Return a short name for a neighbour."""
    name = shown_name(entry)
    return name if len(name) <= 34 else name[:33].rstrip() + "…"
