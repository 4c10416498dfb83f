"""What the forms have alike whose readings go to the job: earlier ones, when it was, the keys."""

from __future__ import annotations

from kb.words.catalogue import name_of

from ..html import Html, el, join
from .fields import clear_key, two_ways


def visit_head(form: str) -> Html:
    """Return what stands above a form's fields: what was read before, and when this is.

    Parameters
    ----------
    form : str
        Its `data-calc`, which names its fields. `visitForm` in assets/page/visit-form.js brings
        them to life.
    """
    return join(
        [
            el("div", class_="ohm-earlier", hidden=True),
            el(
                "div",
                two_ways(
                    f"{form}-when",
                    label=name_of("visit", name="when"),
                    options=[(way, name_of("visit", name=way)) for way in ("before", "after")],
                ),
                class_="ohm-when",
            ),
        ]
    )


def visit_keys() -> Html:
    """Return the keys below the answer: clear, bring back what was cleared, read another time."""
    return el(
        "div",
        clear_key(name_of("visit", name="clear")),
        _hidden_key("undo"),
        _hidden_key("again"),
        class_="ohm-keys",
    )


def _hidden_key(name: str) -> Html:
    return el(
        "button",
        name_of("visit", name=name),
        type="button",
        class_="ohm-key",
        hidden=True,
        **{f"data_{name}": True},
    )
