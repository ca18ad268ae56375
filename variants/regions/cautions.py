"""What to watch for with a fly: law where it is fished, and care while it is tied.

Comes in: a dressing, or what a variant is made of, and a jurisdiction. Goes out: `Cautions`, told
with statute, section, address and date of the text. What law could speak of and no row does was
not looked up, and is told so. No legal advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from variants.model import (
    AT_HOME,
    BORDERS,
    STANDARD_HOOK,
    STATUSES,
    Dressing,
    Ingredient,
    Jurisdiction,
    Material,
    Part,
    Statute,
    Value,
)
from variants.regions.fly_tests import FlyTest
from variants.regions.law import Hazard, LawOfTheLand
from variants.rulebook import material_attributes

#: Stands under every answer about law.
NO_ADVICE = "Flykin gives no legal advice: check the text in force with {authority}."
#: What a row that no stuff decides is told of.
THE_LINE = "the fly on its line"
#: Origins of stuff that was lawful once; told where a row is looked up, not with every fly.
_OF_OLD_STUFF = ("found", "old")
_FLY = "fly"
#: Attributes that a hook has by its size, which stuff alone does not tell.
_OF_SIZE = frozenset({"size", "gape_mm", "shank_mm", "wire_mm", "eye_mm"})


@dataclass(frozen=True, slots=True)
class Caution:
    """What one statute says about one material of the fly, and where that holds.

    Attributes
    ----------
    material : str
        Its trade name, or that of what the row speaks of instead.
    place : Jurisdiction
    statute : Statute
    only_if : str
        Which of what goes by the name it holds for, and from where; empty for all of it.
    is_asked : bool
        Whether stuff alone can't tell if the fly falls under the row: its size or its line does.
    """

    material: str
    place: Jurisdiction
    statute: Statute
    only_if: str = ""
    is_asked: bool = False


@dataclass(frozen=True, slots=True)
class Cautions:
    """What to watch for with a fly.

    Attributes
    ----------
    law : tuple of Caution
        Strictest first.
    unknown : tuple of str
        Trade names of materials that a law could speak of and that were not looked up there, but
        for crossing a border; empty when no place was named.
    asks : tuple of str
        For each material whose answer depends on which it is: its name, and what to ask.
    hazards : tuple of Hazard
    advice : str
        Whom to ask; empty when no place was named.
    """

    law: tuple[Caution, ...]
    unknown: tuple[str, ...]
    asks: tuple[str, ...]
    hazards: tuple[Hazard, ...]
    advice: str


def find_cautions(
    fly: Dressing | Iterable[Part],
    law: LawOfTheLand,
    jurisdiction: str | None = None,
    *,
    fly_only: bool = False,
) -> Cautions:
    """Return what law says about a fly's materials in a place, and the hazards of tying it.

    Parameters
    ----------
    fly : Dressing, or Part of a variant each
    law : LawOfTheLand
    jurisdiction : str or None
        Id; the law of wider places holds there too. None tells the hazards alone.
    fly_only : bool
        Whether the water is for flies alone, so that what counts as a fly is asked.

    Raises
    ------
    KeyError
        When no jurisdiction has that id.
    """
    parts = tuple(fly.parts if isinstance(fly, Dressing) else fly)
    hazards = tuple(one for one in law.hazards.values() if _calls_for(parts, one))
    if jurisdiction is None:
        return Cautions((), (), (), hazards, "")
    places = {place.id: place for place in law.places(jurisdiction)}
    made_of = {one.material.id: one.material for part in parts for one in part.ingredients}
    told = [
        *_cautions_on_stuff(made_of, law, places),
        *_cautions_on_flies(parts, law, places, fly_only),
    ]
    told.sort(key=lambda one: STATUSES.index(one.statute.status))
    spoken = {one.material for one in told if one.place.id != BORDERS}
    depends = {one.material for one in told if one.only_if}
    return Cautions(
        law=tuple(told),
        unknown=tuple(
            one.name for one in made_of.values() if _is_wild(one) and one.name not in spoken
        ),
        asks=tuple(
            f"{one.name}: {one.ask}" for one in made_of.values() if one.ask and one.name in depends
        ),
        hazards=hazards,
        advice=NO_ADVICE.format(authority=places[jurisdiction].authority),
    )


def _is_wild(material: Material) -> bool:
    """Tell whether a law could speak of it: it comes from the wild, or may be lead."""
    return any(origin != "farmed" for origin in material.origins) and bool(material.taxa)


def _cautions_on_stuff(
    made_of: Mapping[str, Material], law: LawOfTheLand, places: Mapping[str, Jurisdiction]
) -> Iterator[Caution]:
    for material in made_of.values():
        for statute in law.tables.rows_of(material):
            is_asked = statute.place == BORDERS or not AT_HOME.isdisjoint(statute.acts)
            if statute.place in places and is_asked and statute.origin not in _OF_OLD_STUFF:
                only_if = _condition_words(statute, material, law)
                yield Caution(material.name, places[statute.place], statute, only_if)


def _condition_words(statute: Statute, material: Material, law: LawOfTheLand) -> str:
    spoken_of = law.tables.taxa_of(statute, material)
    words = []
    if len(spoken_of) < len(material.taxa):
        words.append(" or ".join(law.tables.taxa[one].name for one in spoken_of))
    if len(material.origins) > 1 and statute.origin in material.origins:
        words.append(statute.origin)
    return ", ".join(words)


def _cautions_on_flies(
    parts: Iterable[Part],
    law: LawOfTheLand,
    places: Mapping[str, Jurisdiction],
    fly_only: bool,
) -> Iterator[Caution]:
    """Yield the rows about how a fly is made, or fished, that it falls under."""
    parts = tuple(parts)
    for id_, when in law.tests.items():
        statute = law.statutes[id_]
        is_asked = not AT_HOME.isdisjoint(statute.acts) or (fly_only and _FLY in statute.acts)
        if statute.place not in places or not is_asked:
            continue
        place = places[statute.place]
        if when.is_of_line:
            yield Caution(THE_LINE, place, statute, is_asked=True)
            continue
        names = dict.fromkeys(
            one.material.name
            for part in parts
            for one in part.ingredients
            if _falls_under(part.id, one.material, statute, when, law)
        )
        is_open = any(one.attribute in _OF_SIZE for one in when.conditions)
        yield from (Caution(name, place, statute, is_asked=is_open) for name in names)


def _falls_under(
    part: str, material: Material, statute: Statute, when: FlyTest, law: LawOfTheLand
) -> bool:
    """Tell whether a material falls under a row; what only its size would tell is left open."""
    if statute.taxa and not law.tables.speaks_of(statute, material):
        return False
    model = law.trade.hook_models.get(material.id, STANDARD_HOOK)
    known: dict[str, Value] = {
        **material_attributes(material),
        "barbed": model.is_barbed,
        "bend": model.bend,
        "points": model.points,
        "shanks": model.shanks,
    }
    if any(one.part not in ("", part) for one in when.conditions):
        return False
    return all(one.holds({one.part: known}) for one in when.conditions if one.attribute in known)


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
