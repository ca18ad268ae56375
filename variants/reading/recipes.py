"""A blend of the owner's as text, such as ``3 hare's mask, natural + 1 rabbit, olive``.

Each stuff stands with its parts by weight, its material and, after a comma, its colour.
"""

from __future__ import annotations

import re

from variants.model import BlendPart, Trade
from variants.reading.fields import Fields
from variants.reading.natural import find_natural_colour, means_natural
from variants.text import shown

BLEND_HELP = "write parts by weight: 3 rabbit, olive + 1 hare's mask"
_STUFF = re.compile(
    r"\s*(?P<parts>[0-9]{1,5}(?:\.[0-9]{1,4})?)\s+(?P<stuff>[^,]+)(?:,(?P<colour>.+))?"
)
_MOST = 12


def parse_blend(fields: Fields, field: str, trade: Trade) -> tuple[BlendPart, ...]:
    """Return what goes into a blend, or nothing after noting what is wrong with it."""
    text = fields.text(field)
    if not text:
        return ()
    told = text.split("+")
    if not 2 <= len(told) <= _MOST:
        problem = f"{shown(text)} is no blend of two stuffs to twelve"
        fields.wrong(field, problem, BLEND_HELP)
        return ()
    found = [_part(fields, field, one, trade) for one in told]
    known = tuple(part for part in found if part is not None)
    return known if len(known) == len(found) else ()


def _part(fields: Fields, field: str, text: str, trade: Trade) -> BlendPart | None:
    match = _STUFF.fullmatch(text)
    if match is None or not float(match["parts"]):
        fields.wrong(field, f"{shown(text.strip())} tells no parts of a stuff", BLEND_HELP)
        return None
    material = fields.lookup(field, match["stuff"].strip(), trade.material_names, "material")
    if material is None:
        return None
    name = (match["colour"] or "").strip()
    if means_natural(name, material):
        return BlendPart(float(match["parts"]), material, find_natural_colour(material, trade))
    colour = fields.lookup(field, name, trade.colour_names, "colour")
    if colour is None:
        return None
    return BlendPart(float(match["parts"]), material, colour)
