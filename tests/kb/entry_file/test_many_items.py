"""Lists of thousands of items change in a few steps: each step reads the whole file."""

from __future__ import annotations

import pytest
import yaml

from kb.entry_file import edited as module
from kb.entry_file.edited import edited
from kb.notes.yaml_text import read_yaml

COUNT = 2_000


def _value(items: list[str]) -> dict[str, object]:
    return {"name": "a", "was": items, "note": "b"}


def _text(items: list[str], *, flow: bool) -> str:
    if flow:
        return f"name: a\nwas: [{', '.join(items)}]  # kept\nnote: b\n"
    return "name: a\nwas:\n" + "".join(f"- {item}\n" for item in items) + "# kept\nnote: b\n"


@pytest.mark.parametrize("flow", [True, False])
@pytest.mark.parametrize("grows", [True, False])
def test_items_come_and_go_in_a_few_steps(monkeypatch, flow, grows):
    few, many = ["x0", "x1"], [f"x{n}" for n in range(COUNT)]
    before, after = (few, many) if grows else (many, few)
    steps, compose = [], yaml.compose
    monkeypatch.setattr(
        module.yaml, "compose", lambda *words, **more: steps.append(1) or compose(*words, **more)
    )
    text = edited(_text(before, flow=flow), value=_value(after), order=lambda way: ())
    assert read_yaml(text, file="").value == _value(after)
    assert text == _text(after, flow=flow)
    assert len(steps) <= 3


def test_comments_between_items_that_go_stay():
    text = "name: a\nwas:\n- x0\n# of the first\n- x1\n# of the second\n- x2\nnote: b\n"
    assert edited(text, value=_value(["x0"]), order=lambda way: ()) == (
        "name: a\nwas:\n- x0\n# of the first\n# of the second\nnote: b\n"
    )
