"""What flies use, on a terminal: part by part, and how many the box gives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from variants.design import DesignProblem, adapted_parts
from variants.explain.wording import item_words, join_words, part_name, pluralize
from variants.geometry import FlyGeometry, Supply, Use, cost_of, dressed_mass_mg, supplies
from variants.model import Candidate, Trade
from variants.text import printable
from variants.views.columns import wrap

VERSION = 1


def amounts_lines(
    design: DesignProblem, geometry: FlyGeometry, uses: Sequence[Use], flies: int, what: str
) -> list[str]:
    """Return the answer of `amounts`.

    ``what`` names the fly that was reckoned, such as ``"variant 2"``.
    """
    trade = design.rulebook.trade
    name = printable(design.request.base.name)
    heading = f"{name}, {what}, size {geometry.hook.size}: {pluralize(flies, 'fly')}"
    lines = [*wrap(heading.replace("flys", "flies")), ""]
    for use in uses:
        amount = amount_words(use, flies)
        stuff = f"{part_name(trade.parts, use.part)}: {printable(use.ingredient.words)}"
        lines += wrap(stuff, initial_indent=f"{amount:>12}  ", subsequent_indent=" " * 16)
        lines += wrap(
            f"{use.how} ({use.source})", initial_indent=" " * 14, subsequent_indent=" " * 14
        )
    mass = dressed_mass_mg(uses)
    lines += ["", f"A dressed fly weighs about {mass:.0f} mg."]
    lines += supply_lines(uses, trade)
    cost = cost_of(uses)
    if cost.total:
        unpriced = join_words(part_name(trade.parts, part) for part in cost.unpriced or ("",))
        told = f"One fly costs {cost.total:.2f}"
        told += f", without the {unpriced}, whose price is not noted." if cost.unpriced else "."
        lines += wrap(told)
    return lines


def amount_words(use: Use, flies: int = 1) -> str:
    """Return what so many flies take: pieces, a length or a mass, whichever stuff is counted in."""
    taken = (use.pieces, use.length_mm, use.mass_mg)
    return taken_words(*(None if one is None else one * flies for one in taken))


def taken_words(pieces: float | None, length_mm: float | None, mass_mg: float | None) -> str:
    """Return an amount as it is counted: in pieces, else by length, else by weight."""
    if pieces is not None:
        return f"{pieces:.0f}" if pieces == int(pieces) else f"{pieces:.2f}"
    if length_mm is not None:
        return f"{length_mm / 1000:.2f} m" if length_mm >= 1000 else f"{length_mm:.0f} mm"
    if mass_mg is not None:
        return f"{mass_mg / 1000:.2f} g" if mass_mg >= 1000 else f"{mass_mg:.2f} mg"
    return "1"


def supply_lines(uses: Sequence[Use], trade: Trade) -> list[str]:
    """Return how many flies the box gives, what runs out first, and what is not counted."""
    found = supplies(uses)
    held = [use for use in uses if use.items]
    if not held:
        return []
    if not found:
        return ["Nothing of it is counted in the box, so how many it gives is not known."]
    scarcest = found[0]
    told = (
        f"The box gives {scarcest.flies} of these: the {_parts(scarcest, trade)}"
        f" runs out first ({item_words(scarcest.items)})."
    )
    lines = wrap(told)
    supplied = {part for one in found for part in one.parts}
    unknown = [part_name(trade.parts, use.part) for use in held if use.part not in supplied]
    if unknown:
        names = join_words(dict.fromkeys(unknown))
        lines += wrap(f"Not counted in the box, or not in a unit known: {names}.")
    return lines


def _parts(supply: Supply, trade: Trade) -> str:
    return join_words(part_name(trade.parts, part) for part in supply.parts)


def amounts_json(
    design: DesignProblem,
    chosen: Mapping[str, Candidate],
    geometry: FlyGeometry,
    uses: Sequence[Use],
    flies: int,
) -> dict[str, Any]:
    """Return the answer of `amounts` in its documented JSON shape: mm, mg, pieces for one fly.

    ``adapted`` tells the counts that are not those of the dressing, and is empty without any.
    """
    return {
        "version": VERSION,
        "dressing": design.request.base.name,
        "size": geometry.hook.size,
        "adapted": adapted_parts(chosen, design.rulebook.trade.parts),
        "flies": flies,
        "dressed_mass_mg": dressed_mass_mg(uses),
        "cost": cost_of(uses).total,
        "unpriced": list(cost_of(uses).unpriced),
        "uses": [
            {
                "part": use.part,
                "material": use.ingredient.material.id,
                "colour": use.ingredient.colour.id if use.ingredient.colour else None,
                "items": [item.id for item in use.items],
                "pieces": use.pieces,
                "length_mm": use.length_mm,
                "mass_mg": use.mass_mg,
                "tied_mg": use.tied_mg,
                "how": use.how,
                "source": use.source,
            }
            for use in uses
        ],
        "supplies": [
            {
                "parts": list(one.parts),
                "items": [item.id for item in one.items],
                "each": one.each,
                "flies": one.flies,
            }
            for one in supplies(uses)
        ],
    }
