"""The attributes of what fills a part: the only view that rules have of a fly.

Each attribute is documented here once; a rule file that names another is refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from variants.model import Colour, Hook, Ingredient, Item, Material, Value
from variants.rulebook.colours import lab

#: Every attribute a rule may read, and what it means.
ATTRIBUTES: Mapping[str, str] = {
    "material": "the material's id",
    "class": "the class of stuff, such as rooster-hackle",
    "functions": "the words for what it can be on a fly",
    "stiffness": "grade 0 (limp) to 4 (stiff)",
    "water": "floats, neutral, soaks or sinks",
    "texture": "smooth, fuzzy, spiky, segmented or flat",
    "sheen": "grade 0 to 4",
    "durability": "grade 0 (breaks at once) to 4",
    "translucency": "grade 0 (opaque) to 4 (clear)",
    "web": "grade 0 (no web) to 4 (all web)",
    "hollow": "whether a hair flares under thread",
    "density_g_cm3": "density of the stuff",
    "colour": "the colour's id; several are joined by ' + '",
    "family": "the words of the colour's ISCC-NBS categories",
    "marking": "the marking's id",
    "shade": "the main shade, as #RRGGBB",
    "lightness": "CIELAB lightness of the main shade, 0 to 100",
    "tone": "how much lighter (+) or darker (-) than the dressing's own shade, CIELAB L*",
    "shortest_mm": "shortest barb or fibre on offer",
    "longest_mm": "longest barb or fibre on offer",
    "thickness_mm": "thickness of one strand, wire or bead; of a dubbing, of one fibre",
    "denier": "a thread's weight by length",
    "size": "a hook's size number",
    "gape_mm": "a hook's gape",
    "shank_mm": "a hook's shank",
    "eye_mm": "a hook's eye, outside",
    "wire_mm": "a hook's wire",
    "barbed": "whether a hook has a barb",
    "bend": "a hook's bend, such as round, curved or jig",
    "points": "a hook's points: 1, or 2 of a double, 3 of a treble",
    "shanks": "a hook's shanks: more than 1 where hooks are joined",
    "weighs": "how it puts weight on the hook: wound, bead, eyes, moulded",
    "side": "left, right or pair",
    "turns": "turns wound",
    "turns_behind": "turns behind the wing",
    "turns_front": "turns in front of the wing",
    "fibres": "fibres tied in",
    "feathers": "feathers wound",
    "turns_asked": "turns the dressing asks",
    "turns_behind_asked": "turns behind the wing the dressing asks",
    "turns_front_asked": "turns in front of the wing the dressing asks",
    "fibres_asked": "fibres the dressing asks",
    "feathers_asked": "feathers the dressing asks",
    "mixed": "whether two or more are wound or blended together",
    "blend": "parts by weight of dubbings blended, such as 2:1",
    "tied": "place in the style's tying order",
}
#: Those that one item may have otherwise than another of the same stuff; see `item_attributes`.
ITEM_ATTRIBUTES = frozenset({"shortest_mm", "longest_mm", "thickness_mm", "denier", "side"})


def material_attributes(material: Material) -> dict[str, Value]:
    """Return what the materials table tells of a material."""
    low, high = material.fibre_mm or (None, None)
    return {
        "material": material.id,
        "class": material.kind,
        "functions": material.functions,
        "stiffness": material.stiffness,
        "water": material.water,
        "texture": material.texture,
        "sheen": material.sheen,
        "durability": material.durability,
        "translucency": material.translucency,
        "web": material.web,
        "hollow": material.hollow,
        "density_g_cm3": material.density_g_cm3,
        "thickness_mm": material.thickness_mm,
        "shortest_mm": low,
        "longest_mm": high,
        "weighs": frozenset((material.weighs,)) if material.weighs else None,
    }


def colour_attributes(colour: Colour | None) -> dict[str, Value]:
    """Return what the colours table tells of a colour; nothing for stuff without one."""
    if colour is None:
        return {}
    shade = colour.hexes[0] if colour.hexes else None
    return {
        "colour": colour.id,
        "family": _families(colour.family),
        "marking": colour.marking,
        "shade": shade,
        "lightness": lightness(shade) if shade else None,
    }


def ingredient_attributes(ingredient: Ingredient) -> dict[str, Value]:
    """Return what the tables tell of a material in a colour."""
    return {
        **material_attributes(ingredient.material),
        **colour_attributes(ingredient.colour),
    }


@cache
def _families(words: str) -> frozenset[str]:
    return frozenset(word.strip() for word in words.split("+") if word.strip())


def hook_attributes(hook: Hook) -> dict[str, Value]:
    """Return a hook's dimensions."""
    return {
        "size": hook.size,
        "gape_mm": hook.gape_mm,
        "shank_mm": hook.shank_mm,
        "eye_mm": hook.eye_mm,
        "wire_mm": hook.wire_mm,
    }


def item_attributes(item: Item, gauge: Mapping[int, float]) -> dict[str, Value]:
    """Return what the owner wrote of an item, beyond its material and colour.

    Parameters
    ----------
    item : Item
    gauge : mapping of hook size to mm
        Barb length that a hackle gauge calls right for a size.

    Notes
    -----
    A measured length beats gauge sizes; without either the materials table's range stays.
    """
    told: dict[str, Value] = {}
    if item.length_mm is not None:
        told["shortest_mm"], told["longest_mm"] = item.length_mm
    elif item.sizes:
        lengths = [gauge[size] for size in item.sizes if size in gauge]
        if lengths:
            told["shortest_mm"], told["longest_mm"] = min(lengths), max(lengths)
    if item.thickness_mm is not None:
        told["thickness_mm"] = item.thickness_mm
    if item.denier is not None:
        told["denier"] = item.denier
    if item.side:
        told["side"] = item.side
    return told


def lightness(shade: str) -> float:
    """Return the CIELAB lightness L* of an sRGB value ``#RRGGBB``."""
    return lab(shade)[0]
