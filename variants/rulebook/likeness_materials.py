"""How far one material stands from another in a role: what differs, and what each of it costs.

Costs come first and by themselves: of what is compared, most is too far off to be looked at again.
The same difference is put into drafts of terms, words and all, when somebody asks.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property, partial

from variants.model import Material, Trade
from variants.rulebook.likeness_profiles import (
    CLASS,
    LikenessTables,
    Need,
    Profile,
    PropertyValue,
)
from variants.rulebook.likeness_values import Distance, value_difference

WHOLE = 1000

#: What a published exchange leaves of a distance, what is said of it, and its source.
Published = tuple[float, str, str]
#: A term before anybody asks for it: what, cost, says, source.
Draft = tuple[str, int, str, str]
#: Values of some properties of a material.
_Values = tuple[PropertyValue, ...]


class _Differences(dict[PropertyValue, float]):
    """How far values of one property stand from the one that is wanted, found out when asked."""

    def __init__(self, measure: Callable[[PropertyValue], Distance]) -> None:
        #: Tells how far, and in words.
        self.measure = measure

    def __missing__(self, value: PropertyValue) -> float:
        self[value] = apart = self.measure(value)[0]
        return apart


class Standard:
    """One material in one role, and how others stand from it.

    Attributes
    ----------
    material : Material
        The one that is asked for.
    profile : Profile
    names : tuple of str
        What matters in the role and is known of the material: properties, and the class.

    Parameters
    ----------
    likeness : MaterialLikeness
    """

    __slots__ = (
        "_another",
        "_apart",
        "_exchanges",
        "_kin",
        "_likeness",
        "_needs",
        "_unmet",
        "_values",
        "_weights",
        "_whole",
        "material",
        "names",
        "profile",
    )

    def __init__(self, likeness: MaterialLikeness, material: Material, profile: Profile) -> None:
        self._likeness, self.material, self.profile = likeness, material, profile
        known = [
            (name, weight, value)
            for name, weight in profile.matters.items()
            if (value := likeness.value(material, name)) is not None
        ]
        self.names = tuple([name for name, _, _ in known])
        self._weights = [weight for _, weight, _ in known]
        self._apart = [likeness.apart_from(name, value) for name, _, value in known]
        self._values = likeness.values_by(self.names)
        self._exchanges, self._kin = likeness.exchanges(material), likeness.kin(material)
        self._another = round(likeness.tables.scales["another"])
        self._unmet = round(likeness.tables.scales["unmet"])
        #: What the role needs and the material meets; what it does without, its dressing does too.
        self._needs = [
            (need, of)
            for need in profile.needs
            if need.is_met((of := likeness.tables.properties[need.property].of)(material))
        ]
        #: What each matter costs at most, where nothing published brings the two nearer.
        self._whole = self._most(1.0)

    def _most(self, keeps: float) -> list[float]:
        """Return what each matter costs at most when only a share of the distance stays."""
        unit = WHOLE * keeps / (sum(self._weights) or 1)
        return [unit * weight for weight in self._weights]

    def costs(self, found: Material) -> tuple[int, ...]:
        """Return what each difference costs; none for the same material.

        The first is for being another material at all; what costs nothing is left out.
        """
        if found.id in self._exchanges or found.kind in self._kin:
            if found.id == self.material.id:
                return ()
            keeps = self._published(found)[0]
            another = round(self._likeness.tables.scales["another"] * keeps)
            return (another, *self._matter(found, self._most(keeps)), *self._need_costs(found))
        if found.id == self.material.id:
            return ()
        return (*self.plain_costs(found), *self._need_costs(found))

    def plain_costs(self, found: Material) -> tuple[int, ...]:
        """Return what it costs to differ as if nothing had been published of the two.

        What the role needs is left aside.
        """
        return (self._another, *self._matter(found, self._whole))

    def unmet(self, found: Material) -> tuple[Need, ...]:
        """Return the needs of the role that the found material fails and the wanted one meets."""
        return tuple([need for need, of in self._needs if not need.is_met(of(found))])

    def _need_costs(self, found: Material) -> list[int]:
        return [self._unmet] * len(self.unmet(found)) if self._needs else []

    def _matter(self, found: Material, most: Sequence[float]) -> list[int]:
        values = self._values.get(found.id)
        if values is None:
            values = self._values[found.id] = self._values_of(found)
        return [
            cost
            for one, apart, value in zip(most, self._apart, values, strict=True)
            if (cost := round(one * apart[value]))
        ]

    def _values_of(self, material: Material) -> _Values:
        return tuple([self._likeness.value(material, name) for name in self.names])

    def drafts(self, found: Material) -> list[Draft]:
        """Return what `costs` does, in words."""
        tables = self._likeness.tables
        keeps, says, source = self._published(found)
        says = says or f"{found.name} for {self.material.name}"
        drafts = [("material", round(tables.scales["another"] * keeps), says, source)]
        for name, one, apart, value in zip(
            self.names, self._most(keeps), self._apart, self._values_of(found), strict=True
        ):
            cost = round(one * apart[value])
            if cost:
                own = self.profile.source if name == CLASS else tables.properties[name].source
                drafts.append((name, cost, apart.measure(value)[1], own))
        drafts += [("need", self._unmet, need.says, need.source) for need in self.unmet(found)]
        return drafts

    def _published(self, found: Material) -> Published:
        """Return what a published exchange of just these, or of nearly the same stuff, leaves."""
        best = self._exchanges.get(found.id, self._likeness.unpublished)
        if best[1]:
            return best
        for named, keeps in self._kin.get(found.kind, ()):
            if keeps < best[0] and self._is_kin(named, found):
                source = self.material.source
                best = (keeps, f"much like a known stand-in, {named.name}", source)
        return best

    def _is_kin(self, named: Material, found: Material) -> bool:
        apart = sum(self._likeness.standard(named, self.profile).plain_costs(found))
        return apart <= self._likeness.tables.scales["published_kin_within"]


class MaterialLikeness:
    """Sets up standards, and remembers what is known of materials and of values of properties.

    Parameters
    ----------
    trade : Trade
    tables : LikenessTables
    """

    def __init__(self, trade: Trade, tables: LikenessTables) -> None:
        self.trade, self.tables = trade, tables
        #: What is left of a distance, in full, where nothing is published.
        self.unpublished: Published = (1.0, "", tables.scale_sources["another"])
        self._standards: dict[tuple[str, str], Standard] = {}
        self._values: dict[tuple[str, ...], dict[str, _Values]] = {}
        self._apart: dict[tuple[str, PropertyValue], _Differences] = {}
        self._exchanges: dict[str, dict[str, Published]] = {}
        self._kin: dict[str, dict[str, list[tuple[Material, float]]]] = {}

    def standard(self, wanted: Material, profile: Profile) -> Standard:
        """Return a material as the standard of others in the role that a profile speaks of."""
        key = (wanted.id, profile.id)
        standard = self._standards.get(key)
        if standard is None:
            standard = self._standards[key] = Standard(self, wanted, profile)
        return standard

    def values_by(self, names: tuple[str, ...]) -> dict[str, _Values]:
        """Return where values of these properties are kept, by the ids of materials."""
        return self._values.setdefault(names, {})

    def value(self, material: Material, name: str) -> PropertyValue:
        """Return a property or the class; None for what is neither, such as the colour."""
        if name == CLASS:
            return material.kind
        known = self.tables.properties.get(name)
        return known.of(material) if known is not None else None

    def apart_from(self, name: str, wanted: PropertyValue) -> _Differences:
        """Return how far values of a property, or classes, stand from one."""
        apart = self._apart.get((name, wanted))
        if apart is None:
            measure = partial(self._values_apart, name, wanted)
            apart = self._apart[name, wanted] = _Differences(measure)
        return apart

    def _values_apart(self, name: str, wanted: PropertyValue, found: PropertyValue) -> Distance:
        if name != CLASS:
            return value_difference(self.tables.properties[name], wanted, found)
        apart = self.tables.classes_apart(str(wanted), str(found))
        return apart, f"{found}, not {wanted}"

    def published(self, wanted: Material, found: Material) -> Published:
        """Return which part of the distance stays, what was published, and where."""
        return self.exchanges(wanted).get(found.id, self.unpublished)

    def exchanges(self, wanted: Material) -> dict[str, Published]:
        """Return the published exchanges of a material by the other one's id."""
        known = self._exchanges.get(wanted.id)
        if known is None:
            known = self._exchanges[wanted.id] = {}
            back = "the one stands in for the other the other way round"
            for rank, substitute in enumerate(wanted.substitutes):
                words = f"a known stand-in: {substitute.difference}"
                self._enter(known, substitute.material, "published", rank, words, wanted.source)
            for found, rank in self._named_by.get(wanted.id, ()):
                self._enter(known, found.id, "published_back", rank, back, found.source)
        return known

    def _enter(
        self,
        known: dict[str, Published],
        other: str,
        scale: str,
        rank: int,
        words: str,
        source: str,
    ) -> None:
        """Enter a published exchange unless one that brings the two nearer is there."""
        nearer = self.tables.scales[scale] * self.tables.scales["published_fades"] ** rank
        if 1.0 - nearer < known.get(other, self.unpublished)[0]:
            known[other] = (1.0 - nearer, words, source)

    @cached_property
    def _named_by(self) -> dict[str, list[tuple[Material, int]]]:
        """For each material the others that it is published to stand in for, with its rank."""
        named: dict[str, list[tuple[Material, int]]] = {}
        for material in self.trade.materials.values():
            for rank, substitute in enumerate(material.substitutes):
                named.setdefault(substitute.material, []).append((material, rank))
        return named

    def kin(self, wanted: Material) -> dict[str, list[tuple[Material, float]]]:
        """Return a material's published stand-ins by class, with what they leave to their kin."""
        kin = self._kin.get(wanted.id)
        if kin is None:
            kin = self._kin[wanted.id] = {}
            for substitute in wanted.substitutes:
                named = self.trade.materials.get(substitute.material)
                if named is not None:
                    nearer = 1.0 - self.published(wanted, named)[0]
                    keeps = 1.0 - nearer * self.tables.scales["published_kin"]
                    kin.setdefault(named.kind, []).append((named, keeps))
        return kin
