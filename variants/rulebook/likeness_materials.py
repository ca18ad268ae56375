"""How far one material stands from another in a role: what differs, and what each of it costs.

What is compared is put down as drafts of terms; `Likeness` makes terms of them when somebody asks.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from variants.model import Material, Trade
from variants.rulebook.likeness_profiles import CLASS, LikenessTables, Profile, PropertyValue
from variants.rulebook.likeness_values import Distance, values_apart

WHOLE = 1000

#: What a published exchange leaves of a distance, what is said of it, and its source.
Published = tuple[float, str, str]
#: A term before anybody asks for it: what, cost, says, source.
Draft = tuple[str, int, str, str]


@dataclass(frozen=True, slots=True)
class _Matter:
    """One thing that matters of the material asked for, and what is known of others beside it."""

    name: str
    weight: int
    source: str
    wanted: PropertyValue
    apart: dict[PropertyValue, Distance]


class MaterialLikeness:
    """Compares materials, and remembers what is known of each and of each value of a property.

    Parameters
    ----------
    trade : Trade
    tables : LikenessTables
    """

    def __init__(self, trade: Trade, tables: LikenessTables) -> None:
        self.trade, self.tables = trade, tables
        self._matters: dict[tuple[str, str], tuple[_Matter, ...]] = {}
        self._values: dict[str, dict[str, PropertyValue]] = {}
        self._apart: dict[Hashable, dict[PropertyValue, Distance]] = {}

    def compare(self, wanted: Material, found: Material, profile: Profile) -> list[Draft]:
        """Return what differs between two materials where the profile says what matters."""
        published = self.published(wanted, found)
        if not published[1]:
            published = self._published_kin(wanted, found, profile)
        return self._draft(wanted, found, profile, published)

    def _published_kin(self, wanted: Material, found: Material, profile: Profile) -> Published:
        """Return what an exchange published for nearly the same stuff is worth to this one."""
        scales = self.tables.scales
        best: Published = (1.0, "", self.tables.scale_sources["another"])
        for substitute in wanted.substitutes:
            named = self.trade.materials.get(substitute.material)
            if named is None or named.kind != found.kind:
                continue
            plain = self._draft(named, found, profile, (1.0, "", ""))
            if (
                sum([cost for _what, cost, _says, _source in plain])
                > scales["published_kin_within"]
            ):
                continue
            keeps = 1.0 - (1.0 - self.published(wanted, named)[0]) * scales["published_kin"]
            if keeps < best[0]:
                best = (keeps, f"much like a known stand-in, {named.name}", wanted.source)
        return best

    def _known(self, wanted: Material, profile: Profile) -> tuple[_Matter, ...]:
        """Return the matters of a profile of which the material asked for tells anything."""
        key = (wanted.id, profile.id)
        if key not in self._matters:
            values = self._values_of(wanted)
            self._matters[key] = tuple(
                _Matter(
                    name,
                    weight,
                    profile.source if name == CLASS else self.tables.properties[name].source,
                    values[name],
                    self._apart.setdefault((name, values[name]), {}),
                )
                for name, weight in profile.matters.items()
                if values.get(name) is not None
            )
        return self._matters[key]

    def _values_of(self, material: Material) -> dict[str, PropertyValue]:
        values = self._values.get(material.id)
        if values is None:
            values = {name: one.of(material) for name, one in self.tables.properties.items()}
            values[CLASS] = material.kind
            self._values[material.id] = values
        return values

    def _draft(
        self, wanted: Material, found: Material, profile: Profile, published: Published
    ) -> list[Draft]:
        keeps, says, source = published
        known = self._known(wanted, profile)
        unit = WHOLE * keeps / (sum([matter.weight for matter in known]) or 1)
        another = round(self.tables.scales["another"] * keeps)
        drafts = [("material", another, says or f"{found.name} for {wanted.name}", source)]
        values = self._values_of(found)
        for matter in known:
            value = values[matter.name]
            distance = matter.apart.get(value)
            if distance is None:
                distance = matter.apart[value] = self._values_apart(matter, value)
            apart, words = distance
            cost = round(unit * matter.weight * apart)
            if cost:
                drafts.append((matter.name, cost, words, matter.source))
        return drafts

    def _values_apart(self, matter: _Matter, found: PropertyValue) -> Distance:
        if matter.name != CLASS:
            return values_apart(self.tables.properties[matter.name], matter.wanted, found)
        apart = self.tables.classes_apart(str(matter.wanted), str(found))
        return apart, f"{found}, not {matter.wanted}"

    def published(self, wanted: Material, found: Material) -> Published:
        """Return which part of the distance stays, what was published, and where."""
        scales = self.tables.scales
        best: Published = (1.0, "", self.tables.scale_sources["another"])
        for one, other, scale in (
            (wanted, found.id, "published"),
            (found, wanted.id, "published_back"),
        ):
            for rank, substitute in enumerate(one.substitutes):
                if substitute.material == other:
                    nearer = scales[scale] * scales["published_fades"] ** rank
                    words = f"a known stand-in: {substitute.difference}"
                    if scale == "published_back":
                        words = "the one stands in for the other the other way round"
                    if 1.0 - nearer < best[0]:
                        best = (1.0 - nearer, words, one.source)
        return best
