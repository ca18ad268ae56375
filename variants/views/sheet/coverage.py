"""What the tables say nothing of: for each part and style that a tyer adds, what is left out.

A part of a tyer's own is judged by rules and filled from the box like any other; where it lies,
how it is tied and how it looks it has of the part or of the form that it is like, and a style of
the style that it is like, until rows of its own say otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator

from variants.geometry import ANY, Layout
from variants.model import FRAME, HOOK, PartKind, Style
from variants.reading.words import Customs, Telling
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
    kind = rulebook.trade.parts[part]
    near = f"the {kind.like}" if kind.like else f"others that are {kind.form}"
    if kind.form not in FRAME and part not in layout.places:
        yield f"geometry/places.tsv has no row: it lies and is drawn as {near}"
    if not steps.rows.get(part):
        yield f"bench/steps.tsv has no row: it is tied as {near}"
    if not any(one.functions & kind.functions for one in rulebook.trade.materials.values()):
        yield "no material in materials/ serves as it: nothing from a box can fill it"
    if not any(kind.is_like(one) for rule in rulebook.rules for one in rule.parts):
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
    trade = rulebook.trade
    named = sum(style.id in rule.styles for rule in rulebook.rules)
    every = sum(not rule.styles for rule in rulebook.rules)
    if not named:
        yield f"no rule in trade/ names it, only the {every} rules for every style speak"
    # Parts that were added are told by themselves.
    kinds = [trade.part_kind(one.part) for one in style.parts if one.part not in trade.added]
    homeless = [
        kind.id for kind in kinds if kind.form not in FRAME and not _has_place(layout, style, kind)
    ]
    if homeless:
        yield f"geometry/places.tsv has no place for its {', '.join(homeless)}"
    if not any(name in style.lineage for rows in layout.places.values() for name, _when in rows):
        yield "geometry/places.tsv has no row of its own: its parts lie where they do on any fly"
    untold = [kind.id for kind in kinds if not _has_step(steps, style, kind)]
    if untold:
        yield f"bench/steps.tsv tells no step for its {', '.join(untold)}"
    if not any(name in style.lineage for name, _part, _measure in layout.proportions):
        yield "proportions.tsv has no row: counts and measures that nobody states stay open"
    if customs.of(style.id, HOOK, None) is None:
        yield "customary.tsv names no hook for it: a dressing has to, and so has measure"
    if not any(one.style == style.id for one in tellings):
        yield "telling.tsv has no row: a dressing in plain words has to name the style"


def _has_place(layout: Layout, style: Style, kind: PartKind) -> bool:
    return any(
        name in (ANY, *style.lineage)
        for part in kind.lineage
        for name, _when in layout.places.get(part, ())
    )


def _has_step(steps: StepsTable, style: Style, kind: PartKind) -> bool:
    return any(
        row.style in (ANY, *style.lineage)
        for part in kind.lineage
        for row in steps.rows.get(part, ())
    )
