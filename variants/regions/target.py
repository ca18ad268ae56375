"""What one water and one natural ask of a fly, and how far a candidate is from it.

Comes in: a place, a natural and a style. Goes out: a `RegionalTarget`, which gives each candidate
its terms of the distance, as the departure has terms: what differs, by how much, and the source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import log2

from variants.model import (
    CLARITIES,
    HOOK,
    STANDARD_HOOK,
    Attributes,
    Candidate,
    Colour,
    Dressing,
    Hook,
    Natural,
    Style,
    Term,
)
from variants.regions.place import Place
from variants.regions.weights import RegionalWeights, ShownColour
from variants.rulebook import (
    THOUSANDTHS,
    Count,
    Rulebook,
    colour_difference,
    ingredient_attributes,
    wind_together,
)

#: How fast stuff sinks, slowest first; the class of sinking that each is enough for.
_SINKS = ("floats", "neutral", "soaks", "sinks")
#: Forms of parts whose stuff makes a sunk fly sink.
_SUNK_FORMS = ("body", "thorax", "underlay", "bead", "eyes")
#: Turns behind and before the wing, which add up to all turns.
TURNS, BEHIND, FRONT = "turns", "turns_behind", "turns_front"
#: Stages that are fished at the surface, and those that may be fished at either.
_AT_TOP, _AT_EITHER = ("adult", "spinner"), ("emerger",)


def hook_size_for(body_mm: float, scale: Mapping[int, Hook]) -> int:
    """Return the size of the standard hook whose shank is nearest to a natural's body.

    Parameters
    ----------
    body_mm : float
    scale : mapping of size to Hook

    Notes
    -----
    Nearest in ratio, as eyes compare lengths; of two as near the smaller hook, since a fly a size
    small is taken more often than one a size large (common practice).
    """
    return min(scale, key=lambda size: (abs(log2(scale[size].shank_mm / body_mm)), -size))


def suits_stage(style: Style, stage: str) -> bool:
    """Tell whether flies of a style are fished where the stage of the natural is met."""
    return stage in _AT_EITHER or style.floats is (stage in _AT_TOP)


@dataclass(frozen=True)
class RegionalTarget:
    """What a fly of one style should be on a water where one natural is taken.

    Attributes
    ----------
    place : Place
    natural : Natural
    style : Style
    rulebook : Rulebook
        With the rules of the place.
    weights : RegionalWeights
    """

    place: Place
    natural: Natural
    style: Style
    rulebook: Rulebook
    weights: RegionalWeights

    @cached_property
    def hook_size(self) -> int:
        """The standard hook for the middle of the natural's body lengths."""
        low, high = self.natural.body_mm
        return hook_size_for((low + high) / 2, self.rulebook.scale)

    @cached_property
    def sinking_class(self) -> int | None:
        """How fast the fly should sink, as a place among the classes; None for one that floats."""
        depth = self.place.water.depth_m
        if self.style.floats or depth is None:
            return None
        by_depth = sum(depth > end for end in self.weights.depths_m)
        faster = self.place.water.speed == "fast"
        return min(by_depth + faster, len(self.weights.classes) - 1)

    def colour_of(self, part: str) -> tuple[ShownColour, Colour] | None:
        """Return the colour of the natural that a part should show."""
        lineage = self.rulebook.trade.part_kind(part).lineage
        told = self.weights.colours
        shown = next((told[one] for one in lineage if one in told), None)
        colour = getattr(self.natural, shown.of) if shown else None
        return (shown, colour) if shown and colour is not None else None

    def count_for(self, rule: Count, attributes: Attributes) -> tuple[int, int, int] | None:
        """Return the count to tie of a feather, and the sparse and the full end for its water.

        None where nothing is asked beyond the rule. A softer feather takes more, as in the rule.
        """
        # A dressing's own count stands in the rule's place there; what the water asks stays.
        rule = self._counts_by_id.get(rule.id, rule)
        if not self._asks(rule):
            return None
        low, high = rule.range_for(attributes, self.place.water.speed)
        share = CLARITIES.index(self.place.water.clarity) / (len(CLARITIES) - 1)
        return round(low + share * (high - low)), low, high

    @cached_property
    def _counts_by_id(self) -> Mapping[str, Count]:
        rules = self.rulebook.rules_for(self.style.id, self.place.water.speed)
        return {rule.id: rule for rule in rules if isinstance(rule, Count)}

    def _asks(self, rule: Count) -> bool:
        """Tell whether a rule says what waters ask: it tells them apart, or is the house's own.

        Turns behind and before the wing are those in all, shared out.
        """
        is_share = rule.count in (BEHIND, FRONT)
        is_own = any(rule.id == one.id for one in self.place.rules)
        return not is_share and (len(rule.bounds) > 1 or is_own)

    def counts_asked(self, base: Dressing) -> tuple[Count, ...]:
        """Return the rules that say how many turns or fibres a dressing's parts should have."""
        parts = {part.id: ingredient_attributes(part.ingredients[0]) for part in base.parts}
        return tuple(
            rule
            for rule in self.rulebook.rules_for(self.style.id, self.place.water.speed)
            if isinstance(rule, Count)
            and self._asks(rule)
            and rule.part in parts
            and rule.speaks_of(parts)
            and (not rule.beside or rule.beside in parts)
            and rule.without not in parts
        )

    def terms(self, candidate: Candidate, counts: Sequence[Count]) -> tuple[Term, ...]:
        """Return how far a candidate is from what is asked of its part: nothing or terms.

        ``counts`` are the rules in force that count the turns or fibres of its part.
        """
        if not candidate.ingredients:
            return tuple(self._omission_terms(candidate))
        terms = [
            *self._size_terms(candidate),
            *self._colour_terms(candidate),
            *self._count_terms(candidate, counts),
            *self._sinking_terms(candidate),
        ]
        return tuple(term for term in terms if term.cost)

    def _omission_terms(self, candidate: Candidate) -> list[Term]:
        """Return what is lost with a part that shows some of the natural."""
        wanted = self.colour_of(candidate.part)
        if wanted is None:
            return []
        shown, _ = wanted
        says = f"nothing shows the {self.natural.name}'s {shown.of} there"
        return [Term("colour", _weigh(1.0, shown.weight), says, shown.source)]

    def _size_terms(self, candidate: Candidate) -> list[Term]:
        shank = candidate.attributes.get("shank_mm")
        if candidate.part != HOOK or not isinstance(shank, int | float):
            return []
        low, high = self.natural.body_mm
        nearest = min(max(shank, low), high)
        numbers = self.weights.size.numbers
        cost = _weigh(abs(log2(shank / nearest)) / numbers["span"], numbers["weight"])
        longer = "longer" if shank > high else "shorter"
        says = (
            f"shank {shank:.1f} mm, {longer} than the {self.natural.name}'s body,"
            f" {low:g} to {high:g} mm"
        )
        return [Term("size", cost, says, self.weights.size.source)]

    def _colour_terms(self, candidate: Candidate) -> list[Term]:
        wanted = self.colour_of(candidate.part)
        found = visible_colour(candidate)
        terms = []
        if wanted is not None:
            shown, colour = wanted
            if found is None or not found.hexes:
                cost, says = _weigh(1.0, shown.weight), "of a colour that the tables don't tell"
            else:
                likeness = self.rulebook.likeness
                apart = colour_difference(colour, found, likeness.shade_cost) or 0.0
                difference = colour_difference(colour, found) or 0.0
                cost = _weigh(apart, shown.weight)
                says = (
                    f"{found.name} is dE {difference:.0f} from {colour.name},"
                    f" the {self.natural.name}'s {shown.of}"
                )
            terms.append(Term("colour", cost, says, f"{shown.source}; CIEDE2000"))
        palette = self.place.region.palette.get(candidate.part)
        own = {one.colour.id for one in candidate.ingredients if one.colour}
        if palette is not None and own - palette:
            cost = _weigh(1.0, self.weights.palette.numbers["weight"])
            says = "not one of the colours that flies are dressed in here"
            terms.append(Term("palette", cost, says, self.weights.palette.source))
        return terms

    def _count_terms(self, candidate: Candidate, rules: Sequence[Count]) -> list[Term]:
        terms = []
        for rule in rules:
            asked = self.count_for(rule, candidate.attributes)
            value = candidate.attributes.get(rule.count)
            if asked is None or not isinstance(value, int):
                continue
            wanted, low, high = asked
            share = min(1.0, abs(value - wanted) / wanted)
            cost = _weigh(share, self.weights.count.numbers["weight"])
            water = f"{self.place.water.clarity} {self.place.water.speed} water"
            says = f"{value} {rule.count}, and {water} asks {wanted} (of {low} to {high})"
            terms.append(Term(rule.count, cost, says, rule.source))
        return terms

    def _sinking_terms(self, candidate: Candidate) -> list[Term]:
        wanted = self.sinking_class
        if wanted is None:
            return []
        asked = self.weights.sinking
        name = self.weights.classes[wanted]
        if candidate.part == HOOK:
            model = self.rulebook.trade.hook_models.get(
                candidate.ingredients[0].material.id, STANDARD_HOOK
            )
            missing = max(0, wanted - model.wire_x)
            cost = _weigh(missing / len(self.weights.classes), asked.numbers["wire_weight"])
            return [Term("sinking", cost, f"light in the wire where a fly {name}", asked.source)]
        water = candidate.attributes.get("water")
        form = self.rulebook.trade.part_kind(candidate.part).form
        if form not in _SUNK_FORMS or water not in _SINKS:
            return []
        off = _SINKS.index(str(water)) - min(wanted + 1, len(_SINKS) - 1)
        cost = _weigh(abs(off) / (len(_SINKS) - 1), asked.numbers["weight"])
        return [Term("sinking", cost, f"{water}, where a fly {name}", asked.source)]

    def hints_for(self, chosen: Mapping[str, Candidate]) -> tuple[tuple[str, str], ...]:
        """Return the words for the bench that hold for a fly, with their sources."""
        return tuple(
            (hint.says[getattr(self.place.water, hint.by)], hint.source)
            for hint in self.weights.hints
            if (not hint.styles or self.style.id in hint.styles)
            and any(
                one.attributes.get("class") in hint.classes
                for part, one in chosen.items()
                if part in self.rulebook.trade.with_like_parts(hint.parts)
            )
        )


def visible_colour(candidate: Candidate) -> Colour | None:
    """Return the colour that a part shows: of a blend its own, of several wound ones together."""
    shade = candidate.attributes.get("shade")
    if candidate.attributes.get("blend") and isinstance(shade, str):
        return Colour(shade, candidate.words, hexes=(shade,))
    colours = [one.colour for one in candidate.ingredients if one.colour is not None]
    return wind_together(colours) if colours else None


def _weigh(share: float, weight: float) -> int:
    """Return a share of a weight in thousandths, rounded once."""
    return round(min(1.0, share) * weight * THOUSANDTHS)
