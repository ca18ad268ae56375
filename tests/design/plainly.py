"""All that may fill a part, constructed a second time: slow, plain, and by other hands.

Nothing of `variants.design` is used. A dressing, a box and the trade's tables go in; for each part
every filling comes out with what it departs, by the same tables of likeness. What may fill a part:

- any one item that is left and whose material the tables know as stuff for the place, or that is
  of the very material written, or of its class, where the place is open to that and the material
  has an open place of its own; of a part that makes the fly what it is, of the same kind only;
- a left and a right of the same feather, as a pair;
- of a part that mixes several, one item for each, all of them different: of its ingredient's class
  where it mixes two, of its very material where it mixes more; the cheapest order of them counts;
- where a rule says that one colour does the work of two wound together, that one for the two, and
  where it says so the two for the one;
- two dubbings, or three of those nearest by their material, blended to the shade that is wanted;
- a hook in each of its sizes that may be tied;
- nothing, where the style can do without the part and it is no signature, or its author says so.

Where an author allows something else as well, all that may stand for that may stand too, at what it
departs from the nearest of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, permutations, product
from typing import NamedTuple

from variants.model import (
    STANDARD_HOOK,
    Dressing,
    Ingredient,
    Item,
    Material,
    Part,
    StylePart,
    Term,
)
from variants.rulebook import Equal, Rule, Rulebook, blend_shade, delta_e

#: A dozen of something is as good as plenty: then two things that measure alike are one choice.
DOZEN = 12
SHARES = {
    2: [(1, 1), (2, 1), (1, 2), (3, 1), (1, 3)],
    3: [(1, 1, 1), (2, 1, 1), (1, 2, 1), (1, 1, 2)],
}
NEAREST_OF_THREE, NEARER_BY = 12, 2.0


class Filling(NamedTuple):
    """One way to fill a part: the ids of the items, how they are put together, at which size."""

    items: frozenset[str]
    how: str
    size: int | None = None


class Told(NamedTuple):
    """What a filling departs, in thousandths, and whether it is as written."""

    cost: int
    is_written: bool


class Plainly:
    """Constructs the fillings of one question.

    Parameters
    ----------
    dressing, box, rulebook
    missing : collection of str
        Ids of parts, items and materials.
    sizes : sequence of int
    water : str, optional
    """

    def __init__(
        self,
        dressing: Dressing,
        items: Iterable[Item],
        rulebook: Rulebook,
        missing: frozenset[str] = frozenset(),
        sizes: Sequence[int] = (),
        water: str | None = None,
    ) -> None:
        self.dressing, self.rulebook, self.sizes = dressing, rulebook, sizes or dressing.sizes
        self.style = rulebook.trade.styles[dressing.style]
        self.rules: tuple[Rule, ...] = rulebook.rules_for(dressing.style, water)
        gone = [
            one
            for part in dressing.parts
            if part.id in missing
            for way in part.ways
            for one in way.ingredients
        ]
        parts = {part.id for part in dressing.parts}
        named = missing - parts
        self.items = [
            item
            for item in items
            if not item.is_gone
            and item.id not in named
            and item.material.id not in named
            and not any(is_one(wanted, stuff_of(item)) for wanted in gone)
        ]

    def fillings(self, part: Part) -> dict[Filling, Told]:
        """Return all that may fill a part, each with what it departs."""
        kind = self.style.part(part.id)
        assert kind is not None
        found: dict[Filling, Told] = {}
        if part.id == "hook":
            ways = [self._hooks(way, kind) for way in part.ways]
        else:
            ways = [self._from_box(way, kind) for way in part.ways]
        for way, own in zip(part.ways, ways, strict=True):
            for filling, cost in own:
                known = found.get(filling, Told(cost, False))
                is_written = known.is_written or self._is_written(way, filling)
                found[filling] = Told(min(cost, known.cost), is_written)
        if part.may_go:
            found[Filling(frozenset(), "left out")] = Told(0, True)
        elif kind.optional and not part.signature:
            found[Filling(frozenset(), "left out")] = Told(self._without(kind), False)
        return found

    def _is_written(self, part: Part, filling: Filling) -> bool:
        """Tell whether a filling is what a part's words say."""
        items = [item for item in self.items if item.id in filling.items]
        if part.id == "hook":
            is_named = items[0].material == part.ingredients[0].material
            return is_named and filling.size in self.dressing.sizes
        if filling.how == "pair":
            items = items[:1]
        if filling.how.startswith("blended") or len(items) != len(part.ingredients):
            return False
        return any(
            all(
                is_one(wanted, stuff_of(item))
                for wanted, item in zip(part.ingredients, order, strict=True)
            )
            for order in permutations(items)
        )

    def _serving(self, part: Part) -> list[Item]:
        return [
            item
            for item in self.items
            if any(
                self._may_be(item.material, one.material, part.id)
                and (not part.signature or self._is_same_kind(item.material, one.material))
                for one in part.ingredients
            )
        ]

    def _may_be(self, found: Material, wanted: Material, place: str) -> bool:
        """Tell whether a material may be tried in the place of another."""
        if found.id == wanted.id or self._is_known(found, place):
            return True
        return (
            found.kind == wanted.kind
            and self._is_open(place, wanted)
            and any(
                self._is_known(found, other) and self._is_open(other, found)
                for other in self.rulebook.trade.parts
            )
        )

    def _is_same_kind(self, found: Material, wanted: Material) -> bool:
        return self.rulebook.likeness.is_same_kind(wanted, found)

    def _is_known(self, material: Material, place: str) -> bool:
        return bool(material.functions & self.rulebook.trade.parts[place].functions)

    def _is_open(self, place: str, wanted: Material) -> bool:
        return not self.rulebook.likeness.profile(place, self.style.id, wanted.kind).closed

    def _from_box(self, part: Part, kind: StylePart) -> Iterator[tuple[Filling, int]]:
        serving = self._serving(part)
        for item in serving:
            cost = self._alone(part, kind, stuff_of(item))
            yield Filling(frozenset({item.id}), "alone"), cost
            for other in serving:
                same_bird = stuff_of(item).key == stuff_of(other).key
                if same_bird and (item.side, other.side) == ("left", "right"):
                    yield Filling(frozenset({item.id, other.id}), "pair"), cost
        if len(part.ingredients) > 1:
            yield from self._mixed(part, kind, serving)
        else:
            yield from self._two_for_one(part, kind, serving)
            yield from self._blended(part, kind, serving)

    def _alone(self, part: Part, kind: StylePart, found: Ingredient) -> int:
        """Return what one stuff departs where the part has one, or several of which one is lost."""
        if len(part.ingredients) == 1:
            return weighed(self._terms(part, part.ingredients[0], found), kind.weight)
        nearest = min(part.ingredients, key=lambda one: weighed(self._terms(part, one, found), 1.0))
        colours = {one.colour.id for one in part.ingredients if one.colour}
        shade = found.colour.id if found.colour else ""
        own = [
            rule.cost
            for rule in self._equals(part)
            if rule.mixed == colours and shade in rule.single
        ]
        if own:
            terms = self._material_terms(part, nearest, found)
            return weighed(terms, kind.weight) + thousandths(min(own), kind.weight)
        lost = thousandths(self.rulebook.conventions.mixed_part, kind.weight)
        return weighed(self._terms(part, nearest, found), kind.weight) + lost

    def _mixed(
        self, part: Part, kind: StylePart, serving: Sequence[Item]
    ) -> Iterator[tuple[Filling, int]]:
        many = len(part.ingredients)
        for several in combinations(serving, many):
            if any(are_alike(one, other) for one, other in combinations(several, 2)):
                continue
            costs = [
                sum(
                    weighed(self._terms(part, wanted, stuff_of(item)), kind.weight / many)
                    for wanted, item in zip(part.ingredients, order, strict=True)
                )
                for order in permutations(several)
                if all(
                    item.material.id == wanted.material.id
                    if many > 2
                    else item.material.kind == wanted.material.kind
                    for wanted, item in zip(part.ingredients, order, strict=True)
                )
            ]
            if costs:
                yield Filling(frozenset(item.id for item in several), "mixed"), min(costs)

    def _two_for_one(
        self, part: Part, kind: StylePart, serving: Sequence[Item]
    ) -> Iterator[tuple[Filling, int]]:
        wanted = part.ingredients[0]
        for rule in self._equals(part):
            if not (rule.both_ways and wanted.colour and wanted.colour.id in rule.single):
                continue
            of_colour = [
                [item for item in serving if item.colour and item.colour.id == colour]
                for colour in rule.mixed
            ]
            for several in product(*of_colour):
                cost = thousandths(rule.cost, kind.weight) + sum(
                    weighed(
                        self._material_terms(part, wanted, stuff_of(item)),
                        kind.weight / len(several),
                    )
                    for item in several
                )
                yield Filling(frozenset(item.id for item in several), "mixed"), cost

    def _blended(
        self, part: Part, kind: StylePart, serving: Sequence[Item]
    ) -> Iterator[tuple[Filling, int]]:
        wanted, classes = part.ingredients[0], self.rulebook.conventions.blended
        if wanted.material.kind not in classes or not is_plain(wanted):
            return
        stuffs = {stuff_of(item).key: stuff_of(item) for item in serving}
        usable = [one for one in stuffs.values() if one.material.kind in classes and is_plain(one)]
        for two in combinations(usable, 2):
            yield from self._blends_of(part, kind, two, serving)
        # Of those that stand equally far the names decide, as everywhere.
        usable.sort(
            key=lambda one: (weighed(self._material_terms(part, wanted, one), kind.weight), one.key)
        )
        for three in combinations(usable[:NEAREST_OF_THREE], 3):
            yield from self._blends_of(part, kind, three, serving)

    def _blends_of(
        self, part: Part, kind: StylePart, stuffs: Sequence[Ingredient], serving: Sequence[Item]
    ) -> Iterator[tuple[Filling, int]]:
        """Yield the nearest blend of some dubbings, of whichever items they are."""
        wanted, conventions = part.ingredients[0], self.rulebook.conventions
        stuffs = sorted(stuffs, key=lambda one: one.key)
        shade, shades = shade_of(wanted), [shade_of(one) for one in stuffs]
        blends = [
            (delta_e(shade, blend_shade(shades, share)), number, share)
            for number, share in enumerate(SHARES[len(stuffs)])
        ]
        apart, _, share = min(blends)
        alone = min(delta_e(shade, one) for one in shades)
        if apart > conventions.blend_within or apart >= alone - NEARER_BY:
            return
        cost = thousandths(conventions.blend_trouble * (len(stuffs) - 1), kind.weight)
        for stuff, parts in zip(stuffs, share, strict=True):
            terms = self._material_terms(part, wanted, stuff)
            cost += weighed(terms, kind.weight * parts / sum(share))
        cost += self._shade_cost(part, kind, blend_shade(shades, share))
        owned = [[item for item in serving if stuff_of(item).key == one.key] for one in stuffs]
        for items in product(*owned):
            told = sorted(f"{item.id} {parts}" for item, parts in zip(items, share, strict=True))
            yield Filling(frozenset(item.id for item in items), f"blended {told}"), cost

    def _shade_cost(self, part: Part, kind: StylePart, shade: str) -> int:
        from variants.model import Colour

        wanted = part.ingredients[0].colour
        assert wanted is not None
        blend = Colour(id=shade.lower(), name="", family=wanted.family, hexes=(shade,))
        kind_of_stuff = part.ingredients[0].material.kind
        likeness = self.rulebook.likeness
        terms = likeness.colour(wanted, blend, part.id, self.style.id, kind_of_stuff)
        return weighed(terms, kind.weight)

    def _hooks(self, part: Part, kind: StylePart) -> Iterator[tuple[Filling, int]]:
        trade, conventions = self.rulebook.trade, self.rulebook.conventions
        wanted = part.ingredients[0].material
        asked = trade.hook_models.get(wanted.id, STANDARD_HOOK)
        for item in self._serving(part):
            model = trade.hook_models.get(item.material.id, STANDARD_HOOK)
            for size in set(item.sizes or ()) & set(self.sizes):
                if self.rulebook.hook(item.material, size, item) is None:
                    continue
                off = min(abs(size - one) for one in self.dressing.sizes)
                likeness = self.rulebook.likeness
                cost = weighed(
                    likeness.material(wanted, item.material, part.id, self.style.id), kind.weight
                )
                cost += thousandths(conventions.size_step * off / 2, kind.weight)
                longer, stouter = model.length_x - asked.length_x, model.wire_x - asked.wire_x
                cost += thousandths(conventions.shank_like * abs(longer), kind.weight)
                cost += thousandths(conventions.wire_like * abs(stouter), kind.weight)
                if model.bend != asked.bend and {model.bend, asked.bend} & {"curved", "jig"}:
                    cost += thousandths(conventions.bend_like, kind.weight)
                yield Filling(frozenset({item.id}), "alone", size), cost

    def _without(self, kind: StylePart) -> int:
        conventions = self.rulebook.conventions
        least, most = conventions.left_out_least, conventions.left_out_most
        return round(1000 * kind.weight * (least + kind.weight * (most - least)))

    def _equals(self, part: Part) -> list[Equal]:
        return [rule for rule in self.rules if isinstance(rule, Equal) and rule.part == part.id]

    def _material_terms(
        self, part: Part, wanted: Ingredient, found: Ingredient
    ) -> tuple[Term, ...]:
        likeness = self.rulebook.likeness
        return likeness.material(wanted.material, found.material, part.id, self.style.id)

    def _terms(self, part: Part, wanted: Ingredient, found: Ingredient) -> tuple[Term, ...]:
        return self.rulebook.likeness.ingredient(wanted, found, part.id, self.style.id)


