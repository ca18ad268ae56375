"""Random boxes and dressings that look like a tyer's: seeded, from the trade's own tables.

Sixty of a hundred items are like an earlier one in all but place, size or count. Most items can
serve no more than a part or two of a fly, so that some sixty of a hundred are nothing to any one
part. Colours are drawn from thirteen groups of shades, the common ones more often.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

from variants.model import Box, Colour, Dressing, Ingredient, Item, Material, Part
from variants.rulebook import Rulebook
from variants.units import parse_quantity

DUPLICATES = 0.6
COLOUR_GROUPS = 13
PLACES = ("drawer", "tin", "shelf", "bag", "chest")
STYLES = ("dry-upright", "soft-hackle", "nymph", "winged-wet")
#: What a box is made of, by what the stuff is used for, in hundredths.
SHARES = {
    "hook": 8,
    "thread": 7,
    "hackle": 27,
    "wing": 14,
    "body": 16,
    "dubbing": 12,
    "tail": 8,
    "rib": 8,
}


def random_box(rulebook: Rulebook, size: int, seed: int) -> Box:
    """Return a box of so many items."""
    draw = random.Random(f"box {seed} {size}")
    serving = {use: _serving(rulebook, use) for use in SHARES}
    items: list[Item] = []
    for number in range(size):
        if items and draw.random() < DUPLICATES:
            item = _varied(draw, draw.choice(items))
        else:
            use = draw.choices(list(SHARES), list(SHARES.values()))[0]
            item = _fresh(draw, rulebook, draw.choice(serving[use]))
        place = f"{draw.choice(PLACES)} {draw.randint(1, 30)}"
        items.append(replace(item, id=f"item {number:06}", place=place))
    return Box(tuple(items))


def random_dressing(rulebook: Rulebook, seed: int, mixed: bool = False) -> Dressing:
    """Return a dressing of 8 to 12 parts as far as its style has them.

    With ``mixed``, its hackle is of two feathers wound together.
    """
    draw = random.Random(f"dressing {seed}")
    style = rulebook.trade.styles[draw.choice(STYLES)]
    wanted = draw.randint(8, 12)
    needed = [part.part for part in style.parts if not part.optional]
    optional = [part.part for part in style.parts if part.optional]
    chosen = {*needed, *draw.sample(optional, min(len(optional), max(0, wanted - len(needed))))}
    size = draw.choice((10, 12, 14, 16))
    parts = []
    for kind in style.parts:
        if kind.part in chosen:
            offers = [
                material
                for material in rulebook.trade.materials.values()
                if material.functions & rulebook.trade.parts[kind.part].functions
            ]
            together = 2 if mixed and kind.part == "hackle" else 1
            made_of = tuple(
                _ingredient(draw, rulebook, draw.choice(offers)) for _ in range(together)
            )
            parts.append(Part(kind.part, made_of))
    return Dressing(f"random {seed}", style.id, (size,), size, tuple(parts))


def _serving(rulebook: Rulebook, use: str) -> list[Material]:
    found = [one for one in rulebook.trade.materials.values() if use in one.functions]
    return found or list(rulebook.trade.materials.values())


def _ingredient(draw: random.Random, rulebook: Rulebook, material: Material) -> Ingredient:
    return Ingredient(material, _colour(draw, rulebook, material))


def _colour(draw: random.Random, rulebook: Rulebook, material: Material) -> Colour | None:
    if not material.colours:
        return None
    name = draw.choice(material.colours)
    if name in rulebook.trade.colours:
        return rulebook.trade.colours[name]
    shades = sorted(rulebook.trade.colours)
    group = min(draw.randrange(COLOUR_GROUPS), draw.randrange(COLOUR_GROUPS))
    return rulebook.trade.colours[draw.choice(shades[group::COLOUR_GROUPS])]


def _fresh(draw: random.Random, rulebook: Rulebook, material: Material) -> Item:
    item = Item("", material, _colour(draw, rulebook, material))
    return _varied(draw, item, always=True)


def _varied(draw: random.Random, item: Item, always: bool = False) -> Item:
    """Return an item like another in all but place, size or count."""
    uses = item.material.functions
    if "hook" in uses:
        item = replace(item, sizes=(draw.choice((8, 10, 12, 14, 16, 18)),))
    elif uses & {"hackle", "tail"} and item.material.fibre_mm and (always or draw.random() < 0.5):
        low = draw.choice(range(4, 14))
        item = replace(item, length_mm=(float(low), float(low + draw.randint(1, 6))))
    elif "thread" in uses and (always or draw.random() < 0.5):
        item = replace(item, denier=float(draw.choice((30, 50, 70, 110, 140))))
    elif uses & {"rib", "weight"} and (always or draw.random() < 0.5):
        item = replace(item, thickness_mm=draw.choice((0.08, 0.1, 0.15, 0.2, 0.25)))
    few = draw.randint(1, 6) if draw.random() < 0.1 else draw.randint(12, 60)
    is_counted = bool(uses & {"hook", "hackle"}) and draw.random() < 0.5
    return replace(item, amount=_pieces(few) if is_counted else None)


_PIECES = {count: parse_quantity(f"{count} pieces") for count in range(1, 61)}


def _pieces(count: int):  # type: ignore[no-untyped-def]
    return _PIECES[count]


def instances(
    rulebook: Rulebook, size: int, seeds: Sequence[int], mixed: bool = False
) -> list[tuple[Dressing, Box]]:
    """Return dressings with a box each."""
    return [
        (random_dressing(rulebook, seed, mixed), random_box(rulebook, size, seed)) for seed in seeds
    ]
