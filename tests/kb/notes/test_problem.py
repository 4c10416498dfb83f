"""How a problem is told, and how the nearest word is found."""

from __future__ import annotations

from kb.notes.problem import Problem, nearest


def test_a_problem_is_a_headline_the_line_a_caret_and_a_hint():
    problem = Problem("a.yaml", 3, 7, "value", "what is wrong", "do this", text="name: x")
    assert problem.picture() == (
        "a.yaml:3:7: value: what is wrong\n    name: x\n          ^\n    hint: do this"
    )


def test_a_warning_says_so_in_its_headline():
    assert Problem("a", 1, 1, "orphan", "w", warning=True).headline() == "a:1:1: warning: orphan: w"


def test_problems_sort_by_file_then_place():
    told = [
        Problem("b", 1, 1, "r", "m"),
        Problem("a", 10, 1, "r", "m"),
        Problem("a", 9, 5, "r", "m"),
    ]
    assert [(one.file, one.line) for one in sorted(told)] == [("a", 9), ("a", 10), ("b", 1)]


def test_the_nearest_word_is_named_or_those_there_are():
    assert nearest("platinum-hundert", ["platinum-hundred", "beta"]) == (
        "did you mean 'platinum-hundred'?"
    )
    assert nearest("PT", ["pt", "beta"]) == "did you mean 'pt'?"
    assert nearest("zzz", ["b", "a"]) == "there is: a, b"
    assert nearest("zzz", [f"w{i}" for i in range(10)]).endswith("w7 and 2 more")
    assert nearest("zzz", []) == ""
