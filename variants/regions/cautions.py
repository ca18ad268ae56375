"""What to watch for with a fly: law where it is fished, and care while it is tied.

Comes in: a dressing, or what a variant is made of, and a jurisdiction. Goes out: `Cautions`, told
with statute, section and source. A material without a row is told as unknown. No legal advice.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from variants.model import Dressing, Ingredient, Part
from variants.regions.law import Hazard, Jurisdiction, LawOfTheLand, Statute
from variants.rulebook import STATUSES

#: Stands under every answer about law.
NO_ADVICE = "Flykin gives no legal advice: check the text in force with {authority}."


@dataclass(frozen=True, slots=True)
class Caution:
    """What one statute says about one material of the fly, and where that holds."""

    material: str
    place: Jurisdiction
    statute: Statute


@dataclass(frozen=True, slots=True)
class Cautions:
    """What to watch for with a fly.

    Attributes
    ----------
    law : tuple of Caution
        Strictest first.
    unknown : tuple of str
        Trade names of materials that no row speaks of there; empty when no place was named.
    hazards : tuple of Hazard
    advice : str
        Whom to ask; empty when no place was named.
    """

    law: tuple[Caution, ...]
    unknown: tuple[str, ...]
    hazards: tuple[Hazard, ...]
    advice: str


def cautions(
    fly: Dressing | Iterable[Part], law: LawOfTheLand, jurisdiction: str | None = None
) -> Cautions:
    """Return what law says about a fly's materials in a place, and the hazards of tying it.

    Parameters
    ----------
    fly : Dressing, or Part of a variant each
    law : LawOfTheLand
    jurisdiction : str or None
        Id; the law of wider places holds there too. None tells the hazards alone.

    Raises
    ------
    KeyError
        When no jurisdiction has that id.
    """
    parts = tuple(fly.parts if isinstance(fly, Dressing) else fly)
    hazards = tuple(one for one in law.hazards.values() if _calls_for(parts, one))
    if jurisdiction is None:
        return Cautions((), (), hazards, "")
    places = {place.id: place for place in law.places(jurisdiction)}
    names = {one.material.id: one.material.name for part in parts for one in part.ingredients}
    told = [
        Caution(names[material], places[statute.jurisdiction], statute)
        for material in names
        for statute in law.statutes.values()
        if material in statute.materials and statute.jurisdiction in places
    ]
    told.sort(key=lambda one: STATUSES.index(one.statute.status))
    spoken = {one.material for one in told}
    return Cautions(
        law=tuple(told),
        unknown=tuple(name for name in names.values() if name not in spoken),
        hazards=hazards,
        advice=NO_ADVICE.format(authority=places[jurisdiction].authority),
    )


def _calls_for(parts: Iterable[Part], hazard: Hazard) -> bool:
    for part in parts:
        if hazard.key == "part" and part.id in hazard.names:
            return True
        if any(_is_hazard(one, hazard) for one in part.ingredients):
            return True
    return False


def _is_hazard(ingredient: Ingredient, hazard: Hazard) -> bool:
    material, colour = ingredient.material, ingredient.colour
    if hazard.key == "material":
        return material.id in hazard.names
    if hazard.key == "class":
        return material.kind in hazard.names
    # Only stuff that is said to take dye is dyed; thread and wire come coloured.
    is_dyed = material.dyes_well and colour is not None and colour.id not in material.colours
    return hazard.key == "dyed" and bool(is_dyed)
