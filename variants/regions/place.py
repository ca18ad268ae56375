"""Where a fly is to be fished: one water of a region, and every rule that holds there.

Comes in: a region file, the rulebook and the tables of law. Goes out: a `Place`, whose rules join
those of the trade: the statutes of its jurisdiction, what the water's owner asks, and the rules of
the house. What the statutes don't speak of stays unknown.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from variants.model import WEIGHTS, Dressing, Part, Region, Trade, Water
from variants.reading import Faults, TomlDocument
from variants.reading.regions import parse_region
from variants.regions.cautions import Cautions, find_cautions
from variants.regions.law import LawOfTheLand
from variants.regions.statutes import defines_weight_of_a_fly, rules_of_law
from variants.rulebook import Condition, Count, Lawful, Rule, Rulebook, rules_of

#: What a water may ask, and the rules of rules/law/waters.toml that say so.
_RULES_ASKED = {
    "no_lead": ("water-no-lead", "water-no-lead-eyes"),
    "fly_only": ("water-fly-only-weight",),
}
_FLY_WEIGHT = "water-fly-only-weight"
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
        """Return the trade's rulebook with the rules of the place.

        What the house counts itself, the trade no longer counts there: "two turns of hackle" stands
        in place of the trade's turns, and of those behind and before the wing.
        """
        house = [rule for rule in self.rules if isinstance(rule, Count)]
        styles = frozenset(rulebook.trade.styles)
        trade = (_drop_counted(rule, house, styles) for rule in rulebook.rules)
        kept = tuple(rule for rule in trade if rule is not None)
        return replace(rulebook, rules=kept).with_rules(self.rules)


def _drop_counted(rule: Rule, house: Sequence[Count], styles: frozenset[str]) -> Rule | None:
    """Return a rule of the trade for the styles in which the house doesn't count the same."""
    if not isinstance(rule, Count) or rule in house:
        return rule
    here = rule.styles or styles
    for own in house:
        if own.part == rule.part and rule.count.startswith(own.count):
            here -= own.styles or styles
    if not here:
        return None
    return rule if here == (rule.styles or styles) else replace(rule, styles=here)


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
    region = parse_region(document, trade, law.jurisdictions)
    faults = Faults()
    house = tuple(rules_of(document, trade, faults).values())
    faults.stop_if_any()
    return tuple(
        Place(
            region,
            water,
            (*rules_of_law(region, water, law), *_rules_of_water(region, water, law), *house),
        )
        for water in region.waters
    )


def find_cautions_at(
    fly: Dressing | Iterable[Part], law: LawOfTheLand, place: Place | None
) -> Cautions:
    """Return what to watch for with a fly on a water; without one, the hazards of tying it."""
    if place is None:
        return find_cautions(fly, law)
    fly_only = place.water.rules.fly_only
    return find_cautions(fly, law, place.region.jurisdiction or None, fly_only=fly_only)


def _rules_of_water(region: Region, water: Water, law: LawOfTheLand) -> Iterator[Rule]:
    asked: list[Sequence[str]] = [
        ids for name, ids in _RULES_ASKED.items() if getattr(water.rules, name)
    ]
    if water.rules.barbless:
        asked.append((_BARBLESS[water.rules.pressed_barb],))
    # A place whose law says what a fly is leaves nothing to ask about its weight.
    is_settled = defines_weight_of_a_fly(region, law)
    for id_ in (id_ for ids in asked for id_ in ids):
        if not (is_settled and id_ == _FLY_WEIGHT):
            yield law.of_waters[id_]
    yield from _rules_of_hooks(water)


def _rules_of_hooks(water: Water) -> Iterator[Lawful]:
    """Yield what a water asks of size, gape, points and weight."""
    rules = water.rules
    if (size := rules.largest_hook) is not None:
        says = f"No hook larger than a {size} may be used on this water."
        yield _make_rule(water, "largest-hook", says, Condition("hook", "size", at_most=size - 1))
    if (gape := rules.largest_gape_mm) is not None:
        says = f"No gape over {gape:g} mm may be used on this water."
        over = math.nextafter(gape, math.inf)
        yield _make_rule(water, "largest-gape", says, Condition("hook", "gape_mm", at_least=over))
    if (points := rules.most_points) is not None:
        says = f"No hook of more than {points} points may be used on this water."
        more = Condition("hook", "points", at_least=points + 1)
        yield _make_rule(water, "most-points", says, more)
    if rules.unweighted:
        says = "No bead, eyes or wire may weight a fly on this water."
        yield _make_rule(
            water, "unweighted", says, Condition("", "weighs", among=frozenset(WEIGHTS))
        )


def _make_rule(water: Water, name: str, says: str, barred: Condition) -> Lawful:
    return Lawful(
        id=f"water-{name}",
        says=says,
        source=f"the region file, {water.origin}",
        status="forbidden",
        when=(barred,),
        on=(barred.part,) if barred.part else (),
    )
