"""The list of published sources that checks rest on, and what a mark that names one must say."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Sequence
from functools import cache
from pathlib import Path

import pytest

SOURCES = Path(__file__).with_name("sources.toml")
STATED = ("author", "title", "year", "read")


@cache
def known_keys() -> frozenset[str]:
    """Return the keys of the sources; each states author, title, year and where to read it."""
    sources = tomllib.loads(SOURCES.read_text(encoding="utf-8"))
    for key, source in sources.items():
        missing = [field for field in STATED if not source.get(field)]
        if missing:
            lacks = ", ".join(missing)
            raise pytest.UsageError(f"{SOURCES.name}: {key} does not state its {lacks}")
    return frozenset(sources)


def fault_of(
    marks: Sequence[pytest.Mark], must_have_one: bool, known: Collection[str]
) -> str | None:
    """Return what is wrong with the source marks of a test, or None."""
    if must_have_one and not marks:
        return '@pytest.mark.source("key", "page") is missing: a published fact has its source'
    for mark in marks:
        if len(mark.args) != 2 or mark.kwargs or not all(isinstance(one, str) for one in mark.args):
            return f"source{mark.args} is not a key and a page"
        key, page = mark.args
        if key not in known:
            return f"the source '{key}' stands in no {SOURCES.name}"
        if not page.strip():
            return f"the source '{key}' is named without a page"
    return None
