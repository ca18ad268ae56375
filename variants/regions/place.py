"""Where a fly is to be fished: one water of a region, and every rule that holds there.

Comes in: a region file, the rulebook and the tables of law. Goes out: a `Place`, whose rules join
those of the trade: the statutes of its jurisdiction, what the water's owner asks, and the rules of
the house. What the statutes don't speak of stays unknown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.model import Trade
from variants.model.region import Region, Water
from variants.reading import Faults, TomlDocument
from variants.reading.regions import region_of
from variants.regions.law import LawOfTheLand, Statute
from variants.rulebook import Condition, Lawful, Rule, Rulebook, rules_of

#: What a water may ask, and the rules of rules/law/waters.toml that say so.
_ASKED = {
    "no_lead": ("water-no-lead", "water-no-lead-eyes"),
    "fly_only": ("water-fly-only-weight",),
}
_BARBLESS = {False: "water-barbless", True: "water-barbless-or-pressed"}


@dataclass(frozen=True, slots=True)
class Place:
    """One water of a region and the rules that hold on it.

    Attributes
    ----------
    region : Region
    water : Water
    rules : tuple of Rule
        Of law, of the water and of the house.
    """

    region: Region
    water: Water
    rules: tuple[Rule, ...]

    @property
    def name(self) -> str:
        """The region, with its water where it has several."""
        if len(self.region.waters) == 1 or self.water.name == self.region.name:
            return self.region.name
        return f"{self.region.name}, {self.water.name}"

    def joined(self, rulebook: Rulebook) -> Rulebook:
        """Return the trade's rulebook with the rules of the place."""
        return rulebook.with_rules(self.rules)


def read_places(path: str | Path, rulebook: Rulebook, law: LawOfTheLand) -> tuple[Place, ...]:
    """Read a region file; ``-`` is standard input.

    Returns
    -------
    tuple of Place
        One for each of its waters.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return places_of(TomlDocument.read(path), rulebook.trade, law)


def places_of(document: TomlDocument, trade: Trade, law: LawOfTheLand) -> tuple[Place, ...]:
    """Return the places of a document that holds a region, one for each water."""
    region = region_of(document, trade, law.jurisdictions)
    faults = Faults()
    house = tuple(rules_of(document, trade, faults).values())
    faults.stop_if_any()
    return tuple(
        Place(region, water, (*_of_law(region, law), *_of_water(water, law), *house))
        for water in region.waters
    )


def _of_law(region: Region, law: LawOfTheLand) -> Iterator[Rule]:
    """Yield what statutes say there; what is allowed needs no rule."""
    if not region.jurisdiction:
        return
    places = {place.id: place for place in law.places(region.jurisdiction)}
    for statute in law.statutes.values():
        if statute.jurisdiction in places and statute.status != "allowed":
            yield _as_rule(statute, places[statute.jurisdiction].name)


def _as_rule(statute: Statute, place: str) -> Lawful:
    return Lawful(
        id=statute.id,
        says=f"{statute.says[0].upper()}{statute.says[1:]}.",
        source=f"{statute.statute}, {statute.section}; as of {statute.known}, {statute.source}",
        status=statute.status,
        materials=frozenset(statute.materials),
        statute=statute.statute,
        section=statute.section,
        known=statute.known,
        place=place,
    )


def _of_water(water: Water, law: LawOfTheLand) -> Iterator[Rule]:
    asked: list[Sequence[str]] = [ids for name, ids in _ASKED.items() if getattr(water.rules, name)]
    if water.rules.barbless:
        asked.append((_BARBLESS[water.rules.pressed_barb],))
    yield from (law.of_waters[id_] for ids in asked for id_ in ids)
    if water.rules.largest_hook is not None:
        yield _largest_hook(water, water.rules.largest_hook)


def _largest_hook(water: Water, size: int) -> Lawful:
    return Lawful(
        id="water-largest-hook",
        says=f"No hook larger than a {size} may be used on this water.",
        source=f"the region file, {water.origin}",
        status="forbidden",
        when=(Condition("hook", "size", at_most=size - 1),),
        on=("hook",),
    )
