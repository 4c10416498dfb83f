"""Say a sentence of the catalogue with links and other elements where its figures stand."""

from __future__ import annotations

from kb.words.catalogue import cut, template

from .html import Child, Html, join


def words_around(statement_id: str, /, **children: Child) -> Html:
    """Return the words of an id as HTML, each placeholder replaced by a child.

    Parameters
    ----------
    statement_id : str
        Section and name in the catalogue of words.
    **children : str, Html or lists of them
        By placeholder; text is escaped, Html is not.

    Raises
    ------
    LookupError
        If the catalogue lacks the words, or a child that they name is not given.
    """
    words, placeholders = cut(template(statement_id))
    parts: list[Child] = [words]
    for name, _, after in placeholders:
        if name not in children:
            raise LookupError(f"'{statement_id}' has no child '{name}'")
        parts += [children[name], after]
    return join(parts)


def value_of(field: str, value: str) -> str:
    """Return what a page says for a word that a field of an entry chooses from.

    Parameters
    ----------
    field : str
        Its section in the catalogue of words, without `value-`.
    value : str
        What the entry says.

    Raises
    ------
    LookupError
        If the catalogue lacks the words.
    """
    return template(f"value-{field}.{value}")
