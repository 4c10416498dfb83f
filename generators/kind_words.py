"""What a page calls a kind of entry, in the language in force."""

from __future__ import annotations

from kb.model import KINDS
from kb.words.catalogue import languages, name_of, words_of

FORMS = ("noun", "title", "lead")
"""What section `kind` says of each kind."""

for _language in languages():
    for _kind, _model in KINDS.items():
        if _kind not in words_of(_language).get("kind", {}):
            raise ImportError(
                f"{__name__}: pages have no words in {_language} for a {_model.noun}: write "
                f"{_kind} = {{ {', '.join(f'{form} = …' for form in FORMS)} }} in section [kind] "
                f"of kb/words/{_language}/pages/kinds.toml"
            )


def noun_of(kind: str) -> str:
    """Return what one of a kind is called: `sensor`.

    Raises
    ------
    LookupError
        If the catalogue's section `kind` has no such kind; the other two alike.
    """
    return name_of("kind", name=kind, form="noun")


def list_title(kind: str) -> str:
    """Return the heading of a kind's list: `Sensors`."""
    return name_of("kind", name=kind, form="title")


def list_lead(kind: str) -> str:
    """Return the line that says what is in a kind's list."""
    return name_of("kind", name=kind, form="lead")
