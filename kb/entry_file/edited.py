"""Change an entry's file by what its value is to be: other lines, comments and order stay."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import yaml

from kb.notes.yaml_text import read_yaml

from .yaml_words import inline, item_lines, pair_lines, scalar

Order = Callable[[tuple[str, ...]], Sequence[str]]
"""From the way to a block to its fields in the order in which people read them."""
MOST_STEPS = 4000
"""More changes than a long table has rows: then the editing goes in a circle."""


class CannotEdit(Exception):
    """A file that cannot be changed by line: broken, or written in a way that is not ours."""


def edited(text: str, *, value: Mapping[str, object], order: Order) -> str:
    """Return the text of a file that then holds `value`.

    Parameters
    ----------
    text : str
        The file as it stands.
    value : mapping
        What it is to hold: texts, lists and blocks. A field that is left out is taken out.
    order : callable
        Where a new field goes.

    Raises
    ------
    CannotEdit
        When the file is broken, or the change cannot be made line by line.
    """
    for _ in range(MOST_STEPS):
        try:
            root = yaml.compose(text, Loader=yaml.BaseLoader)
        except (yaml.YAMLError, ValueError) as error:
            raise CannotEdit("the file is no YAML that can be changed by line") from error
        if not isinstance(root, yaml.MappingNode):
            raise CannotEdit("the file holds no entry")
        changed = _Step(text, order).block(root, value, ())
        if changed is None:
            break
        if changed == text:
            raise CannotEdit("the change cannot be made line by line; change the file by hand")
        text = changed
    if read_yaml(text, file="").value != value:
        raise CannotEdit("the change cannot be made line by line; change the file by hand")
    return text


class _Step:
    """The first difference between a node and what it should hold, made good in the text."""

    def __init__(self, text: str, order: Order) -> None:
        self.text, self.order = text, order

    def block(
        self, node: yaml.MappingNode, want: Mapping[str, object], way: tuple[str, ...]
    ) -> str | None:
        """Return the text with one change, or None when the block is as wanted."""
        there = {key.value: (key, inner) for key, inner in node.value}
        for at, (key, inner) in enumerate(node.value):
            if key.value not in want:
                return self._without_pair(node, at=at)
            changed = self._pair(node, key, inner, want[key.value], way)
            if changed is not None:
                return changed
        for name in want:
            if name not in there:
                return self._with_pair(node, name, want[name], way)
        return None

    def _pair(
        self,
        node: yaml.MappingNode,
        key: yaml.Node,
        inner: yaml.Node,
        want: object,
        way: tuple[str, ...],
    ) -> str | None:
        deeper = (*way, key.value)
        if isinstance(want, Mapping) and want and isinstance(inner, yaml.MappingNode):
            return self.block(inner, want, deeper)
        if isinstance(want, list) and want and isinstance(inner, yaml.SequenceNode):
            return self._items(inner, want, deeper)
        if isinstance(inner, yaml.ScalarNode) and _holds(inner, want):
            return None
        if isinstance(inner, yaml.CollectionNode) and not (want or inner.value):
            return None
        if node.flow_style:
            return self._replaced(inner, inline(want))
        start = key.start_mark
        lines = pair_lines(key.value, value=want, indent=start.column)
        lines[0] = lines[0][start.column :]
        if isinstance(inner, yaml.ScalarNode) and isinstance(want, str) and inner.value:
            return self._replaced(inner, scalar(want))
        return self.text[: start.index] + "\n".join(lines) + self.text[self._end(inner) :]

    def _items(
        self, node: yaml.SequenceNode, want: Sequence[object], way: tuple[str, ...]
    ) -> str | None:
        for at, (inner, item) in enumerate(zip(node.value, want, strict=False)):
            if isinstance(item, Mapping) and item and isinstance(inner, yaml.MappingNode):
                changed = self.block(inner, item, way)
                if changed is not None:
                    return changed
            elif not (isinstance(inner, yaml.ScalarNode) and _holds(inner, item)) and not (
                isinstance(inner, yaml.SequenceNode) and _plain(inner) == item
            ):
                inside = bool(node.flow_style)
                new = scalar(item, inside=inside) if isinstance(item, str) else inline(item)
                return self._replaced(node.value[at], new)
        if len(want) > len(node.value):
            return self._with_items(node, want[len(node.value) :])
        if len(want) < len(node.value):
            return self._without_items(node, first=len(want))
        return None

    def _replaced(self, node: yaml.Node, new: str) -> str:
        start, end = node.start_mark.index, self._end(node)
        if isinstance(node, yaml.ScalarNode) and node.style in ("|", ">"):
            # A folded text ends at the next line; what follows it keeps its own.
            return self.text[:start] + new + self.text[end:]
        lead = " " if self.text[start - 1 : start] == ":" else ""
        return self.text[:start] + lead + new + self.text[end:]

    def _with_pair(
        self, node: yaml.MappingNode, name: str, want: object, way: tuple[str, ...]
    ) -> str:
        if node.flow_style:
            end = node.end_mark.index - 1
            lead = ", " if node.value else ""
            before = self.text[:end].rstrip()
            pair = f"{lead}{scalar(name, inside=True)}: {inline(want)}"
            return before + pair + self.text[len(before) :]
        indent = node.value[0][0].start_mark.column
        new = "\n".join(pair_lines(name, value=want, indent=indent))
        earlier = self._earlier(node, name, way)
        if earlier is None:
            first = node.value[0][0].start_mark
            line = self.text.rfind("\n", 0, first.index) + 1
            if not self.text[line : first.index].strip():
                return self.text[:line] + new + "\n" + self.text[line:]
            earlier = node.value[0][1]
        at = self._line_end(self._end(earlier))
        return self.text[:at] + "\n" + new + self.text[at:]

    def _earlier(self, node: yaml.MappingNode, name: str, way: tuple[str, ...]) -> yaml.Node | None:
        """Return the value of the last field there that belongs before `name`."""
        keys = [key.value for key, _ in node.value]
        numbers = _numbers([*keys, name])
        if numbers is not None:
            before = [at for at, number in enumerate(numbers[:-1]) if number < numbers[-1]]
        else:
            ranks = {field: i for i, field in enumerate(self.order(way))}
            rank = ranks.get(name, len(ranks))
            before = [at for at, key in enumerate(keys) if ranks.get(key, len(ranks)) <= rank]
        return node.value[before[-1]][1] if before else None

    def _without_pair(self, node: yaml.MappingNode, *, at: int) -> str:
        key, inner = node.value[at]
        ends = [(k.start_mark.index, self._end(v)) for k, v in node.value]
        if node.flow_style:
            return self._cut_inside(ends, at)
        start = key.start_mark.index
        line = self.text.rfind("\n", 0, start) + 1
        if self.text[line:start].strip():
            # It stands behind the hyphen of its item: what follows moves up.
            following = ends[at + 1][0] if at + 1 < len(ends) else self._end(inner)
            return self.text[:start] + self.text[following:]
        return self.text[:line] + self.text[self._line_end(self._end(inner)) + 1 :]

    def _with_items(self, node: yaml.SequenceNode, items: Sequence[object]) -> str:
        if node.flow_style:
            end = node.end_mark.index - 1
            before = self.text[:end].rstrip()
            lead = ", " if node.value else ""
            return before + lead + ", ".join(map(inline, items)) + self.text[len(before) :]
        column = node.start_mark.column
        new = "\n".join(line for item in items for line in item_lines(item, indent=column))
        at = self._line_end(self._end(node))
        return self.text[:at] + "\n" + new + self.text[at:]

    def _without_items(self, node: yaml.SequenceNode, *, first: int) -> str:
        """Take out the last items; from the front one, which a list does not do without, by one."""
        if node.flow_style:
            ends = [(item.start_mark.index, self._end(item)) for item in node.value]
            if first == 0:
                return self._cut_inside(ends, 0)
            return self.text[: ends[first - 1][1]] + self.text[ends[-1][1] :]
        # Comments between the items stay, so each goes by its own lines; the last ones first.
        text = self.text
        for item in node.value[: first - 1 if first else None : -1]:
            line = text.rfind("\n", 0, item.start_mark.index) + 1
            text = text[:line] + text[self._line_end(self._end(item)) + 1 :]
        return text

    def _cut_inside(self, ends: Sequence[tuple[int, int]], at: int) -> str:
        if at > 0:
            return self.text[: ends[at - 1][1]] + self.text[ends[at][1] :]
        following = ends[1][0] if len(ends) > 1 else ends[0][1]
        return self.text[: ends[0][0]] + self.text[following:]

    def _end(self, node: yaml.Node) -> int:
        """Return where a node's last sign ends, without the blank lines and comments after it."""
        if isinstance(node, yaml.ScalarNode):
            end = node.end_mark.index
            if node.style in ("|", ">"):
                return len(self.text[:end].rstrip())
            return end
        assert isinstance(node, yaml.CollectionNode)
        if node.flow_style or not node.value:
            return int(node.end_mark.index)
        last = node.value[-1]
        return self._end(last[1] if isinstance(last, tuple) else last)

    def _line_end(self, at: int) -> int:
        """Return where the line ends on which a place stands, its comment included."""
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end


def _plain(node: yaml.Node) -> object:
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item) for item in node.value]
    return node.value


def _holds(node: yaml.ScalarNode, want: object) -> bool:
    if want is None:
        return node.style is None and node.value in ("", "~")
    return bool(isinstance(want, str) and node.value == want and (node.value or node.style))


def _numbers(keys: Sequence[str]) -> list[float] | None:
    """Return keys that are temperatures as numbers; None where any is a word."""
    try:
        return [float(key.replace("−", "-").replace(",", ".")) for key in keys]
    except ValueError:
        return None
