"""What the tables say nothing of: for each part and style that a tyer adds, what is left out.

A part of a tyer's own is judged by rules and filled from the box like any other; where it lies,
how it is tied and how it looks stand in tables that know only what somebody wrote into them.
"""

from __future__ import annotations

from collections.abc import Iterator

from variants.geometry import ANY, NOT_LAID, Layout
from variants.model import Style
from variants.reading.plain import Customs, Telling
from variants.rulebook import Rulebook
from variants.views.sheet.steps_table import StepsTable


def uncovered(
    rulebook: Rulebook,
    layout: Layout,
    steps: StepsTable,
    customs: Customs,
    tellings: tuple[Telling, ...],
) -> list[str]:
    """Return a sentence for each table that says nothing of a part or style that was added."""
    trade = rulebook.trade
    told = []
    for part in (one for one in trade.parts if one in trade.added):
        told += [f"the part {part}: {words}" for words in _of_part(part, rulebook, layout, steps)]
    for style in (trade.styles[one] for one in trade.styles if one in trade.added):
        words = _of_style(style, rulebook, layout, steps, customs, tellings)
        told += [f"the style {style.id}: {one}" for one in words]
    return told


def _of_part(part: str, rulebook: Rulebook, layout: Layout, steps: StepsTable) -> Iterator[str]:
    if part not in layout.places:
        yield "geometry/places.tsv has no row: it can't be drawn, reckoned or put on a bench sheet"
    else:
        yield "it is laid out and reckoned, but drawings know no shape for it"
    if not steps.rows.get(part):
        yield "bench/steps.tsv has no row: the sheet names it without saying how it is tied"
    kind = rulebook.trade.parts[part]
    if not any(one.functions & kind.functions for one in rulebook.trade.materials.values()):
        yield "no material in materials/ serves as it: nothing from a box can fill it"
    if not any(part in rule.parts for rule in rulebook.rules):
        yield "no rule in trade/ speaks of it"
    if not any(style.part(part) for style in rulebook.trade.styles.values()):
        yield "no style in styles/ has it"


def _of_style(
    style: Style,
    rulebook: Rulebook,
    layout: Layout,
    steps: StepsTable,
    customs: Customs,
    tellings: tuple[Telling, ...],
) -> Iterator[str]:
    named = sum(style.id in rule.styles for rule in rulebook.rules)
    every = sum(not rule.styles for rule in rulebook.rules)
    if not named:
        yield f"no rule in trade/ names it, only the {every} rules for every style speak"
    # Parts that were added are told by themselves.
    parts = [one.part for one in style.parts if one.part not in rulebook.trade.added]
    laid = [one for one in parts if one not in NOT_LAID]
    homeless = [one for one in laid if not _has_place(layout, style.id, one)]
    if homeless:
        yield f"geometry/places.tsv has no place for its {', '.join(homeless)}"
    if not any(style.id == name for rows in layout.places.values() for name, _when in rows):
        yield "geometry/places.tsv has no row of its own: its parts lie where they do on any fly"
    untold = [one for one in parts if not _has_step(steps, style.id, one)]
    if untold:
        yield f"bench/steps.tsv tells no step for its {', '.join(untold)}"
    if not any(name == style.id for name, _part, _measure in layout.proportions):
        yield "proportions.tsv has no row: counts and measures that nobody states stay open"
    if customs.of(style.id, "hook", None) is None:
        yield "customary.tsv names no hook for it: a dressing has to, and so has measure"
    if not any(one.style == style.id for one in tellings):
        yield "telling.tsv has no row: a dressing in plain words has to name the style"


def _has_place(layout: Layout, style: str, part: str) -> bool:
    return any(name in (ANY, style) for name, _when in layout.places.get(part, ()))


def _has_step(steps: StepsTable, style: str, part: str) -> bool:
    return any(row.style in (ANY, style) for row in steps.rows.get(part, ()))
