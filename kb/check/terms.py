"""Each word of the glossary has one meaning, and says it in a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from kb.model import Term
from kb.notes.load import Notes
from kb.notes.problem import Problem

_NEXT_SENTENCE = re.compile(r"[a-zß)]{3,}[.!?]\s+[A-ZÄÖÜ]")


def forms_of(term: Term) -> Iterator[str]:
    """Yield each word of a term as it is looked for: no other may claim it."""
    for form in term.forms:
        yield form.casefold()


def terms_mean_one_thing(terms: Sequence[Term], *, notes: Notes) -> Iterator[Problem]:
    """Yield each word that two terms claim: a page can lead to one of them only."""
    first: dict[str, Term] = {}
    for term in terms:
        for i, form in enumerate(forms_of(term)):
            other = first.setdefault(form, term)
            if other is not term:
                yield notes.problem(
                    term,
                    ("name",) if i == 0 else ("aka", i - 1),
                    "term-twice",
                    f"'{term.forms[i]}' is a word of the term '{other.id}' too",
                    hint="take it out of one of them, and name the other in its 'see'",
                )


def meanings_are_short(term: Term, *, notes: Notes) -> Iterator[Problem]:
    """Warn of a meaning that goes on: whoever looks a word up wants one sentence."""
    if _NEXT_SENTENCE.search(term.means):
        yield notes.problem(
            term,
            ("means",),
            "long-meaning",
            "this meaning has more than one sentence",
            hint="leave the first here, and write the others in 'more'",
            warning=True,
        )
