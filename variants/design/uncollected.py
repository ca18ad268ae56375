"""Work that makes many objects and no cycles, spared the search for cycles."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected() -> Iterator[None]:
    """Pause the search for garbage in cycles while something large is built.

    Offers and candidates are made by the ten thousand and none is in a cycle; looking for cycles
    among them again and again takes longer than making them. What was paused before stays so.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            _call_them_old()
            gc.enable()


def _call_them_old() -> None:
    """Count all that was made among the old objects, which are seldom looked through.

    Else they would be looked through as soon as collecting goes on, which takes as long as much of
    the work. Python has no direct way, but what is frozen and thawed comes back as old; where
    somebody keeps objects frozen, that is left alone.
    """
    if gc.get_freeze_count() == 0:
        gc.freeze()
        gc.unfreeze()
