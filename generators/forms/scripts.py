"""The tags that bring a page's forms to life."""

from __future__ import annotations

from collections.abc import Iterable

from ..html import Html, el, join
from ..site_context import SiteContext


def form_scripts(
    context: SiteContext, *, curve_ids: Iterable[str] = (), own: str | None = None
) -> Html:
    """Return the tags of curves' compiled grids, the team's instruments, and the forms.

    Parameters
    ----------
    context : SiteContext
    curve_ids : iterable of ids
    own : str, optional
        A script beyond the forms that many kinds of page have, for a form that one kind has.
    """
    curves = [f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))]
    names = [*curves, "team", "forms", *([own] if own else [])]
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])
