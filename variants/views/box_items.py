"""The things in a box, listed and found, line by line.

The JSON of a list is an object with ``version`` (1), ``box`` and ``items``: ``item``, ``material``,
``name``, ``colour``, ``sizes``, ``length_mm``, ``amount``, ``price``, ``place``, ``note``,
``blend`` (parts, material, colour) and, where it was looked for, ``score`` (0 to 100), ``apart``
(CIEDE2000 from the colour asked for, or null) and ``why`` (texts; empty where it is what was asked
for).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from variants.box import JournalEntry
from variants.box.item_search import ItemMatch
from variants.box.new_item import NewItem
from variants.box.sold_as import SoldAmount
from variants.explain.wording import amount_left, pluralize
from variants.model import Item
from variants.text import printable
from variants.views.columns import wrap

_LEFT = 12


def item_lines(item: Item, gauge: Mapping[int, float], more: str = "") -> list[str]:
    """Return what an item is, what is left of it and where it lies.

    Parameters
    ----------
    item : Item
    gauge : mapping of hook size to barb length in mm
        That a hackle gauge calls right.
    more : str
        What else is to be told.
    """
    left = "none left" if item.is_gone else amount_left(item) or "not counted"
    told = [_stuff_words(item), *_measure_words(item, gauge)]
    told += [printable(item.place), printable(item.note), more]
    text = f"{printable(item.id)}: {'; '.join(one for one in told if one)}"
    return wrap(
        text,
        initial_indent=f" {left:>{_LEFT}}  ",
        subsequent_indent=" " * (_LEFT + 5),
    )


def _stuff_words(item: Item) -> str:
    name = printable(item.material.name)
    if item.colour is None or item.colour.name.lower() in name.lower():
        return name
    return f"{name}, {printable(item.colour.name)}"


def _measure_words(item: Item, gauge: Mapping[int, float]) -> list[str]:
    told = []
    if item.sizes:
        word = "size" if len(item.sizes) == 1 else "sizes"
        told.append(f"{word} {sizes_words(item.sizes)}")
    if item.length_mm:
        low, high = item.length_mm
        told.append(f"{low:g} mm" if low == high else f"{low:g} to {high:g} mm")
        # Hooks for feathers are sold in even sizes.
        fits = [size for size, right in gauge.items() if low <= right <= high and size % 2 == 0]
        if fits and not item.sizes and "hackle" in item.material.functions:
            told[-1] += f" (gauge {sizes_words(tuple(fits))})"
    if item.thickness_mm:
        told.append(f"{item.thickness_mm:g} mm thick")
    if item.denier:
        told.append(f"{item.denier:g} denier")
    if item.side:
        told.append(item.side)
    if item.blend:
        told.append(f"blended {blend_words(item)}")
    return told


def sizes_words(sizes: Sequence[int]) -> str:
    """Return hook sizes as they are written.

    >>> sizes_words((12, 14, 16)), sizes_words((12, 13, 14)), sizes_words((10, 14))
    ('12-16', '12, 13, 14', '10, 14')
    """
    found = sorted(sizes)
    low, high = found[0], found[-1]
    step = 2 if low % 2 == high % 2 == 0 else 1
    if (
        len(found) > 2
        and found == list(range(low, high + 1, step))
        and (step == 2 or len(found) > 3)
    ):
        return f"{low}-{high}"
    return ", ".join(map(str, found))


def blend_words(item: Item) -> str:
    """Return how a blend is made again, such as ``3 rabbit fur, olive + 1 mole fur``."""
    return " + ".join(
        f"{part.parts:g} {printable(part.material.name)}"
        + (f", {printable(part.colour.name)}" if part.colour else "")
        for part in item.blend
    )


def list_lines(items: Sequence[Item], of: int, gauge: Mapping[int, float]) -> list[str]:
    """Return a list of items with a line that counts them.

    Parameters
    ----------
    items : sequence of Item
    of : int
        How many the box holds.
    gauge : mapping of hook size to barb length in mm
    """
    lines = [line for item in items for line in item_lines(item, gauge)]
    gone = sum(item.is_gone for item in items)
    total = pluralize(len(items), "item") if len(items) == of else f"{len(items)} of {of} items"
    used = f", {gone} of them used up" if gone else ""
    return [*lines, *([""] if lines else []), f"{total}{used}."]


def found_lines(
    answers: Sequence[ItemMatch], best: int, asked: str, gauge: Mapping[int, float]
) -> list[str]:
    """Return what was found in a box, what was asked for first."""
    exact = [one for one in answers if not one.why]
    near = [one for one in answers if one.why]
    if not answers:
        return [f"Nothing in the box is like {asked}."]
    lines = _section(exact, best, gauge)
    if not exact:
        lines.append(f"Not in the box: {asked}.")
    if near and len(exact) < best:
        lines += ["", "Near it"] if exact else ["Near it"]
        lines += _section(near, best - len(exact), gauge)
    return lines


def _section(answers: Sequence[ItemMatch], best: int, gauge: Mapping[int, float]) -> list[str]:
    lines: list[str] = []
    for one in answers[:best]:
        more = [f"dE {one.apart:.1f} from it"] if one.apart else []
        lines += item_lines(one.item, gauge, "; ".join([*more, *map(printable, one.why)]))
    if len(answers) > best:
        lines.append(f" {'':>{_LEFT}}  and {len(answers) - best} more (--best {len(answers)})")
    return lines


def alike_lines(items: Iterable[Item]) -> list[str]:
    """Return a word about items that are the same by another name; none where there are none."""
    told = [
        f"“{printable(item.id)}”" + (f", {printable(item.place)}" if item.place else "")
        for item in items
    ]
    if not told:
        return []
    return wrap(f"The box holds the like: {'; '.join(told)}.", subsequent_indent="  ")


def item_json(item: Item) -> dict[str, Any]:
    """Return an item; see the module for the shape."""
    return {
        "item": item.id,
        "material": item.material.id,
        "name": item.material.name,
        "colour": item.colour.id if item.colour else None,
        "sizes": list(item.sizes) if item.sizes else None,
        "length_mm": list(item.length_mm) if item.length_mm else None,
        "amount": amount_left(item) or None,
        "price": item.price,
        "place": item.place,
        "note": item.note,
        "blend": [
            {
                "parts": part.parts,
                "material": part.material.id,
                "colour": part.colour.id if part.colour else None,
            }
            for part in item.blend
        ],
    }


def list_json(items: Iterable[Item], box: str) -> dict[str, Any]:
    """Return a list; see the module for the shape."""
    return {"version": 1, "box": box, "items": [item_json(item) for item in items]}


def found_json(answers: Iterable[ItemMatch], best: int, box: str) -> dict[str, Any]:
    """Return what was found; see the module for the shape."""
    told = [
        {**item_json(one.item), "score": round(one.score), "apart": one.apart, "why": list(one.why)}
        for one in list(answers)[:best]
    ]
    return {"version": 1, "box": box, "items": told}


def added_lines(thing: NewItem, entry: JournalEntry, gauge: Mapping[int, float]) -> list[str]:
    """Return what was put into the box, what was taken for what, and what is like it."""
    lines = item_lines(thing.item, gauge)
    for told in thing.portions:
        lines += portion_lines(told)
    if thing.blend is not None:
        blend = thing.blend
        near = f"{printable(blend.nearest.name)} comes nearest, dE {blend.apart:.1f} off"
        lines += _told(f"The blend's shade is computed as {blend.shade}; {near}.")
    return [*lines, *alike_lines(thing.duplicates), *entry_lines(entry)]


def portion_lines(told: SoldAmount) -> list[str]:
    """Return what an amount was taken to be, and what that rests on."""
    if told.sold_as is None:
        return []
    why = f"{told.sold_as.name}: {told.sold_as.says} [{told.sold_as.source}]"
    return _told(
        f"“{printable(told.said)}” is taken as {told.amount} ({why}): count it to be sure."
    )


def entry_lines(entry: JournalEntry) -> list[str]:
    """Return where a change is remembered, and how it is taken back."""
    return [f"Entry {entry.number} of the journal; 'flykin box undo' takes it back."]


def _told(text: str) -> list[str]:
    return wrap(text, subsequent_indent="  ")
