"""How much a run tries of what is drawn at random: a part before a commit, all of it in CI.

``pytest`` runs the quick suite. ``pytest -m ""`` runs the whole one: every seed, and five times as
many examples of every law.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import settings

#: Examples of a law that says no number itself, in the whole suite.
USUAL = 60
#: One seed of so many is in the quick suite.
ONE_OF = 10


def seeds(every: range) -> list[Any]:
    """Return seeds to parametrize a test with: the first tenth, and the others marked as slow."""
    return most_are_slow(every, max(1, len(every) // ONE_OF))


def most_are_slow(every: Iterable[Any], quick: int) -> list[Any]:
    """Return values to parametrize a test with, all but the first few marked as slow."""
    marks = pytest.mark.slow
    return [
        pytest.param(*(value if isinstance(value, tuple) else (value,)), marks=marks)
        if place >= quick
        else value
        for place, value in enumerate(every)
    ]


def examples(whole: int) -> int:
    """Return how many examples a law gets that gets so many in the whole suite.

    The profile of hypothesis decides, which `tests.conftest` loads before tests are collected.
    """
    return max(1, round(whole * settings().max_examples / USUAL))
