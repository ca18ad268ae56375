"""How far one material or colour stands from another in a role: what differs, and what it costs.

A material asked for and one that is found come in with the part and the style; terms of the
departure go out, each with the difference in trade words and its source. What matters in which role
is data (``rules/likeness``); published stand-ins are evidence that brings two materials nearer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from math import exp
from pathlib import Path
from typing import Any, Generic, Protocol, TypeVar

from variants.model import Colour, Ingredient, Material, Term, Trade
from variants.rulebook.colours import colour_difference, delta_e, marking_difference
from variants.rulebook.likeness_materials import WHOLE, MaterialLikeness
from variants.rulebook.likeness_profiles import (
    COLOUR,
    MARKING,
    MOST,
    LikenessTables,
    Need,
    Profile,
)
from variants.rulebook.likeness_tables import read_likeness

#: Of a whole difference in colour, what the shade and what the marking may come to.
_SHADE_SHARE, _MARKING_SHARE = 0.7, 0.3


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_Thing = TypeVar("_Thing", bound=_Named, contravariant=True)


class CostTable(Generic[_Thing]):
    """What things depart from the one that is asked for, in a part of some weight, by their ids.

    Parameters
    ----------
    wanted : Material or Colour
    compare : callable
        Tells what each term of the difference costs, before the weight.
    weight : float
    """

    __slots__ = ("_compare", "_known", "_weight")

    def __init__(
        self, wanted: _Thing, compare: Callable[[_Thing], tuple[int, ...]], weight: float
    ) -> None:
        self._compare, self._weight = compare, weight
        self._known = {wanted.id: 0}

    def cost(self, found: _Thing) -> int:
        """Return what the terms come to, in thousandths."""
        known = self._known.get(found.id)
        if known is None:
            known = self._known[found.id] = weighted_cost(self._compare(found), self._weight)
        return known


def weighted_cost(costs: Iterable[int], weight: float) -> int:
    """Return what terms come to when each is scaled by a part's weight and rounded."""
    return sum([round(cost * weight) for cost in costs])


