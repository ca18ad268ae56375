"""TOML whose values know where they stand.

Values come from the standard library's reader. Only when a message needs a place is the text read
a second time, with a grammar that keeps positions: a good file pays nothing for it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.files import read_text

if TYPE_CHECKING:
    from tree_sitter import Node

#: Steps from the root of a document to a value: keys, and indexes into arrays.
KeyPath = tuple[str | int, ...]
_PLACE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column \d+|end of document)\)")
_TABLES = ("table", "table_array_element")


class TomlDocument:
    """One TOML text: its values, and where each stands.

    Parameters
    ----------
    text : str
    file : str
        Name to show in messages.

    Raises
    ------
    InputError
        When the text is no TOML, or repeats a key.
    """

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        try:
            self.value: Mapping[str, object] = tomllib.loads(text)
        except tomllib.TOMLDecodeError as problem:
            raise InputError([self._syntax_fault(str(problem))]) from None
        except RecursionError:
            raise InputError([Fault(Origin(file), "brackets nest too deep")]) from None

    @classmethod
    def read(cls, path: str | Path) -> TomlDocument:
        """Read a file; ``-`` is standard input."""
        return cls(read_text(path), "(standard input)" if str(path) == "-" else str(path))

    def _syntax_fault(self, message: str) -> Fault:
        place = _PLACE.search(message)
        line = int(place["line"]) if place and place["line"] else self.text.count("\n") + 1
        what = _PLACE.sub("", message)
        if "overwrite" in what or "twice" in what or "already" in what or "mutate" in what:
            return Fault(
                Origin(self.file, line),
                "a key or a table is given twice",
                "keep one of the two",
            )
        return Fault(
            Origin(self.file, line),
            f"is not valid TOML here: {what[:1].lower()}{what[1:]}",
            'values look like: name = "text", size = 14, sizes = [12, 14]',
        )

    def origin(self, path: KeyPath) -> Origin:
        """Return where a value stands; the nearest enclosing one when it stands nowhere."""
        field = ".".join(str(step) for step in path if isinstance(step, str))
        for length in range(len(path), 0, -1):
            line = self._lines.get(path[:length])
            if line is not None:
                return Origin(self.file, line, field)
        return Origin(self.file, 1, field)

    @cached_property
    def _lines(self) -> dict[KeyPath, int]:
        import tree_sitter
        import tree_sitter_toml

        language = tree_sitter.Language(tree_sitter_toml.language())
        tree = tree_sitter.Parser(language).parse(self.text.encode())
        lines: dict[KeyPath, int] = {}
        counts: dict[KeyPath, int] = {}
        for node in tree.root_node.named_children:
            if node.type == "pair":
                _walk_pair(node, (), lines)
            elif node.type in _TABLES:
                _walk_table(node, lines, counts)
        return lines


def _line(node: Node) -> int:
    return int(node.start_point[0]) + 1


def _key(node: Node) -> KeyPath:
    """Return the steps that a key spells, dotted or quoted."""
    if node.type == "dotted_key":
        return tuple(step for child in node.named_children for step in _key(child))
    text = (node.text or b"").decode()
    return (text[1:-1] if node.type == "quoted_key" else text,)


def _resolve(path: KeyPath, counts: Mapping[KeyPath, int]) -> KeyPath:
    """Insert the index of the last element wherever a step names an array of tables."""
    resolved: KeyPath = ()
    for step in path:
        resolved = (*resolved, step)
        if resolved in counts:
            resolved = (*resolved, counts[resolved] - 1)
    return resolved


def _walk_table(node: Node, lines: dict[KeyPath, int], counts: dict[KeyPath, int]) -> None:
    header, *pairs = node.named_children
    *parents, last = _key(header)
    path = (*_resolve(tuple(parents), counts), last)
    if node.type == "table_array_element":
        counts[path] = counts.get(path, 0) + 1
        path = (*path, counts[path] - 1)
    lines[path] = _line(node)
    for pair in pairs:
        if pair.type == "pair":
            _walk_pair(pair, path, lines)


def _walk_pair(node: Node, base: KeyPath, lines: dict[KeyPath, int]) -> None:
    key, *values = node.named_children
    path = (*base, *_key(key))
    lines[path] = _line(node)
    for value in values:
        _walk_value(value, path, lines)


def _walk_value(node: Node, path: KeyPath, lines: dict[KeyPath, int]) -> None:
    if node.type == "inline_table":
        for pair in node.named_children:
            if pair.type == "pair":
                _walk_pair(pair, path, lines)
    elif node.type == "array":
        elements: Sequence[Node] = [child for child in node.named_children if child.type != "comment"]
        for index, child in enumerate(elements):
            lines[(*path, index)] = _line(child)
            _walk_value(child, (*path, index), lines)
