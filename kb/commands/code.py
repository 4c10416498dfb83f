"""`ohmfolio code`: a code's page in the terminal, what to check first at the top."""

from __future__ import annotations

import re
from pathlib import Path

import click

from kb.answers.code_checks import CodeAnswer, answer_code
from kb.answers.code_lookup import CodeQuestion, find_codes
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.check import check_notes
from kb.code_facts import code_facts, known_codes
from kb.model import Code, Family
from kb.notes.problem import nearest
from kb.words.phrase import phrase

from .code_words import code_words
from .options import NotUnderstood, json_option, notes_option, say_json

_DRAWN = re.compile(r"[-_.*•· ]+")
"""A lamp's blinks as somebody draws them: `-- ....`."""


class _DrawnBlinks(click.Command):
    """Take blinks that somebody drew for what they are: their dashes begin no option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Write a drawn dash as the longer one, which reads the same and is no option's."""
        if any(arg != "--" and _DRAWN.fullmatch(arg) for arg in args):
            args = [arg.replace("-", "–") if _DRAWN.fullmatch(arg) else arg for arg in args]
        return super().parse_args(ctx, args)


@click.command(cls=_DrawnBlinks)
@click.argument("family", metavar="FAMILY")
@click.argument("shown", metavar="SHOWN", nargs=-1, required=True)
@notes_option
@json_option
def code(family: str, shown: tuple[str, ...], notes: Path, as_json: bool) -> None:
    """Say what a code means on a family, and what to check in which order.

    SHOWN is the code however you type it: k4-2, K42, or its blinks as '4 long 2 short', 4L2S,
    4-2 or '---- ..'; '3 blinks', 3x or 3 where all of them are alike.

    Example: ohmfolio code quellmark-rooftop k42
    """
    catalog = Catalog(check_notes(notes))
    families = catalog.all(Family)
    if family not in families:
        raise NotUnderstood(f"no family is called '{family}'; {nearest(family, families)}")
    found = _found(catalog, family=families[family], shown=" ".join(shown))
    answers = {code.id: answer_code(code_facts(catalog, code=code)) for code in found}
    if as_json:
        say_json([_as_dict(code, answer=answers[code.id]) for code in found])
        return
    texts = [code_words(catalog, code=code, answer=answers[code.id]) for code in found]
    click.echo("\n\n".join(texts))


def _found(catalog: Catalog, *, family: Family, shown: str) -> list[Code]:
    question = CodeQuestion(
        shown=shown, family=family.name, codes=known_codes(catalog, family=family)
    )
    try:
        found = find_codes(question)
    except Refusal as refusal:
        raise NotUnderstood(phrase(refusal.statement)) from None
    return [catalog.get(Code, code_id) for code_id in found.code_ids]


def _as_dict(code: Code, *, answer: CodeAnswer) -> dict[str, object]:
    suspects = [check.suspect for check in answer.checks]
    return {
        "code": code.id,
        "shown": [way.spoken() for way in code.shown],
        "meaning": code.meaning,
        "expected_min": answer.expected_min,
        "suspects": [
            {
                "sensor": suspect.sensor,
                "part": suspect.part,
                "what": suspect.what,
                "share": suspect.share,
                "minutes": suspect.minutes,
                "cases": suspect.cases,
                "of_cases": suspect.of_cases,
            }
            for suspect in suspects
        ],
    }
