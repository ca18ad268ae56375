"""The box at a glance: what it holds, by the class of stuff and by the family of its colour."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from variants.explain.wording import item_words, pluralize
from variants.model import Box, Colour, Item, Trade
from variants.pictures.charts.look import LIGHT
from variants.pictures.charts.svg import Element, Sheet
from variants.rulebook import SOLID, delta_e, lab

#: The hue words of the ISCC-NBS categories round the colour circle, the neutral ones first (from
#: memory).
FAMILIES = (
    "white", "grey", "black", "pink", "red", "orange", "brown", "yellow", "olive", "green", "blue",
    "violet", "purple",
)  # fmt: skip
NONE = "no colour"
_LEFT, _HEAD, _SIDE, _GAP, _PAD = 190.0, 108.0, 15.0, 3.0, 8.0
_MOST_IN_A_ROW = 6


def box_svg(box: Box, trade: Trade, title: str) -> str:
    """Return a box as swatches: a row for each class of stuff, a column for each colour family.

    Parameters
    ----------
    box : Box
    trade : Trade
        Names the family of a measured shade.
    title : str

    Notes
    -----
    Within a cell swatches run from dark to light (CIELAB), those of a hue together; a marked
    feather shows its shades side by side. What is used up is an empty square.
    """
    cells: dict[tuple[str, str], list[Item]] = {}
    for item in box.items:
        cells.setdefault((item.material.kind, family(item, trade.colours)), []).append(item)
    rows = list(dict.fromkeys(item.material.kind for item in box.items))
    columns = [one for one in (*FAMILIES, NONE) if any(one == column for _, column in cells)]
    across = {one: _across(cells, rows, one) for one in columns}
    sheet = Sheet(title, _describe(cells, rows, columns))
    sheet.words(sheet.top, 20, 34, title, 20, font_weight="600")
    sheet.words(sheet.top, 20, 56, "Each square is one thing; what is used up stands empty.", 13,
                font_style="italic", fill=LIGHT["faint"])  # fmt: skip
    width = _LEFT + sum(across.values()) + 60
    x = _LEFT
    for column in columns:
        sheet.words(sheet.top, x, _HEAD - 12, column, 13, font_weight="600")
        x += across[column]
    sheet.words(sheet.top, x, _HEAD - 12, "in all", 13, font_weight="600")
    y = _HEAD
    for row in rows:
        high = _row(sheet, row, y, cells, across)
        sheet.line(sheet.top, (20, y - 3), (width - 16, y - 3), stroke=LIGHT["rule"])
        y += high
    return sheet.svg(max(width, 560.0), y + 16)


def family(item: Item, colours: Mapping[str, Colour]) -> str:
    """Return the column that an item stands in: its main shade's hue word, or none.

    A measured shade, which no table has named, stands with the nearest plain colour of the trade.
    """
    if item.colour is None or not item.colour.hexes:
        return NONE
    found = _hue_word(item.colour)
    if found is None:
        shade = item.colour.hexes[0]
        plain = [one for one in colours.values() if one.marking == SOLID and _hue_word(one)]
        nearest = min(plain, key=lambda one: (delta_e(shade, one.hexes[0]), one.id), default=None)
        found = _hue_word(nearest) if nearest is not None else None
    return found or NONE


def _hue_word(colour: Colour) -> str | None:
    words = colour.family.partition(" + ")[0].split()
    return words[-1] if words and words[-1] in FAMILIES and colour.hexes else None


def _across(cells: dict[tuple[str, str], list[Item]], rows: Sequence[str], column: str) -> float:
    most = max(len(cells.get((row, column), ())) for row in rows)
    swatches = min(most, _MOST_IN_A_ROW) * (_SIDE + _GAP) + _PAD
    return max(swatches, len(column) * 8.8 + _PAD)


def _row(
    sheet: Sheet,
    row: str,
    y: float,
    cells: dict[tuple[str, str], list[Item]],
    across: dict[str, float],
) -> float:
    """Draw one class of stuff and return how high it is."""
    group = sheet.group(sheet.top, data_class=row)
    sheet.words(group, 20, y + 13, row, 14)
    x, deepest, count = _LEFT, 1, 0
    for column, wide in across.items():
        held = sorted(cells.get((row, column), ()), key=_perceptual)
        for place, item in enumerate(held):
            down, along = divmod(place, _MOST_IN_A_ROW)
            deepest = max(deepest, down + 1)
            _swatch(sheet, group, x + along * (_SIDE + _GAP), y + down * (_SIDE + _GAP), item)
        x, count = x + wide, count + len(held)
    sheet.words(group, x, y + 13, str(count), 13)
    return deepest * (_SIDE + _GAP) + _PAD


def _perceptual(item: Item) -> tuple[float, float, str]:
    """Order swatches of one family: by lightness in steps, then by hue, then by name."""
    if item.colour is None or not item.colour.hexes:
        return 0.0, 0.0, item.id
    from math import atan2

    lightness, a, b = lab(item.colour.hexes[0])
    return round(lightness / 5.0), atan2(b, a), item.id


def _swatch(sheet: Sheet, within: Element, x: float, y: float, item: Item) -> None:
    group = sheet.group(within, data_item=item.id)
    colour = f"{item.colour.name} " if item.colour is not None else ""
    sheet.titled(group, f"{item_words((item,))}: {colour}{item.material.name}")
    shades = item.colour.hexes if item.colour is not None else ()
    if not item.is_gone:
        wide = _SIDE / max(1, len(shades))
        for place, shade in enumerate(shades or (LIGHT["rule"],)):
            sheet.box(group, x + place * wide, y, wide if shades else _SIDE, _SIDE, fill=shade)
    sheet.box(group, x, y, _SIDE, _SIDE, fill="none", stroke=LIGHT["ink"], stroke_width=0.8,
              stroke_dasharray="2 2" if item.is_gone else None)  # fmt: skip


def _describe(
    cells: dict[tuple[str, str], list[Item]], rows: Sequence[str], columns: Sequence[str]
) -> str:
    told = []
    for row in rows:
        held = [
            f"{len(cells[row, column])} {column}" for column in columns if (row, column) in cells
        ]
        told.append(f"{row}: {', '.join(held)}")
    total = pluralize(sum(map(len, cells.values())), "thing")
    return f"{total} in the box. {'; '.join(told)}."
