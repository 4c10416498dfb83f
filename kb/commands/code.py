"""`ohmfolio code`: a code's page in the terminal, what to check first at the top."""

from __future__ import annotations

import re
from pathlib import Path

import click

from kb.answers.code_checks import CodeAnswer, answer_code
from kb.answers.code_lookup import CodeQuestion, find_codes, find_in_families
from kb.answers.statement import Refusal
from kb.catalog import Catalog
from kb.code_facts import code_facts, known_codes, known_families
from kb.model import Code, Family
from kb.notes.late import open_notes
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
@click.argument("asked", metavar="[FAMILY] SHOWN", nargs=-1, required=True)
@notes_option
@json_option
def code(asked: tuple[str, ...], notes: Path, as_json: bool) -> None:
    """Say what a code means on a family, and what to check in which order.

    SHOWN is the code however you type it: k4-2, K42, or its blinks as '4 long 2 short', 4L2S,
    4-2, 42 or '---- ..'; '3 blinks', 3x or 3 where all of them are alike. FAMILY is its id, or
    any words that name it, beside the code: 'rooftop flashes 4 long 2 short'. Without it the
    code is looked for on every family, and one that several show is refused.

    Example: ohmfolio code quellmark-rooftop k42
    """
    catalog = Catalog(open_notes(notes))
    found = _found(catalog, asked=asked)
    answers = {code.id: answer_code(code_facts(catalog, code=code)) for code in found}
    if as_json:
        say_json([_as_dict(code, answer=answers[code.id]) for code in found])
        return
    texts = [code_words(catalog, code=code, answer=answers[code.id]) for code in found]
    click.echo("\n\n".join(texts))


def _found(catalog: Catalog, *, asked: tuple[str, ...]) -> list[Code]:
    families = catalog.all(Family)
    family = families.get(asked[0])
    try:
        if family is None:
            code_ids = find_in_families(" ".join(asked), families=known_families(catalog)).code_ids
        else:
            question = CodeQuestion(
                shown=" ".join(asked[1:]),
                family=family.name,
                codes=known_codes(catalog, family=family),
            )
            code_ids = find_codes(question).code_ids
    except Refusal as refusal:
        why = phrase(refusal.statement)
        if refusal.statement.id == "code.unknown-anywhere" and len(asked) > 1:
            why = f"no family is called '{asked[0]}'; {nearest(asked[0], families)}"
        raise NotUnderstood(why) from None
    return [catalog.get(Code, code_id) for code_id in code_ids]


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
