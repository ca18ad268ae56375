"""TOML with the line of every value.

Values come from the standard library's parser. Only when a message needs a line is the text parsed
a second time, into a syntax tree with positions: a good file pays nothing for it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.files import check_letters, read_text, shown_name
from variants.reading.toml_faults import explain_error, explain_repetition, find_position

if TYPE_CHECKING:
    from tree_sitter import Node, Tree

#: Steps from the root of a document to a value: keys, and indexes into arrays.
KeyPath = tuple[str | int, ...]
_TABLES = ("table", "table_array_element")
_NESTING = ("array", "inline_table", "dotted_key")
#: No file of ours needs more than a handful; deeper ones could only exhaust what walks them.
_DEEPEST = 24
#: Names so dotted nest too deep; the standard reader takes long over them.
_DOTTED = re.compile(r"\.(?:[ \t]*[\w\"'-]+[ \t]*\.){99}")


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
        When the text is no TOML, repeats a key, nests deeper than 24 levels, or is longer than
        400 000 letters.
    """

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        check_letters(text, file)
        dotted = _DOTTED.search(text)
        if dotted is not None:
            raise InputError([self._dotted_fault(text.count("\n", 0, dotted.start()) + 1)])
        try:
            self.value: Mapping[str, object] = tomllib.loads(text)
        except RecursionError:
            raise InputError([self._nesting_fault()]) from None
        except ValueError as problem:
            # Besides its own errors the standard reader lets those of huge numbers through.
            raise InputError([self._syntax_fault(str(problem))]) from None
        if _depth(self.value) > _DEEPEST:
            raise InputError([self._nesting_fault()])

    @classmethod
    def read(cls, path: str | Path) -> TomlDocument:
        """Read a file; ``-`` is standard input."""
        return cls(read_text(path), shown_name(path))

    def _syntax_fault(self, message: str) -> Fault:
        line, column = find_position(message, self.text)
        twice = explain_repetition(message)
        if twice:
            index = _LineIndex(self._tree)
            if index.repeated is not None:
                path, first, line = index.repeated
                return Fault(
                    Origin(self.file, line, _field(path)),
                    f"is given twice, first in line {first}",
                    "keep one of the two",
                )
            return Fault(Origin(self.file, line), *twice)
        return Fault(Origin(self.file, line, column=column), *explain_error(message))

    def _nesting_fault(self) -> Fault:
        # A bracket that is never closed makes no node: its line is the one with most of them.
        lines = [line.count("[") + line.count("{") for line in self.text.split("\n")]
        deep = _too_deep(self._tree.root_node)
        line = next((_line(node) for node in deep), lines.index(max(lines)) + 1)
        return self._dotted_fault(line)

    def _dotted_fault(self, line: int) -> Fault:
        remedy = f"nothing here nests deeper than {_DEEPEST} levels"
        return Fault(Origin(self.file, line), "brackets or dotted names nest too deep", remedy)

    def origin(self, path: KeyPath) -> Origin:
        """Return the line of a value; the text may have the nearest enclosing one only."""
        for length in range(len(path), 0, -1):
            line = self._lines.lines.get(path[:length])
            if line is not None:
                return Origin(self.file, line, _field(path))
        return Origin(self.file, 1, _field(path))

    @cached_property
    def _tree(self) -> Tree:
        import tree_sitter
        import tree_sitter_toml

        language = tree_sitter.Language(tree_sitter_toml.language())
        return tree_sitter.Parser(language).parse(self.text.encode())

    @cached_property
    def _lines(self) -> _LineIndex:
        return _LineIndex(self._tree)


def _field(path: KeyPath) -> str:
    return ".".join(step for step in path if isinstance(step, str))


def _depth(value: object) -> int:
    """Return how deep tables and arrays nest; a loop, since a recursion is what it guards."""
    depth, level = 0, [value]
    while level and depth <= _DEEPEST:
        depth += 1
        level = [
            inner
            for outer in level
            if isinstance(outer, dict | list)
            for inner in (outer.values() if isinstance(outer, dict) else outer)
        ]
    return depth


def _too_deep(root: Node) -> Iterator[Node]:
    """Yield the nodes, first to last, that lie deeper in brackets or dots than is allowed."""
    waiting = [(root, 0)]
    while waiting:
        node, depth = waiting.pop()
        depth += node.type in _NESTING
        if depth >= _DEEPEST:
            yield node
        else:
            waiting += [(child, depth) for child in reversed(node.named_children)]


def _line(node: Node) -> int:
    return int(node.start_point[0]) + 1


def _key(node: Node) -> tuple[str, ...]:
    """Return the steps that a key spells, dotted or quoted, escapes undone."""
    if node.type == "dotted_key":
        steps: tuple[str, ...] = ()
        while node.type == "dotted_key":
            node, *later = node.named_children
            steps = (*(_key(later[0]) if later else ()), *steps)
        return (*_key(node), *steps)
    text = (node.text or b"").decode()
    if node.type == "quoted_key":
        text = str(tomllib.loads(f"key = {text}")["key"])
    return (text,)


class _LineIndex:
    """The line of every value of a document, and the first key that stands twice in it."""

    def __init__(self, tree: Tree) -> None:
        self.lines: dict[KeyPath, int] = {}
        self.repeated: tuple[KeyPath, int, int] | None = None
        self._counts: dict[KeyPath, int] = {}
        self._implied: set[KeyPath] = set()
        for node in tree.root_node.named_children:
            if node.type == "pair":
                self._pair(node, ())
            elif node.type in _TABLES:
                self._table(node)

    def _note(self, path: KeyPath, line: int) -> None:
        """Note where a value is stated; the tables around it stand there too until stated."""
        if path in self.lines and path not in self._implied and self.repeated is None:
            self.repeated = (path, self.lines[path], line)
        self._implied.discard(path)
        self.lines[path] = line
        for length in range(1, len(path)):
            if path[:length] not in self.lines:
                self._implied.add(path[:length])
                self.lines[path[:length]] = line

    def _resolve(self, path: KeyPath) -> KeyPath:
        """Insert the index of the last element wherever a step names an array of tables."""
        resolved: KeyPath = ()
        for step in path:
            resolved = (*resolved, step)
            if resolved in self._counts:
                resolved = (*resolved, self._counts[resolved] - 1)
        return resolved

    def _table(self, node: Node) -> None:
        header, *pairs = node.named_children
        *parents, last = _key(header)
        path: KeyPath = (*self._resolve(tuple(parents)), last)
        if node.type == "table_array_element":
            self._counts[path] = self._counts.get(path, 0) + 1
            path = (*path, self._counts[path] - 1)
        self._note(path, _line(node))
        for pair in pairs:
            if pair.type == "pair":
                self._pair(pair, path)

    def _pair(self, node: Node, base: KeyPath) -> None:
        key, *values = node.named_children
        path = (*base, *_key(key))
        self._note(path, _line(node))
        for value in values:
            self._value(value, path)

    def _value(self, node: Node, path: KeyPath) -> None:
        if node.type == "inline_table":
            for pair in node.named_children:
                if pair.type == "pair":
                    self._pair(pair, path)
        elif node.type == "array":
            elements = [child for child in node.named_children if child.type != "comment"]
            for index, child in enumerate(elements):
                self._note((*path, index), _line(child))
                self._value(child, (*path, index))
