"""Link the terms of the glossary where they first occur in the prose of a page."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator, Mapping

from kb.term_words import first_words, mentions, sieve_of, small_words

from .html import Html

BESIDE = 2
"""More signs than so must stand beside a word that is linked."""
FormsFor = Callable[[str], Mapping[str, str]]
"""From the sieve of a page's words to the terms that may stand in them."""

# None of these holds another of its own name; what they hold is a link, a heading, a value, a field
# or what a script reads, and no prose.
_NO_PROSE = (
    "a|h[1-6]|svg|script|style|form|table|code|kbd|samp|pre|button|summary|label|select|dt|nav"
    "|figcaption|textarea|title"
)
_BETWEEN = re.compile(
    rf'<({_NO_PROSE})\b[^>]*>.*?</\1>|<p class="ohm-(?:aka|source)">.*?</p>|<[^>]*>', re.DOTALL
)


def with_terms(body: Html, *, root: str, forms_for: FormsFor, own: str = "") -> Html:
    """Return a page's body with each term linked once, where it first stands in prose.

    Parameters
    ----------
    body : Html
    root : str
        The way from the page to the site's root.
    forms_for : callable
    own : str
        The term that the page is about: it leads nowhere else.
    """
    text = str.__str__(body)
    pieces = [(begin, piece, small_words(piece)) for begin, piece in _prose(text)]
    on_page: set[str] = set().union(*(words for _, _, words in pieces))
    forms = forms_for(sieve_of(on_page))
    heads = _heads(forms, on_page=on_page, own=own)
    linked, parts, done = {own}, [], 0
    for begin, piece, words in pieces:
        for mention in () if heads.keys().isdisjoint(words) else mentions(piece, forms=forms):
            # A word that stands alone is a value or a name, and no prose.
            alone = len(piece.strip()) <= mention.end - mention.begin + BESIDE
            if alone or mention.term_id in linked:
                continue
            linked.add(mention.term_id)
            heads = {word: left for word, ids in heads.items() if (left := ids - linked)}
            at, end = begin + mention.begin, begin + mention.end
            href = html.escape(f"{root}terms/{mention.term_id}.html")
            parts += [text[done:at], f'<a class="ohm-word" href="{href}">{text[at:end]}</a>']
            done = end
    return Html("".join([*parts, text[done:]]))


def _heads(forms: Mapping[str, str], *, on_page: set[str], own: str) -> dict[str, set[str]]:
    """Return each word of a page that a term may begin with → the terms that it would be."""
    heads: dict[str, set[str]] = {}
    for form, term_id in forms.items() if on_page else ():
        for word in on_page.intersection(first_words(form)) if term_id != own else ():
            heads.setdefault(word, set()).add(term_id)
    return heads


def _prose(text: str) -> Iterator[tuple[int, str]]:
    """Yield each piece of prose between tags, and where it begins."""
    past = 0
    for found in _BETWEEN.finditer(text):
        if found.start() > past:
            yield past, text[past : found.start()]
        past = found.end()
    if past < len(text):
        yield past, text[past:]
