"""The quick suite holds a part of every test's seeds, and the whole one holds them all."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import settings

from tests.breadth import USUAL, examples, seeds
from tests.real import ROOT


def test_a_tenth_of_the_seeds_is_quick_and_none_is_lost() -> None:
    every = seeds(range(5, 45))
    assert every[:4] == [5, 6, 7, 8]
    assert [one.values for one in every[4:]] == [(seed,) for seed in range(9, 45)]
    assert all([mark.name for mark in one.marks] == ["slow"] for one in every[4:])
    assert seeds(range(3))[0] == 0


def test_a_law_gets_its_share_of_the_examples_of_a_run() -> None:
    assert examples(USUAL) == settings().max_examples
    assert examples(5 * USUAL) == 5 * settings().max_examples
    assert examples(1) >= 1


@pytest.mark.parametrize(("options", "count"), [((), 20), (("-m", ""), 200)])
def test_what_a_run_collects(options: tuple[str, ...], count: int) -> None:
    words = ["pytest", "--collect-only", "-q", *options, "tests/explain/derivation/test_lattice.py"]
    told = subprocess.run(
        [sys.executable, "-m", *words, "-k", "fewest"], cwd=ROOT, capture_output=True, text=True
    ).stdout
    assert sum("fewest_changes" in line for line in told.splitlines()) == count, told
