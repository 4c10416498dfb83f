"""The tags that bring a page's forms to life."""

from __future__ import annotations

from collections.abc import Iterable

from ..html import Html, el, join
from ..site_context import SiteContext

BASE = "form-base"
"""What forms have in common, as site_config/mkdocs.yml has it: pages load it before any of them."""


MORE = "form-more"
"""What the other forms have in common beside it."""
FEW = frozenset({"judge", "stand-in", "curve", "which"})
"""Forms that need the base alone, as site_config/mkdocs.yml has it: a sensor's and a curve's."""


def late_script(context: SiteContext, *, form: str) -> Html:
    """Return the tag of a form that comes when the fold around it is opened, after its page's own.

    A form that few want costs nothing until then: `page/late-form.js` brings it.
    """
    return el("script", data_later=f"{context.root}assets/form-{form}.js")


def late_curves(context: SiteContext, *, but: str) -> Html:
    """Return the tags of every curve of the notes but one, which come when a reading asks for them.

    What else a reading may be is asked of other parts' curves: `page/late-curves.js` brings them.
    """
    return join(
        [
            el(
                "script",
                data_later=f"{context.root}assets/curves/{curve_id}.js",
                data_curve=curve_id,
            )
            for curve_id in sorted(context.catalog.computing_curves)
            if curve_id != but
        ]
    )


def form_scripts(
    context: SiteContext, *, forms: Iterable[str], curve_ids: Iterable[str] = ()
) -> Html:
    """Return the tags of curves' compiled grids, the team's instruments, and the page's own forms.

    Parameters
    ----------
    context : SiteContext
    forms : iterable of str
        Those that the page has and no others: an old phone reads every byte that it is sent.
        A form NAME is brought to life by `form-NAME.js` of site_config/mkdocs.yml. Without any
        there are no tags.
    curve_ids : iterable of ids
    """
    forms = list(dict.fromkeys(forms))
    own = [f"form-{form}" for form in forms]
    if not own:
        return Html("")
    curves = [f"curves/{curve_id}" for curve_id in sorted(set(curve_ids))]
    common = [BASE] if FEW.issuperset(forms) else [BASE, MORE]
    names = [*curves, "team", *common, *own]
    return join([el("script", src=f"{context.root}assets/{name}.js", defer=True) for name in names])
