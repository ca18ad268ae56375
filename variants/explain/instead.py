"""What to use instead of a material that is not to be had: ranked, each with what it changes.

A material, the part and the style it is wanted for, perhaps a colour and a box, come in; stand-ins
from the whole materials table, or from the box, come out, nearest first, and with them the stuff
that does not serve and why. The ranking is computed from likeness, so it answers for a material
that no table of substitutes names. Words for the screen are made elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from variants.explain.dyeing import ANY, animal_of, plain_colours
from variants.explain.shades import Shade, find_shades
from variants.explain.stand_ins import (
    OtherName,
    StandIn,
    StandInGroup,
    StandInQuery,
    StandIns,
    Unfit,
)
from variants.model import Box, Colour, Ingredient, Item, Material, Term
from variants.rulebook import Likeness, Need, marking_difference, reduce_shade_terms, wind_together


def find_stand_ins(likeness: Likeness, asked: StandInQuery, box: Box | None = None) -> StandIns:
    """Rank what can stand in for a material.

    Parameters
    ----------
    likeness : Likeness
    asked : Asked
    box : Box, optional
        Answer from what it holds and has left; without one, from the whole materials table.

    Notes
    -----
    One comparison for each material and colour on offer; mixes of two are tried only for a colour
    of several shades.
    """
    return _Search(likeness, asked, box).answer()


class _Search:
    """One question being answered."""

    def __init__(self, likeness: Likeness, asked: StandInQuery, box: Box | None) -> None:
        self.likeness, self.asked, self.box = likeness, asked, box
        self.trade, self.scales = likeness.trade, likeness.tables.scales
        self.wanted = self._list_colours()
        self.caution = likeness.tables.caution(asked.material)

    def answer(self) -> StandIns:
        same, others = self._split_serving()
        fit = [one for one in others if not self._unmet(one)]
        unfit = [one for one in others if self._unmet(one)]
        if not fit:
            # Better a stand-in that is told to lack something than none.
            fit, unfit = unfit, []
        style = self.trade.styles[self.asked.style].part(self.asked.part)
        return StandIns(
            asked=self.asked,
            profile=self.likeness.profile(
                self.asked.part, self.asked.style, self.asked.material.kind
            ),
            answers=self._group(_put_lawful_first(sorted(self._find_offers(fit), key=_sort_key))),
            shades=tuple(sorted(self._other_shades(same), key=_sort_key)),
            same=tuple(same),
            held=self._find_held(),
            unfit=tuple(sorted(self._find_unfit(unfit), key=lambda one: one.distance)),
            may_go=style if style is not None and style.optional else None,
        )

    def _list_colours(self) -> tuple[Colour, ...]:
        """Return the colours that would do: the one asked for, or those the stuff is known by."""
        if self.asked.colour is not None:
            return (self.asked.colour,)
        known = self.trade.colours
        own = tuple(known[name] for name in self.asked.material.colours if name in known)
        return own if len(own) >= self.scales["many_colours"] else own[:1]

    def _split_serving(self) -> tuple[list[OtherName], list[Material]]:
        """Return what is tied in at the part: the same stuff by another name, and the rest."""
        asked = self.asked
        serving = self.likeness.serving(asked.material, asked.part, asked.style)
        held = None if self.box is None else {item.material.id for item in self.box.items}
        same: list[OtherName] = []
        others: list[Material] = []
        for one in self.trade.materials.values():
            if one.id == asked.material.id or one.id not in serving:
                continue
            if {one.id, one.kind} & asked.without or (held is not None and one.id not in held):
                continue
            name = self._name_of(one)
            if name is None:
                others.append(one)
            else:
                same.append(name)
        return same, others

    def _name_of(self, other: Material) -> OtherName | None:
        """Return a material as the one asked for by another name, if the tables say that it is."""
        asked = self.asked
        for pair in self.likeness.tables.same:
            if {pair.material, pair.of} != {asked.material.id, other.id}:
                continue
            colour = asked.colour or (self.trade.colours[pair.colour] if pair.colour else None)
            is_particular = asked.material.id == pair.material
            # Stuff asked for in other colours goes by the name of this one no more.
            if pair.colour and not is_particular and pair.colour not in {c.id for c in self.wanted}:
                return None
            if self._comes_in(other, colour, bool(pair.colour)):
                return OtherName(other, colour, pair.says, pair.source)
        return None

    def _comes_in(self, material: Material, colour: Colour | None, is_own: bool) -> bool:
        """Tell whether stuff is had in a colour, or, from a box, lies in it."""
        if self.box is not None:
            return any(
                item.material.id == material.id
                and not item.is_gone
                and (colour is None or item.colour is None or item.colour.id == colour.id)
                for item in self.box.items
            )
        known = {*material.colours}
        return colour is None or colour.id in known or (ANY in known and not is_own)

    def _distance(self, wanted: Material, found: Material) -> int:
        terms = self.likeness.material(wanted, found, self.asked.part, self.asked.style)
        return sum(term.cost for term in terms)

    def _unmet(self, found: Material) -> tuple[Need, ...]:
        asked = self.asked
        return self.likeness.unmet(asked.material, found, asked.part, asked.style)

    def _find_offers(self, materials: Iterable[Material]) -> Iterator[StandIn]:
        """Yield each material in the colour of it that comes nearest; from a box, in each."""
        asked = self.asked
        for material in materials:
            terms = (
                *self.likeness.material(asked.material, material, asked.part, asked.style),
                *self._caution_terms(material),
            )
            shades = self._find_shades(material)
            share = self.likeness.shade_share(Ingredient(asked.material, asked.colour), material)
            judged = [
                (reduce_shade_terms(self._colour_terms(shade), share), shade) for shade in shades
            ]
            judged.sort(key=lambda one: sum(term.cost for term in one[0]))
            for colour_terms, shade in judged if self.box else judged[:1]:
                yield self._make_stand_in(material, shade, (*terms, *colour_terms))

    def _find_shades(self, material: Material) -> list[Shade]:
        is_dyers = self.asked.colour is not None and len(self.asked.colour.hexes) == 1
        return find_shades(self.likeness, material, self.wanted, self.box, dyed_as_sold=is_dyers)

    def _make_stand_in(self, material: Material, shade: Shade, terms: tuple[Term, ...]) -> StandIn:
        ordered = tuple(sorted(terms, key=lambda term: -term.cost))
        is_any = len(self.wanted) > 1 and not shade.items
        colours = () if is_any else shade.colours
        return StandIn(material, colours, sum(term.cost for term in terms), ordered, shade.items)

    def _caution_terms(self, material: Material) -> tuple[Term, ...]:
        """Return what a caution costs; one that the stuff asked for carries costs nothing."""
        caution = self.likeness.tables.caution(material)
        if caution is None or self.box is not None:
            return ()
        if self.caution and caution.cost <= self.caution.cost and caution.id != "protected":
            return ()
        return (Term("caution", caution.cost, caution.says, caution.source),)

    def _colour_terms(self, shade: Shade) -> tuple[Term, ...]:
        """Return what differs between a shade and the nearest of the colours wanted."""
        if not shade.colours or not self.wanted:
            return shade.terms
        asked, seen = self.asked, shade.seen
        told: list[tuple[Term, ...]] = []
        for colour in self.wanted:
            told.append(
                self.likeness.colour(colour, seen, asked.part, asked.style, asked.material.kind)
            )
            if not told[-1]:
                break
        return (*min(told, key=lambda terms: sum(term.cost for term in terms)), *shade.terms)

    def _other_shades(self, same: Iterable[OtherName]) -> Iterator[StandIn]:
        """Yield the stuff asked for in its other colours, and two of them together."""
        if self.asked.colour is None:
            return
        seen: set[frozenset[str]] = set()
        for material in (self.asked.material, *(name.material for name in same)):
            shades = self._find_shades(material)
            if self.box is None and ANY in material.colours:
                shades += [Shade((colour,)) for colour in plain_colours(self.likeness)]
            for shade in shades:
                names = frozenset(colour.id for colour in shade.colours)
                if self._is_another_colour(shade, names) and names not in seen:
                    seen.add(names)
                    yield self._make_stand_in(material, shade, self._colour_terms(shade))

    def _is_another_colour(self, shade: Shade, names: frozenset[str]) -> bool:
        """Tell whether a shade is none of the colour asked for, nor of what can't be had."""
        asked = self.asked
        if asked.colour is None or not names or names & {asked.colour.id}:
            return False
        if names == frozenset(asked.colour.id.split(" + ")):
            return False
        families = {colour.family for colour in shade.colours}
        return not (names | families) & asked.without and not any(
            name.startswith(f"{asked.colour.id} dyed on") for name in names
        )

    def _group(self, ranked: Iterable[StandIn]) -> tuple[StandInGroup, ...]:
        """Gather what is alike behind the nearest of its kind."""
        groups: list[list[StandIn]] = []
        for one in ranked:
            for group in groups:
                if self._goes_with(group[0], one):
                    group.append(one)
                    break
            else:
                groups.append([one])
        return tuple(StandInGroup(first, tuple(rest)) for first, *rest in groups)

    def _goes_with(self, first: StandIn, other: StandIn) -> bool:
        """Tell whether another stand-in is much the same, so that it needs no place of its own."""
        one, two = first.material, other.material
        if (one.graded_like or one.id) == (two.graded_like or two.id) and one is not two:
            # Of one grading, they can't be told apart: one place for both.
            return True
        if one.kind != two.kind or animal_of(one) != animal_of(two):
            return False
        is_near = abs(other.distance - first.distance) <= self.scales["alike_by"]
        if not is_near or self._distance(one, two) > self.scales["alike"]:
            return False
        # A plain feather is not the same answer as a marked one, though the stuff be the same.
        marks = (
            marking_difference(
                wind_together(first.colours),
                wind_together(other.colours),
                self.trade.marking_distances,
            )
            if first.colours and other.colours
            else 0.0
        )
        return marks <= self.scales["alike_marks"]

    def _find_held(self) -> tuple[Item, ...]:
        asked = self.asked
        return tuple(
            item
            for item in (self.box.items if self.box else ())
            if item.material.id == asked.material.id
            and not item.is_gone
            and (asked.colour is None or (item.colour and item.colour.id == asked.colour.id))
        )

    def _find_unfit(self, materials: Iterable[Material]) -> Iterator[Unfit]:
        for one in materials:
            yield Unfit(one, self._distance(self.asked.material, one), self._unmet(one))


def _sort_key(stand_in: StandIn) -> tuple[int, bool, str, tuple[str, ...]]:
    material = stand_in.material
    colours = tuple(one.id for one in stand_in.colours)
    return stand_in.distance, bool(material.graded_like), material.id, colours


def _put_lawful_first(ranked: list[StandIn]) -> list[StandIn]:
    """Put the nearest answer that carries no caution in front; leave the rest in order."""
    for index, one in enumerate(ranked):
        if not one.material.restriction:
            return [one, *ranked[:index], *ranked[index + 1 :]]
    return ranked
