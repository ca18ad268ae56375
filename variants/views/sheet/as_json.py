"""The bench sheet as JSON, in one documented and versioned shape.

``sheet --json`` prints an object with ``version`` (1) and

- ``name``, ``style``, ``note``, ``source``, ``size``, ``water``, ``place``, ``which`` (``as
  written``, with the counts that the water changes, or which variant), ``departure``, ``hook``
  (its dimensions in words);
- ``lines``: the dressing in traditional order, each ``part``, ``stuff``, ``shades`` (sRGB),
  ``counts``, ``from_box`` and ``is_changed``;
- ``steps``: each ``part``, ``says``, ``source`` and ``target`` (None, or ``right_mm``, ``low_mm``,
  ``high_mm``, ``tied_mm``, ``inches``, ``gauge_size``);
- ``substitutions``: each ``part``, ``asked``, ``used`` and ``reasons`` (cost, words, source);
- ``asks`` (what the water's owner asks), ``materials`` and ``cautions`` (``law``, ``unknown``,
  ``hazards``, ``advice``);
- ``kit``, ``students`` and ``flies_each``: the kit of a class, where one was asked for.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from variants.views.sheet.sheet import BenchSheet

VERSION = 1


def sheet_json(sheet: BenchSheet) -> dict[str, Any]:
    """Return the answer of `sheet`."""
    return {"version": VERSION, **asdict(sheet)}
