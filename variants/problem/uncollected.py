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
            gc.enable()
