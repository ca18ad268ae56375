"""Collecting is paused and left as it was found."""

from __future__ import annotations

import gc

import pytest

from variants.design import uncollected


@pytest.mark.parametrize("is_on", [True, False])
def test_collecting_is_afterwards_as_it_was(is_on: bool) -> None:
    was_on = gc.isenabled()
    try:
        (gc.enable if is_on else gc.disable)()
        with uncollected():
            assert not gc.isenabled()
        assert gc.isenabled() == is_on
    finally:
        (gc.enable if was_on else gc.disable)()


def test_what_is_made_meanwhile_is_old_afterwards() -> None:
    gc.collect()
    with uncollected():
        made = [[] for _ in range(1000)]  # type: ignore[var-annotated]
    old = {id(one) for one in gc.get_objects(generation=2)}
    assert all(id(one) in old for one in made)


def test_what_somebody_froze_stays_frozen() -> None:
    gc.freeze()
    try:
        before = gc.get_freeze_count()
        with uncollected():
            pass
        assert gc.get_freeze_count() == before > 0
    finally:
        gc.unfreeze()
