"""The attributes of whole candidates: of one lot, of two together, of a part as written."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from variants.design.stock import Lot
from variants.model import SIZES, Attributes, Ingredient, Part, Value, asked_name
from variants.rulebook import (
    Rulebook,
    ingredient_attributes,
    item_attributes,
    lightness,
)

_WATER_ORDER = ("floats", "neutral", "soaks", "sinks")
_TONE_STEP = 5.0
#: The same size in inches and in millimetres differs by as much: 1/8 in is 3.2 mm, sold as 3.3.
_SAME_SIZE = 0.05


def lot_attributes(
    lot: Lot, rulebook: Rulebook, told: Attributes | None = None
) -> dict[str, Value]:
    """Return what the rules read of a lot: its material, its colour, what the owner measured.

    ``told`` is what the tables tell of it, where that is known.
    """
    if told is None:
        told = ingredient_attributes(lot.ingredient)
    return {**told, **item_attributes(lot.item, rulebook.gauge)}


def written_attributes(part: Part) -> dict[str, Value]:
    """Return what the tables tell of a part as the dressing writes it."""
    attributes = [ingredient_attributes(ingredient) for ingredient in part.ingredients]
    told = attributes[0] if len(attributes) == 1 else together(attributes)
    return {**told, **stated_thickness(part)}


def stated_thickness(part: Part) -> dict[str, Value]:
    """Return the thickness or the thread's weight that a dressing states of a part."""
    if part.thickness is None:
        return {}
    name, unit = next(
        (name, unit) for name, unit in SIZES.items() if part.thickness.is_compatible_with(unit)
    )
    return {name: float(part.thickness.to(unit).magnitude)}


def is_of_stated_size(attributes: Attributes) -> bool:
    """Tell whether stuff is as thick as the dressing states, as near as sizes are sold."""
    for name in SIZES:
        size, asked = attributes.get(name), attributes.get(asked_name(name))
        if isinstance(size, int | float) and isinstance(asked, int | float):
            return abs(size - asked) <= _SAME_SIZE * asked
    return True


def shared_length(lots: Sequence[Lot], rulebook: Rulebook) -> dict[str, Value]:
    """Return the fibre lengths that every one of several lots offers."""
    parts = [lot_attributes(lot, rulebook) for lot in lots]
    return {
        "shortest_mm": _extreme(parts, "shortest_mm", max),
        "longest_mm": _extreme(parts, "longest_mm", min),
    }


def together(parts: Sequence[Attributes]) -> dict[str, Value]:
    """Return the attributes of several ingredients wound or blended together.

    The weakest decides: the softest barb, the shortest long one, the one that drinks most water.
    """
    mixed: dict[str, Value] = dict(parts[0])
    for grade in ("stiffness", "durability", "longest_mm"):
        mixed[grade] = _extreme(parts, grade, min)
    for grade in ("web", "shortest_mm", "thickness_mm"):
        mixed[grade] = _extreme(parts, grade, max)
    waters = [str(part.get("water")) for part in parts if part.get("water") in _WATER_ORDER]
    mixed["water"] = max(waters, key=_WATER_ORDER.index) if waters else None
    mixed["material"] = " + ".join(_distinct(parts, "material"))
    mixed["colour"] = " + ".join(sorted(_distinct(parts, "colour")))
    families = [family for part in parts if isinstance(family := part.get("family"), frozenset)]
    mixed["family"] = frozenset().union(*families)
    weights = [ways for part in parts if isinstance(ways := part.get("weighs"), frozenset)]
    mixed["weighs"] = frozenset().union(*weights) or None
    mixed["marking"] = "mixed"
    mixed["mixed"] = True
    return mixed


def _distinct(parts: Sequence[Attributes], name: str) -> list[str]:
    return list(dict.fromkeys(str(part.get(name) or "") for part in parts))


def _extreme(parts: Sequence[Attributes], name: str, choose: object) -> float | None:
    values = [value for part in parts if isinstance(value := part.get(name), int | float)]
    return choose(values) if values and callable(choose) else None


def tone(found: Sequence[Ingredient], wanted: Sequence[Ingredient]) -> float | None:
    """Return how much lighter the found feathers are than the wanted ones, in CIELAB L*.

    A barred or mixed feather counts by the mean of all its shades. Rounded to steps of five: the
    eye at the bench sees a shade lighter or darker, not a unit.
    """
    here, there = _mean_lightness(found), _mean_lightness(wanted)
    if here is None or there is None:
        return None
    return _TONE_STEP * round((here - there) / _TONE_STEP)


def _mean_lightness(ingredients: Sequence[Ingredient]) -> float | None:
    return _mean(tuple([shade for one in ingredients if one.colour for shade in one.colour.hexes]))


@lru_cache(maxsize=4096)
def _mean(shades: tuple[str, ...]) -> float | None:
    return sum(map(lightness, shades)) / len(shades) if shades else None
