"""What a lot of vectors has met: the states and refusals of each kind."""

from __future__ import annotations

import math
from collections.abc import Iterable

from tests.site.vectors import Vector


def states_of(vector: Vector) -> Iterable[str]:
    """Name what this vector met: verdicts and what dominates, kinds, states, refusals."""
    if "answer" not in vector.told:
        yield next(iter(vector.told))
        yield from _refused(vector)
        return
    answer = vector.told["answer"]
    match vector.kind:
        case "verdict":
            verdict = answer["verdict"]
            yield verdict["verdict"]
            if verdict["dominant"]:
                yield f"dominant {verdict['dominant']}"
            if verdict["termsK"]["curve"]:
                yield "curve counts"
            if verdict["settling"]:
                yield f"settled by {[*verdict['settling']['terms'], 'none alone'][0]}"
                yield "meter can" if verdict["settling"]["meterCan"] else "meter cannot"
            if not verdict["limitKnown"]:
                yield "limit unknown"
        case "explain":
            yield from (one["kind"] for one in answer) if answer else ["nothing fits"]
            yield f"{len(answer)} lines of {len(vector.asked['readings'])}"
            for one in answer:
                yield from (f"or {cause['kind']}" for cause in one["causes"])
        case "practice":
            yield answer["hidden"]["kind"]
            yield from {read["verdict"]["verdict"] for read in answer["reads"]}
            yield f"board {answer['board']['state']}"
            yield f"windings {answer['windings']['state']}"
            yield f"earth {answer['earth']['state']}"
            yield answer["proof"]["state"]
        case "round" | "exchanged":
            for place in answer["places"]:
                yield from (sensor["state"] for sensor in place["standing"].values())
                if place["split"]:
                    yield "split"
                if place["doubtful"]:
                    yield "doubtful"
            yield "one pair" if answer["exchanged"] else "none"
        case "which":
            parting = answer["parting"]
            certain = parting and parting["certain"]
            yield "separable" if answer["separable"] else "not separable"
            yield ("parts for certain" if certain else "never parts") if parting else "no parting"
        case "winding":
            yield answer["balance"]["state"] or "no limit"
            digits = {*answer["digits"].values()} - {math.inf}
            yield "one range" if len(digits) == 1 else "two ranges"
        case "winding-value":
            yield answer["state"] or "no limit"
        case "insulation":
            checks = [one["whose"] for one in answer["checks"]]
            yield f"{answer['beyond'] or 'corrected'} {answer['state']}"
            if checks == ["part"]:
                yield "standard left out"
            yield from (f"{one['whose']} {one['state']}" for one in answer["checks"])
        case "answer-reading" | "answer-loop":
            yield from _states_of_answer(answer)
        case "answer-winding":
            yield from _states_of_windings(answer)
        case "answer-insulation":
            yield from _states_of_insulation(answer["answer"])
        case "spelling":
            yield "a slip" if answer["slip"] else "no slip"
            yield "alike" if answer["look"] != answer["form"] else "as it is"
        case "blinks":
            yield ("none", "one", "long or short", "or one of each kind")[len(answer)]
        case "families-named":
            yield ("none", "one family", "several")[min(2, len(answer["familyIds"]))]
        case "find-codes":
            yield "found" if len(answer["codeIds"]) == 1 else "several"
        case kind if kind in FLOOR:
            yield from _statement_ids(answer["answer"])
        case "grid":
            yield vector.asked["method"]
        case "seeded":
            yield "drawn"
        case "drills":
            yield "none" if not answer["drills"] else "a set"
            yield from (f"{drill['kind']} {drill['form']}" for drill in answer["drills"])
            yield from (mark.get("refused") or mark["words"]["id"] for mark in answer["marks"])
            verdicts = (d["because"][-1]["id"] for d in answer["drills"] if d["kind"] == "verdict")
            yield from verdicts
        case "curve-pair":
            yield "answer"
        case "divider" | "notation" | "rounding":
            yield vector.asked["name"]


FLOOR = (
    "answer-round",
    "answer-which",
    "answer-lookup",
    "answer-stand-in",
    "answer-pair",
    "answer-volts",
    "answer-controller",
    "live-rating",
    "directed-round",
    "directed-lookup",
)
"""Kinds whose branches are known by what they say."""


def _statement_ids(value: object) -> Iterable[str]:
    if isinstance(value, dict):
        if isinstance(value.get("id"), str) and "figures" in value:
            yield value["id"]
        for inner in value.values():
            yield from _statement_ids(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _statement_ids(inner)


def _states_of_answer(answer: dict[str, object]) -> Iterable[str]:
    if "answer" not in answer:
        yield "expected"
        return
    found = answer["answer"]
    yield found["state"]
    yield found["headline"]["id"]
    follows = found.get("next") or found
    yield follows["instruction"] or "no instruction"
    yield f"of {follows.get('whose') or 'nobody'}"
    yield from (statement["id"] for statement in follows.get("first", ()))
    yield from (statement["id"] for statement in found.get("beside", ()))
    yield from (statement["id"] for statement in found.get("counted", ()))
    for explained in found.get("explanations", ()):
        yield explained["statement"]["id"]
    excluded = found.get("excluded")
    if excluded:
        yield from (statement["id"] for statement in excluded["statements"])
        yield from (f"{limit['name']} {limit['state']}" for limit in excluded["limits"])
    settling = found.get("settling")
    if settling:
        yield from (statement["id"] for statement in settling["statements"])
        yield from (way["statement"]["id"] for way in settling["ways"])
        if settling["otherwise"]:
            yield settling["otherwise"]["id"]


def _states_of_windings(answer: dict[str, object]) -> Iterable[str]:
    if "refusals" in answer:
        yield "several refused" if len(answer["refusals"]) > 1 else "at most one refused"
        return
    found = answer["answer"]
    yield found["headline"]["id"]
    yield from (fault["id"] for fault in found["headline"]["figures"].get("faults", ()))
    yield from (statement["id"] for statement in (*found["notes"], *found["advice"]))
    if found["names"]:
        yield found["names"]["id"]
    if found["better"]:
        yield "better"
    yield f"{min(len(found['balances']), 2)} balances"


def _states_of_insulation(found: dict[str, object]) -> Iterable[str]:
    yield found["headline"]["id"]
    lines = (*found["beside"], *found["checks"], found["read"], *found["notes"])
    yield from (statement["id"] for statement in lines)
    if found["overRange"]:
        yield f"over range {found['state']}"


def _refused(vector: Vector) -> Iterable[str]:
    if "refusal" in vector.told:
        yield vector.told["refusal"]["statement"]["id"]
