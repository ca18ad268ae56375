"""Pauses Python's search for cyclic garbage while many objects and no cycles are made."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def gc_paused() -> Iterator[None]:
    """Pause the cyclic garbage collector for a block; what was paused before stays so.

    Candidates are made by the ten thousand and none is in a cycle; looking for cycles among them
    again and again takes longer than making them.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
