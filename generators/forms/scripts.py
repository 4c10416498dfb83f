"""The tags that bring a page's forms to life."""

from __future__ import annotations

from collections.abc import Iterable

from ..html import Html, el, join
from ..site_context import SiteContext


def form_scripts(context: SiteContext, *, curve_ids: Iterable[str] = ()) -> Html:
    """Return the tags of curves' compiled grids, the team's instruments, and all forms."""
    names = [*(f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))), "team", "forms"]
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])
