"""Collecting is paused and left as it was found."""

from __future__ import annotations

import gc

import pytest

from variants.design import gc_paused


@pytest.mark.parametrize("is_on", [True, False])
def test_collecting_is_afterwards_as_it_was(is_on: bool) -> None:
    was_on = gc.isenabled()
    try:
        (gc.enable if is_on else gc.disable)()
        with gc_paused():
            assert not gc.isenabled()
        assert gc.isenabled() == is_on
    finally:
        (gc.enable if was_on else gc.disable)()