def stuff_of(item: Item) -> Ingredient:
    """Return what an item is of."""
    return Ingredient(item.material, item.colour)


def is_one(wanted: Ingredient, found: Ingredient) -> bool:
    """Tell whether something is what is written; where no colour is written, any is."""
    return wanted.material.id == found.material.id and (
        wanted.colour is None or wanted.colour == found.colour
    )


def is_plain(stuff: Ingredient) -> bool:
    """Tell whether a stuff has one known shade."""
    return stuff.colour is not None and len(stuff.colour.hexes) == 1


def shade_of(stuff: Ingredient) -> str:
    """Return the one shade of a stuff."""
    assert stuff.colour is not None
    return stuff.colour.hexes[0]


def is_plenty(item: Item) -> bool:
    """Tell whether an item is not counted in pieces, or is of a dozen and more."""
    return item.count is None or item.count >= DOZEN


def are_alike(one: Item, other: Item) -> bool:
    """Tell whether two items are one choice: nobody could tell by the fly which was taken."""

    def measured(item: Item) -> tuple[object, ...]:
        return (
            stuff_of(item).key, item.sizes, item.length_mm, item.thickness_mm, item.denier,
            item.gape_mm, item.shank_mm, item.side,
        )  # fmt: skip

    return is_plenty(one) and is_plenty(other) and measured(one) == measured(other)


def weighed(terms: Iterable[Term], weight: float) -> int:
    """Return what terms come to, each rounded by itself."""
    return sum(round(term.cost * weight) for term in terms)


def thousandths(cost: float, weight: float) -> int:
    """Return a departure told as a share, times a weight, in thousandths."""
    return round(round(cost * 1000) * weight)
