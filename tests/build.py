"""Small trades, dressings and boxes for tests: a few words say what a test is about.

Everything has a default, so that a test states only what it turns on. `SMALL` is a trade of a
handful of entries that no rules file can change under a test's feet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import pytest

from variants.model import (
    Box,
    Colour,
    Dressing,
    Hook,
    Ingredient,
    Item,
    Marking,
    Material,
    Part,
    PartKind,
    Style,
    StylePart,
    Trade,
)
from variants.reading import InputError
from variants.units import parse_quantity


def colour(id: str, hexes: Iterable[str] = ("#808080",), **more: Any) -> Colour:
    """Return a colour; its name is its id with spaces."""
    return Colour(**{"id": id, "name": id.replace("-", " "), "hexes": tuple(hexes), **more})


def material(id: str, serves: str = "", colours: str = "", **more: Any) -> Material:
    """Return a material; `serves` and `colours` are words parted by spaces."""
    return Material(
        **{
            "id": id,
            "name": id.replace("-", " "),
            "functions": frozenset(serves.split()),
            "colours": tuple(colours.split()),
            **more,
        }
    )


def trade(
    colours: Iterable[Colour] = (),
    materials: Iterable[Material] = (),
    parts: Mapping[str, str] | None = None,
    styles: Mapping[str, str] | None = None,
    sizes: Iterable[int] = range(2, 25),
) -> Trade:
    """Return a trade; `parts` gives each part its functions, `styles` each style its parts."""
    kinds = {
        part: PartKind(part, part.replace("-", " "), functions=frozenset(functions.split()))
        for part, functions in (parts or {}).items()
    }
    return Trade(
        colours={one.id: one for one in colours},
        markings={"solid": Marking("solid", "solid")},
        materials={one.id: one for one in materials},
        parts=kinds,
        styles={
            style: Style(
                style,
                style.replace("-", " "),
                (),
                "",
                False,
                tuple(StylePart(part, 1.0, part not in ("hook", "thread")) for part in of.split()),
            )
            for style, of in (styles or {}).items()
        },
        hooks={"model": {size: hook(size) for size in sizes}},
        hook_models={},
    )


def hook(size: int) -> Hook:
    """Return a hook of round numbers: the gape shrinks by 0.4 mm a size from 9 mm at size 2."""
    gape = round(9.8 - 0.4 * size, 1)
    return Hook(size, gape, 2 * gape, gape / 3, gape / 10)


SMALL = trade(
    colours=[
        colour("blue-dun", ["#7A8289"], also=("medium dun",)),
        colour("olive", ["#6B6B3A"]),
        colour("primrose", ["#E8DC7A"]),
    ],
    materials=[
        material("hook-wet", "hook", name="wet-fly hook"),
        material("silk", "thread body", "primrose any", name="tying silk"),
        material("hen-neck", "hackle", "blue-dun any", also=("hen cape",)),
        material("cock-neck", "hackle", "olive any", also=("cock cape",)),
        material("rabbit-fur", "body", "blue-dun any"),
        material("duck-quill", "wing", "blue-dun any"),
    ],
    parts={
        "hook": "hook",
        "thread": "thread",
        "body": "body",
        "rib": "rib",
        "hackle": "hackle",
        "wing": "wing",
    },
    styles={
        "soft-hackle": "hook thread body rib hackle",
        "winged-wet": "hook thread body rib hackle wing",
    },
)


def part(id: str, material_id: str, colour_id: str = "", *, of: Trade = SMALL, **more: Any) -> Part:
    """Return a part of one ingredient; a length or thickness may be text such as ``"9 mm"``."""
    for field in ("length", "thickness"):
        if isinstance(more.get(field), str):
            more[field] = parse_quantity(more[field])
    return Part(id, (ingredient(material_id, colour_id, of=of),), **more)


def ingredient(material_id: str, colour_id: str = "", *, of: Trade = SMALL) -> Ingredient:
    """Return a material in a colour; without one, in the colour it has by nature."""
    stuff = of.materials[material_id]
    shade = colour_id or stuff.natural_colour
    return Ingredient(stuff, of.colours[shade] if shade else None)


def dressing(*parts: Part, **more: Any) -> Dressing:
    """Return a soft hackle for sizes 12 to 16 with a hook, unless something else is said."""
    if not any(one.id == "hook" for one in parts):
        parts = (part("hook", "hook-wet"), *parts)
    return Dressing(
        **{
            "name": "Trial",
            "style": "soft-hackle",
            "sizes": (12, 14, 16),
            "size": 14,
            "parts": parts,
            **more,
        }
    )


def item(id: str, material_id: str, colour_id: str = "", *, of: Trade = SMALL, **more: Any) -> Item:
    """Return a thing owned; the amount may be text such as ``"12 feathers"``."""
    made_of = ingredient(material_id, colour_id, of=of)
    if isinstance(more.get("amount"), str):
        more["amount"] = parse_quantity(more["amount"])
    return Item(id, made_of.material, made_of.colour, **more)


def box(*items: Item) -> Box:
    """Return a box of these items."""
    return Box(items)


def complaint(read: Callable[[], object]) -> str:
    """Return the whole text that a refused input is refused with."""
    with pytest.raises(InputError) as refused:
        read()
    return str(refused.value)
