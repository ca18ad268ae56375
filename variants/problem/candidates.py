"""What may fill each part: from the box, two together, one for two, or nothing at all.

Domains are complete: every lot of the box whose material can serve the part stands in it. What is
wrong for the fly is for the rules to say, so that a "no" can be explained.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from variants.model import (
    Attributes,
    Candidate,
    Dressing,
    Ingredient,
    Part,
    Style,
    StylePart,
    Term,
    Value,
    Way,
)
from variants.problem.attributes_of import (
    lot_attributes,
    shared_length,
    together,
    written_attributes,
)
from variants.problem.blends import blend_candidates
from variants.problem.departure import (
    equal_term,
    ingredient_terms,
    left_out_term,
    lost_feather_term,
    weighted,
)
from variants.problem.dress import counts_of, dress, pieces_taken
from variants.problem.hooks import as_written_hook, hook_candidates
from variants.problem.request import Request
from variants.problem.stock import Lot, lots_serving
from variants.rulebook import SINGLE_SIDES, Count, Equal, Rule, Rulebook


@dataclass(frozen=True)
class DomainBuilder:
    """Builds the domains of one request.

    Attributes
    ----------
    rulebook : Rulebook
    request : Request
    style : Style
    rules : tuple of Rule
        Those that speak about the style on the water.
    lots : tuple of Lot
    """

    rulebook: Rulebook
    request: Request
    style: Style
    rules: tuple[Rule, ...]
    lots: tuple[Lot, ...]

    @property
    def base(self) -> Dressing:
        """The dressing asked for."""
        return self.request.base

    def domain(self, part: Part) -> list[Candidate]:
        """Return all candidates for a part of the dressing, in their stable order."""
        style_part = self.style.part(part.id)
        assert style_part is not None  # the reader refuses parts that the style lacks
        if part.id == "hook":
            found = hook_candidates(part, style_part, self.lots, self.request, self.rulebook)
        else:
            found = self._from_box(part, style_part)
            if style_part.optional and not part.signature:
                found.append(self._left_out(part, style_part))
        if part.id in self.request.keep:
            found = [candidate for candidate in found if not candidate.is_changed]
        return sorted(found, key=lambda candidate: candidate.key)

    def as_written(self, part: Part) -> Candidate:
        """Return the part as the dressing writes it, whether or not the box holds it."""
        if part.id == "hook":
            return as_written_hook(part, self.request, self.rulebook)
        return Candidate(
            part.id,
            Way.AS_WRITTEN,
            part.ingredients,
            (),
            self._dressed(part, written_attributes(part)),
            key=tuple(word for ingredient in part.ingredients for word in ingredient.key),
        )

    def _from_box(self, part: Part, style_part: StylePart) -> list[Candidate]:
        kind = self.rulebook.trade.parts[part.id]
        lots = lots_serving(self.lots, kind.functions)
        singles = [self._single(part, style_part, lot) for lot in lots]
        singles += self._matched_pairs(part, style_part, lots)
        if len(part.ingredients) > 1:
            return singles + self._mixes(part, style_part, lots)
        singles += self._two_for_one(part, style_part, lots)
        return [*singles, *blend_candidates(self, part, style_part, lots)]

    def _single(self, part: Part, style_part: StylePart, lot: Lot) -> Candidate:
        found = lot.ingredient
        wanted = part.ingredients[0]
        if len(part.ingredients) > 1:
            wanted = min(part.ingredients, key=lambda one: _sum(self._terms(part, one, found)))
        terms = self._terms(part, wanted, found)
        way = Way.AS_WRITTEN if is_same(wanted, found) else Way.SUBSTITUTE
        if len(part.ingredients) > 1:
            equal = self._equal_for(part, found)
            if equal:
                way = Way.COMBINED
                terms = (
                    *self.rulebook.likeness.material(
                        wanted.material, found.material, part.id, self.style.id
                    ),
                    equal_term(equal),
                )
            else:
                way = Way.SUBSTITUTE
                terms = (*terms, lost_feather_term(self.rulebook.conventions))
        return self.candidate(
            part,
            way,
            (lot,),
            weighted(terms, style_part.weight),
            lot_attributes(lot, self.rulebook),
        )

    def _matched_pairs(
        self, part: Part, style_part: StylePart, lots: Sequence[Lot]
    ) -> list[Candidate]:
        """Return what a left and a right of the same feather make together."""
        sides: dict[tuple[str, str], dict[str, list[Lot]]] = {}
        for lot in lots:
            if lot.item.side in SINGLE_SIDES:
                both = sides.setdefault(lot.ingredient.key, {side: [] for side in SINGLE_SIDES})
                both[lot.item.side].append(lot)
        return [
            self._pair(part, style_part, pair)
            for both in sides.values()
            for pair in product(*both.values())
        ]

    def _pair(self, part: Part, style_part: StylePart, pair: Sequence[Lot]) -> Candidate:
        single = self._single(part, style_part, pair[0])
        return replace(
            single,
            items=tuple(lot.items for lot in pair),
            attributes={**single.attributes, **shared_length(pair, self.rulebook), "side": "pair"},
            key=tuple(word for lot in pair for word in lot.key),
        )

    def _equal_for(self, part: Part, found: Ingredient) -> Equal | None:
        """Return the rule by which one feather does the work of the part's mix."""
        written = {ingredient.colour.id for ingredient in part.ingredients if ingredient.colour}
        return next(
            (
                rule
                for rule in self._equals(part)
                if rule.mixed == written and found.colour and found.colour.id in rule.single
            ),
            None,
        )

    def _equals(self, part: Part) -> list[Equal]:
        return [rule for rule in self.rules if isinstance(rule, Equal) and rule.part == part.id]

    def _mixes(self, part: Part, style_part: StylePart, lots: Sequence[Lot]) -> list[Candidate]:
        """Return the ways to fill a part that mixes two, one lot for each ingredient.

        Each lot is of its ingredient's class of stuff: like is mixed with like (common practice).
        Three and more together are rare; there each lot must be of the very material.
        """
        offers = [
            [lot for lot in lots if _may_be_mixed(ingredient, lot, len(part.ingredients))]
            for ingredient in part.ingredients
        ]
        mixes: dict[tuple[str, ...], Candidate] = {}
        for chosen in product(*offers):
            if len({lot.key for lot in chosen}) < len(chosen):
                continue
            mixed = self._mix(part, style_part, chosen)
            identity = tuple(sorted(lot.item.id for lot in chosen))
            other = mixes.get(identity)
            if other is None or (mixed.cost, mixed.key) < (other.cost, other.key):
                mixes[identity] = mixed
        return list(mixes.values())

    def _mix(self, part: Part, style_part: StylePart, chosen: Sequence[Lot]) -> Candidate:
        shares = [
            self._terms(part, wanted, lot.ingredient)
            for wanted, lot in zip(part.ingredients, chosen, strict=True)
        ]
        share = style_part.weight / len(chosen)
        is_written = all(
            is_same(wanted, lot.ingredient)
            for wanted, lot in zip(part.ingredients, chosen, strict=True)
        )
        return self.candidate(
            part,
            Way.AS_WRITTEN if is_written else Way.MIXED,
            chosen,
            tuple(term for terms in shares for term in weighted(terms, share)),
            together([lot_attributes(lot, self.rulebook) for lot in chosen]),
        )

    def _two_for_one(
        self, part: Part, style_part: StylePart, lots: Sequence[Lot]
    ) -> list[Candidate]:
        """Return the mixes that stand for the part's single colour."""
        wanted = part.ingredients[0]
        found: list[Candidate] = []
        for rule in self._equals(part):
            if not (rule.both_ways and wanted.colour and wanted.colour.id in rule.single):
                continue
            offers = [
                [
                    lot
                    for lot in lots
                    if lot.ingredient.colour and lot.ingredient.colour.id == colour
                ]
                for colour in sorted(rule.mixed)
            ]
            for chosen in product(*offers):
                terms = [*weighted([equal_term(rule)], style_part.weight)]
                for lot in chosen:
                    own = self.rulebook.likeness.material(
                        wanted.material, lot.ingredient.material, part.id, self.style.id
                    )
                    terms += weighted(own, style_part.weight / len(chosen))
                attributes = together([lot_attributes(lot, self.rulebook) for lot in chosen])
                found.append(self.candidate(part, Way.MIXED, chosen, tuple(terms), attributes))
        return found

    def _terms(self, part: Part, wanted: Ingredient, found: Ingredient) -> tuple[Term, ...]:
        return ingredient_terms(self.rulebook.likeness, wanted, found, part.id, self.style.id)

    def _left_out(self, part: Part, style_part: StylePart) -> Candidate:
        return Candidate(
            part.id,
            Way.LEFT_OUT,
            (),
            (),
            {},
            (left_out_term(self.rulebook.conventions, style_part),),
            ("~",),  # after every name
        )

    def candidate(
        self,
        part: Part,
        way: Way,
        lots: Sequence[Lot],
        terms: tuple[Term, ...],
        attributes: Attributes,
    ) -> Candidate:
        """Return a candidate made of lots, dressed as this part."""
        found = [lot.ingredient for lot in lots]
        dressed = self._dressed(part, attributes, found)
        return Candidate(
            part.id,
            way,
            tuple(found),
            tuple(lot.items for lot in lots),
            dressed,
            terms,
            tuple(word for lot in lots for word in lot.key),
            pieces_taken(dressed, self._counts(part), len(found)),
        )

    def _dressed(
        self, part: Part, attributes: Attributes, found: Sequence[Ingredient] = ()
    ) -> dict[str, Value]:
        found = found or part.ingredients
        return dress(part, attributes, found, self._counts(part), self._tied[part.id])

    def _counts(self, part: Part) -> tuple[Count, ...]:
        if part.id not in self._counts_by_part:
            self._counts_by_part[part.id] = counts_of(part, self.rules)
        return self._counts_by_part[part.id]

    @cached_property
    def _counts_by_part(self) -> dict[str, tuple[Count, ...]]:
        return {}

    @cached_property
    def _tied(self) -> dict[str, int]:
        """Place in the tying order by part."""
        return {kind.part: place for place, kind in enumerate(self.style.parts)}


def is_same(wanted: Ingredient, found: Ingredient) -> bool:
    """Tell whether the found ingredient is the one written; an unstated colour is any colour."""
    if wanted.material.id != found.material.id:
        return False
    return wanted.colour is None or (
        found.colour is not None and wanted.colour.id == found.colour.id
    )


def _may_be_mixed(wanted: Ingredient, lot: Lot, count: int) -> bool:
    found = lot.ingredient.material
    return found.id == wanted.material.id if count > 2 else found.kind == wanted.material.kind


def _sum(terms: Iterable[Term]) -> int:
    return sum(term.cost for term in terms)