@dataclass(frozen=True, eq=False)
class Likeness:
    """The judge of likeness; built once from the tables, it remembers what it has compared.

    Attributes
    ----------
    trade : Trade
    tables : LikenessTables
    """

    trade: Trade
    tables: LikenessTables
    _profiles: dict[tuple[str, str, str], Profile] = field(default_factory=dict, repr=False)
    _told: dict[tuple[str, str, str, str], tuple[Term, ...]] = field(
        default_factory=dict, repr=False
    )
    _shades: dict[tuple[str, str], float] = field(default_factory=dict, repr=False)
    _rows: dict[tuple[str, str, str, float], CostTable[Any]] = field(
        default_factory=dict, repr=False
    )
    _serving: dict[tuple[str, str, str], frozenset[str]] = field(default_factory=dict, repr=False)

    @cached_property
    def _stuff(self) -> MaterialLikeness:
        return MaterialLikeness(self.trade, self.tables)

    def __reduce__(self) -> tuple[type[Likeness], tuple[Trade, LikenessTables]]:
        """Travel without what has been compared: it is worked out anew sooner than it is sent."""
        return type(self), (self.trade, self.tables)

    def profile(self, part: str, style: str, kind: str) -> Profile:
        """Return what matters at a part of a style where stuff of some class is asked for."""
        key = (part, style, kind)
        profile = self._profiles.get(key)
        if profile is None:
            profile = self.tables.profile(part, self.trade.styles.get(style), kind)
            self._profiles[key] = profile
        return profile

    def material(
        self, wanted: Material, found: Material, part: str, style: str
    ) -> tuple[Term, ...]:
        """Return what differs between two materials in a role.

        Returns
        -------
        tuple of Term
            Thousandths, before the part's weight: none for the same material, about 1000 in sum
            for stuff that has nothing in common.

        Notes
        -----
        Each property that matters adds its importance times its difference (0 to 1), over the
        importance of all that is known of the material asked for. A published stand-in keeps only a
        part of every term; the first one named keeps least. What the role needs and the material
        asked for meets costs extra where the found one fails it, and so does a place where the
        tables don't know the found one.
        """
        if wanted.id == found.id:
            return ()
        profile = self.profile(part, style, wanted.kind)
        is_known = self.is_known(found, part)
        key = ("material" if is_known else "unusual", wanted.id, found.id, profile.id)
        told = self._told.get(key)
        if told is None:
            drafts = self._stuff.standard(wanted, profile).drafts(found)
            if not is_known:
                source = self.tables.scale_sources["unusual"]
                says = f"not known as stuff for the {self.trade.parts[part].name}"
                drafts.append(("use", self.thousandths("unusual"), says, source))
            told = self._told[key] = tuple([Term(*draft) for draft in drafts])
        return told

    def serving(self, wanted: Material, part: str, style: str) -> frozenset[str]:
        """Return the ids of the materials that may be tried at all in another's place.

        The tables know them there, or they are of the very class asked for, where the place is open
        to that, and have an open place themselves: nobody makes a tail of a hook, nor a lead rib.
        """
        key = wanted.kind, part, style
        found = self._serving.get(key)
        if found is None:
            is_open = not self.profile(part, style, wanted.kind).closed
            found = self._serving[key] = frozenset(
                one.id
                for one in self.trade.materials.values()
                if self.is_known(one, part)
                or (is_open and one.kind == wanted.kind and self._has_open_place(one, style))
            )
        return found if wanted.id in found else found | {wanted.id}

    def is_same_kind(self, wanted: Material, found: Material) -> bool:
        """Tell whether stuff is of the kind of another, so that a fly named for it stays itself."""
        apart = self.tables.classes_apart(wanted.kind, found.kind)
        return apart <= self.tables.scales["same_kind"]

    def _has_open_place(self, material: Material, style: str) -> bool:
        return any(
            self.is_known(material, part) and not self.profile(part, style, material.kind).closed
            for part in self.trade.parts
        )

    def has_place(self, material: Material, part: str, style: str) -> bool:
        """Tell whether a material, or any that stands near it, is known as stuff for a part."""
        return any(
            self.is_known(one, part) and material.id in self.serving(one, part, style)
            for one in self.trade.materials.values()
        )

    def is_known(self, found: Material, part: str) -> bool:
        """Tell whether the tables know a material as stuff for a part."""
        kind = self.trade.parts.get(part)
        return kind is None or not found.functions.isdisjoint(kind.functions)

    def material_costs(
        self, wanted: Material, found: Material, part: str, style: str
    ) -> tuple[int, ...]:
        """Return what each term of `material` costs, without its words."""
        profile = self.profile(part, style, wanted.kind)
        costs = self._stuff.standard(wanted, profile).costs(found)
        if not costs or self.is_known(found, part):
            return costs
        return (*costs, self.thousandths("unusual"))

    def material_cost_table(
        self, wanted: Material, part: str, style: str, weight: float
    ) -> CostTable[Material]:
        """Return what materials depart from one in a part, their terms scaled by its weight."""
        profile = self.profile(part, style, wanted.kind)
        compare = partial(self.material_costs, wanted, part=part, style=style)
        return self._row(f"material of {part}", wanted, profile, weight, compare)

    def colour(
        self, wanted: Colour | None, found: Colour | None, part: str, style: str, kind: str = ""
    ) -> tuple[Term, ...]:
        """Return what differs between two colours in a role: the shade and the marking.

        Parameters
        ----------
        wanted, found : Colour or None
            Where either is None, nothing can differ.
        part, style : str
        kind : str
            Class of the material asked for, where it is known: in some, marks matter more.
        """
        if wanted is None or found is None or wanted.id == found.id:
            return ()
        profile = self.profile(part, style, kind)
        key = ("colour", wanted.id, found.id, profile.id)
        told = self._told.get(key)
        if told is None:
            told = self._told[key] = self._tell_colours(wanted, found, profile)
        return told

    def colour_costs(
        self, wanted: Colour | None, found: Colour | None, part: str, style: str, kind: str = ""
    ) -> tuple[int, ...]:
        """Return what each term of `colour` costs, without its words."""
        if wanted is None or found is None or wanted.id == found.id:
            return ()
        return self._colours_apart(wanted, found, self.profile(part, style, kind))

    def ingredient(
        self, wanted: Ingredient, found: Ingredient, part: str, style: str
    ) -> tuple[Term, ...]:
        """Return what differs between two materials in their colours, in a role.

        This is the one distance by which stuff is judged, before the part's weight.
        """
        share = self.shade_share(wanted, found.material)
        terms = self.colour(wanted.colour, found.colour, part, style, wanted.material.kind)
        return (
            *self.material(wanted.material, found.material, part, style),
            *reduce_shade_terms(terms, share),
        )

    def colour_cost_table(
        self, wanted: Ingredient, part: str, style: str, weight: float, share: float
    ) -> CostTable[Colour]:
        """Return what colours depart from an ingredient's, their terms scaled by a part's weight.

        ``share`` is what a published exchange leaves of a difference in shade.
        """
        colour = wanted.colour
        assert colour is not None  # without one nothing differs
        profile = self.profile(part, style, wanted.material.kind)

        def compare(found: Colour) -> tuple[int, int]:
            shade, marks = self._colours_apart(colour, found, profile)
            return round(shade * share), marks

        return self._row(f"colour {share}", colour, profile, weight, compare)

    def _row(
        self,
        what: str,
        wanted: _Thing,
        profile: Profile,
        weight: float,
        compare: Callable[[_Thing], tuple[int, ...]],
    ) -> CostTable[_Thing]:
        """Return the row of a thing in a role; what has been compared in it is kept."""
        key = (what, wanted.id, profile.id, weight)
        row: CostTable[_Thing] | None = self._rows.get(key)
        if row is None:
            row = self._rows[key] = CostTable(wanted, compare, weight)
        return row

    def thousandths(self, scale: str) -> int:
        """Return a scale that is told in thousandths."""
        return round(self.tables.scales[scale])

    def shade_cost(self, difference: float) -> float:
        """Return what a CIEDE2000 difference counts for, 0 to 1.

        Notes
        -----
        ``1 - exp(-(dE / shade) ** power)``: next to nothing within one trade shade (about 5), and
        no more beyond a wholly different colour.
        """
        scales = self.tables.scales
        return 1.0 - exp(-((difference / scales["shade"]) ** scales["shade_power"]))

    def published_share(self, wanted: Material, found: Material) -> float:
        """Return which part of a distance stays once the trade has published the exchange."""
        return 1.0 if wanted.id == found.id else self._stuff.published(wanted, found)[0]

    def shade_share(self, wanted: Ingredient, found: Material) -> float:
        """Return which part of a difference in shade stays once the trade has published a stand-in.

        It is published for stuff in its natural colour, and who does so knows that the shades
        differ; of one that is dyed to a shade nobody has said that another will do.
        """
        material, colour = wanted.material, wanted.colour
        if colour is not None and colour.id not in material.colours:
            return 1.0
        return self.published_share(material, found)

    def unmet(self, wanted: Material, found: Material, part: str, style: str) -> tuple[Need, ...]:
        """Return the needs of the role that the found material fails and the wanted one meets."""
        profile = self.profile(part, style, wanted.kind)
        return self._stuff.standard(wanted, profile).unmet(found)

    def _colours_apart(self, wanted: Colour, found: Colour, profile: Profile) -> tuple[int, int]:
        """Return what two colours' shades and what their markings cost in a role."""
        matters, pair = profile.matters, (wanted.id, found.id)
        shade = self._shades.get(pair)
        if shade is None:
            shade = self._shades[pair] = colour_difference(wanted, found, self.shade_cost) or 0.0
        marks = marking_difference(wanted, found, self.trade.marking_distances)
        return (
            round(WHOLE * _SHADE_SHARE * shade * matters.get(COLOUR, 0) / MOST),
            round(WHOLE * _MARKING_SHARE * marks * matters.get(MARKING, 0) / MOST),
        )

    def _tell_colours(self, wanted: Colour, found: Colour, profile: Profile) -> tuple[Term, ...]:
        shade, marking = self._colours_apart(wanted, found, profile)
        terms = []
        if shade:
            source = self.tables.scale_sources["shade"]
            terms.append(Term(COLOUR, shade, shade_words(wanted, found), source))
        if marking:
            says = f"{self._marking(found)}, not {self._marking(wanted)}"
            terms.append(Term(MARKING, marking, says, profile.source))
        return tuple(terms)

    def _marking(self, colour: Colour) -> str:
        marking = self.trade.markings.get(colour.marking)
        return marking.name if marking else colour.marking


def reduce_shade_terms(terms: Iterable[Term], share: float) -> tuple[Term, ...]:
    """Return terms with less for the shade where the trade has published the exchange.

    Who publishes an exchange knows that the shades differ; lost marks still show.
    """
    return tuple(
        Term(term.what, round(term.cost * share), term.says, term.source)
        if term.what == COLOUR
        else term
        for term in terms
    )


def shade_words(wanted: Colour, found: Colour) -> str:
    """Return how one colour's shades differ from another's: lighter or darker, by how much."""
    from variants.rulebook.colours import lab

    difference = colour_difference(wanted, found) or 0.0
    lighter = lab(found.hexes[0])[0] - lab(wanted.hexes[0])[0]
    main = delta_e(wanted.hexes[0], found.hexes[0])
    way = "another shade"
    if abs(lighter) >= max(2.0, main / 3):
        way = "lighter" if lighter > 0 else "darker"
    return f"{way} by dE {difference:.0f} ({found.name} for {wanted.name})"


def load_likeness(folders: Sequence[Path], trade: Trade) -> Likeness:
    """Load likeness from the ``likeness`` folders of several rules folders.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    return Likeness(trade, read_likeness(folders, trade))
