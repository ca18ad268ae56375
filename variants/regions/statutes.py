"""Statutes as rules of a place: what law bars is no candidate there, what it may bar comes last.

A bar on keeping or fishing with stuff rules a fly out; so does one on buying and selling it, where
nothing lets a tyer keep it. What is barred in part, or only with leave, or was not looked up there
although other places bar it, stays behind what no law bars: it costs more than any other stuff in
the part would. What is lawful under conditions costs a little, and nothing as the dressing writes
it: stuff from a shop mostly meets them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from variants.model import (
    AT_HOME,
    BORDERS,
    Jurisdiction,
    Material,
    Region,
    Standing,
    Statute,
    Verdict,
    Water,
)
from variants.regions.law import LawOfTheLand
from variants.regions.law_words import written_words
from variants.rulebook import Lawful, Rule

#: Departure by what may be barred there, common practice: a stuff that may not be had is none. More
#: than stuff and colour of any one part come to, so that all that no law bars goes before.
MAY_BE_BARRED_COSTS = 2.0
#: Departure by a stand-in that is lawful under conditions, common practice.
CONDITIONS_COST = 0.04
_NOT_LOOKED_UP = "law-not-looked-up"
_CONDITIONS = "law-conditions"
_FLY = "fly"
_WARNS = ("permit", "conditional")


def rules_of_law(region: Region, water: Water, law: LawOfTheLand) -> Iterator[Rule]:
    """Yield what statutes say on a water; what is allowed needs no rule."""
    if not region.jurisdiction:
        return
    places = {place.id: place for place in law.places(region.jurisdiction)}
    yield from _rules_of_stuff(law, places)
    for id_, when in law.tests.items():
        statute = law.statutes[id_]
        is_asked = not AT_HOME.isdisjoint(statute.acts) or (
            water.rules.fly_only and _FLY in statute.acts
        )
        if is_asked and statute.place in places and not when.is_of_line:
            yield from _rules_of_making(statute, law, places[statute.place])


def defines_weight_of_a_fly(region: Region, law: LawOfTheLand) -> bool:
    """Tell whether the law of a place says if a weighted fly is a fly."""
    if not region.jurisdiction:
        return False
    places = {place.id for place in law.places(region.jurisdiction)}
    return any(
        statute.place in places and _FLY in statute.acts and "weighs" in statute.when
        for statute in law.statutes.values()
    )


def _rules_of_making(statute: Statute, law: LawOfTheLand, place: Jurisdiction) -> Iterator[Lawful]:
    """Yield the rule of a row about how a fly is made."""
    conditions = law.tests[statute.id].conditions
    if statute.status == "forbidden" or statute.status in _WARNS:
        stuff = {
            one.id for one in law.trade.materials.values() if law.tables.speaks_of(statute, one)
        }
        if stuff or not statute.taxa:
            on = tuple(dict.fromkeys(one.part for one in conditions if one.part))
            yield _make_rule(statute, place, stuff, None, when=conditions, on=on)


def _rules_of_stuff(law: LawOfTheLand, places: dict[str, Jurisdiction]) -> Iterator[Lawful]:
    """Yield the rules about stuff: one for each row that decides, and how strictly it does."""
    at_home = [place for place in places if place != BORDERS]
    decided: dict[tuple[Standing, Statute], set[str]] = {}
    conditional: set[str] = set()
    not_looked_up: set[str] = set()
    for material in law.trade.materials.values():
        if not material.taxa:
            continue
        found = law.tables.verdict(material, at_home)
        if found.standing >= Standing.MAY_BE_BARRED and found.statute is not None:
            decided.setdefault((found.standing, found.statute), set()).add(material.id)
        elif found.standing is Standing.CONDITIONAL:
            conditional.add(material.id)
        elif _is_doubtful(material, found, at_home, law):
            not_looked_up.add(material.id)
    for (standing, statute), names in decided.items():
        weight = None if standing is Standing.BARRED else MAY_BE_BARRED_COSTS
        yield _make_rule(statute, places[statute.place], names, weight)
    if conditional:
        yield _make_conditional_rule(conditional)
    if not_looked_up:
        yield _make_unknown_rule(not_looked_up)


def _is_doubtful(
    material: Material, found: Verdict, places: Collection[str], law: LawOfTheLand
) -> bool:
    """Tell whether no row speaks of what other places bar."""
    is_spoken_of = law.tables.is_spoken_of(material, places)
    return bool(material.restriction) and found.statute is None and not is_spoken_of


def _make_rule(
    statute: Statute, place: Jurisdiction, names: set[str], weight: float | None, **more: object
) -> Lawful:
    says = statute.condition[0].upper() + statute.condition[1:]
    return Lawful(
        id=statute.id if weight is None else f"{statute.id}-in-part",
        says=f"{says}.",
        source=written_words(statute),
        status=statute.status,
        weight=weight,
        materials=frozenset(names),
        statute=statute.statute,
        section=statute.section,
        known=statute.text_date,
        place=place.name,
        **more,  # type: ignore[arg-type]
    )


def _make_conditional_rule(names: set[str]) -> Lawful:
    return Lawful(
        id=_CONDITIONS,
        says="Stuff that is lawful under conditions stands behind what no law speaks of.",
        source="common practice; the conditions are told with the law of the place",
        status="conditional",
        weight=CONDITIONS_COST,
        materials=frozenset(names),
    )


def _make_unknown_rule(names: set[str]) -> Lawful:
    return Lawful(
        id=_NOT_LOOKED_UP,
        says="Other places bar it and the law of this one was not looked up: ask first.",
        source="common practice; no row of the tables speaks of it here",
        status="depends",
        weight=MAY_BE_BARRED_COSTS,
        materials=frozenset(names),
    )
