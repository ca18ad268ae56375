"""How far one material stands from another in a role: what differs, and what each of it costs.

Costs come first and by themselves: of what is compared, most is too far off to be looked at again.
The same difference is put into drafts of terms, words and all, when somebody asks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

from variants.model import Material, Substitute, Trade
from variants.rulebook.likeness_profiles import CLASS, LikenessTables, Profile, PropertyValue
from variants.rulebook.likeness_values import Distance, values_apart

WHOLE = 1000

#: What a published exchange leaves of a distance, what is said of it, and its source.
Published = tuple[float, str, str]
#: A term before anybody asks for it: what, cost, says, source.
Draft = tuple[str, int, str, str]
#: Values of some properties of a material.
_Values = tuple[PropertyValue, ...]


class _Apart(dict[PropertyValue, float]):
    """How far values of one property stand from the one that is wanted, found out when asked."""

    def __init__(self, measure: Callable[[PropertyValue], Distance]) -> None:
        self._measure = measure

    def __missing__(self, value: PropertyValue) -> float:
        self[value] = apart = self._measure(value)[0]
        return apart


@dataclass(frozen=True, slots=True)
class _Matters:
    """What matters of the material asked for, and is known of it, in the order of the profile.

    Attributes
    ----------
    names : tuple of str
        Properties, and the class.
    weights : tuple of int
    apart : tuple of _Apart
    values : dict of material id to values
        What is known of materials by these names; shared by all that go by the same.
    whole : tuple of float
        What each costs at most, where no published exchange brings the two nearer.
    """

    names: tuple[str, ...]
    weights: tuple[int, ...]
    apart: tuple[_Apart, ...]
    values: dict[str, _Values]
    whole: tuple[float, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "whole", self.scaled(1.0))

    def scaled(self, keeps: float) -> tuple[float, ...]:
        """Return what each costs at most when only a share of the distance stays."""
        unit = WHOLE * keeps / (sum(self.weights) or 1)
        return tuple([unit * weight for weight in self.weights])


class MaterialLikeness:
    """Compares materials, and remembers what is known of each and of each value of a property.

    Parameters
    ----------
    trade : Trade
    tables : LikenessTables
    """

    def __init__(self, trade: Trade, tables: LikenessTables) -> None:
        self.trade, self.tables = trade, tables
        self._matters: dict[tuple[str, str], _Matters] = {}
        self._values: dict[tuple[str, ...], dict[str, _Values]] = {}
        self._apart: dict[tuple[str, PropertyValue], _Apart] = {}
        self._named: dict[str, dict[str, tuple[int, Substitute]]] = {}
        self._kin: dict[str, dict[str, list[tuple[Material, float]]]] = {}
        self._plain: dict[tuple[str, str, str], int] = {}

    def costs(self, wanted: Material, found: Material, profile: Profile) -> tuple[int, ...]:
        """Return what each difference between two materials costs, by what a profile says matters.

        The first is for being another material at all; what costs nothing is left out.
        """
        return self._costs(wanted, found, profile, self._best(wanted, found, profile)[0])

    def drafts(self, wanted: Material, found: Material, profile: Profile) -> list[Draft]:
        """Return what `costs` does, in words."""
        keeps, says, source = self._best(wanted, found, profile)
        matters = self._known(wanted, profile)
        another = round(self.tables.scales["another"] * keeps)
        drafts = [("material", another, says or f"{found.name} for {wanted.name}", source)]
        for name, most, apart, value in zip(
            matters.names,
            matters.scaled(keeps),
            matters.apart,
            self._of(found, matters),
            strict=True,
        ):
            cost = round(most * apart[value])
            if cost:
                own = profile.source if name == CLASS else self.tables.properties[name].source
                words = self._values_apart(name, self._value(wanted, name), value)[1]
                drafts.append((name, cost, words, own))
        return drafts

    def _best(self, wanted: Material, found: Material, profile: Profile) -> Published:
        published = self.published(wanted, found)
        return published if published[1] else self._published_kin(wanted, found, profile)

    def _published_kin(self, wanted: Material, found: Material, profile: Profile) -> Published:
        """Return what an exchange published for nearly the same stuff is worth to this one."""
        best: Published = (1.0, "", self.tables.scale_sources["another"])
        for named, keeps in self._kin_of(wanted).get(found.kind, ()):
            if keeps < best[0] and self._is_kin(named, found, profile):
                best = (keeps, f"much like a known stand-in, {named.name}", wanted.source)
        return best

    def _kin_of(self, wanted: Material) -> dict[str, list[tuple[Material, float]]]:
        """Return the published stand-ins by class, and what is left of a distance by their kin."""
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

    def _is_kin(self, named: Material, found: Material, profile: Profile) -> bool:
        return self._plainly(named, found, profile) <= self.tables.scales["published_kin_within"]

    def _plainly(self, wanted: Material, found: Material, profile: Profile) -> int:
        """Return what two materials differ by, whatever has been published of them."""
        key = (wanted.id, found.id, profile.id)
        plain = self._plain.get(key)
        if plain is None:
            plain = self._plain[key] = sum(self._costs(wanted, found, profile, 1.0))
        return plain

    def _costs(
        self, wanted: Material, found: Material, profile: Profile, keeps: float
    ) -> tuple[int, ...]:
        matters = self._known(wanted, profile)
        values = matters.values.get(found.id) or self._of(found, matters)
        most = matters.whole if keeps == 1.0 else matters.scaled(keeps)
        costs = [
            cost
            for one, apart, value in zip(most, matters.apart, values, strict=True)
            if (cost := round(one * apart[value]))
        ]
        return (round(self.tables.scales["another"] * keeps), *costs)

    def _known(self, wanted: Material, profile: Profile) -> _Matters:
        """Return the matters of a profile of which the material asked for tells anything."""
        key = (wanted.id, profile.id)
        matters = self._matters.get(key)
        if matters is None:
            known = [
                (name, weight, value)
                for name, weight in profile.matters.items()
                if (value := self._value(wanted, name)) is not None
            ]
            names = tuple([name for name, _, _ in known])
            matters = self._matters[key] = _Matters(
                names,
                tuple([weight for _, weight, _ in known]),
                tuple([self._apart_from(name, value) for name, _, value in known]),
                self._values.setdefault(names, {}),
            )
        return matters

    def _apart_from(self, name: str, wanted: PropertyValue) -> _Apart:
        apart = self._apart.get((name, wanted))
        if apart is None:
            measure = partial(self._values_apart, name, wanted)
            apart = self._apart[name, wanted] = _Apart(measure)
        return apart

    def _of(self, material: Material, matters: _Matters) -> _Values:
        """Return a material's values of what matters."""
        values = matters.values.get(material.id)
        if values is None:
            values = tuple([self._value(material, name) for name in matters.names])
            matters.values[material.id] = values
        return values

    def _value(self, material: Material, name: str) -> PropertyValue:
        """Return a property or the class; None for what is neither, such as the colour."""
        if name == CLASS:
            return material.kind
        known = self.tables.properties.get(name)
        return known.of(material) if known is not None else None

    def _values_apart(self, name: str, wanted: PropertyValue, found: PropertyValue) -> Distance:
        if name != CLASS:
            return values_apart(self.tables.properties[name], wanted, found)
        apart = self.tables.classes_apart(str(wanted), str(found))
        return apart, f"{found}, not {wanted}"

    def published(self, wanted: Material, found: Material) -> Published:
        """Return which part of the distance stays, what was published, and where."""
        scales = self.tables.scales
        best: Published = (1.0, "", self.tables.scale_sources["another"])
        named = self._names(wanted).get(found.id)
        if named is not None:
            rank, substitute = named
            nearer = scales["published"] * scales["published_fades"] ** rank
            if 1.0 - nearer < best[0]:
                best = (1.0 - nearer, f"a known stand-in: {substitute.difference}", wanted.source)
        named = self._names(found).get(wanted.id)
        if named is not None:
            nearer = scales["published_back"] * scales["published_fades"] ** named[0]
            if 1.0 - nearer < best[0]:
                words = "the one stands in for the other the other way round"
                best = (1.0 - nearer, words, found.source)
        return best

    def _names(self, material: Material) -> dict[str, tuple[int, Substitute]]:
        """Return the stand-ins published for a material, each with its rank."""
        named = self._named.get(material.id)
        if named is None:
            named = self._named[material.id] = {}
            for rank, substitute in enumerate(material.substitutes):
                named.setdefault(substitute.material, (rank, substitute))
        return named
