"""How far one material or colour stands from another in a role: what differs, and what it costs.

A material asked for and one that is found come in with the part and the style; terms of the
departure go out, each with the difference in trade words and its source. What matters in which role
is data (``rules/likeness``); published stand-ins are evidence that brings two materials nearer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import exp, log2
from pathlib import Path

from variants.model import Colour, Material, Term, Trade
from variants.rulebook.colours import delta_e, differing, marking_apart
from variants.rulebook.likeness_profiles import (
    CLASS,
    COLOUR,
    FLAG,
    GRADE,
    LENGTH,
    MARKING,
    MOST,
    ORDER,
    WORD,
    LikenessTables,
    Need,
    Profile,
    Property,
    PropertyValue,
)
from variants.rulebook.likeness_reading import read_likeness

WHOLE = 1000
_GRADES = 4.0
_WORDS = ("", "one grade", "two grades", "three grades", "four grades")
#: Of a whole difference in colour, what the shade and what the marking may come to.
_SHADE_SHARE, _MARKING_SHARE = 0.7, 0.3

Distance = tuple[float, str]
_NONE: Distance = (0.0, "")


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
    _materials: dict[tuple[str, str, str], tuple[Term, ...]] = field(
        default_factory=dict, repr=False
    )
    _colours: dict[tuple[str, str, str], tuple[Term, ...]] = field(default_factory=dict, repr=False)

    def __reduce__(self) -> tuple[type[Likeness], tuple[Trade, LikenessTables]]:
        """Travel without what has been compared: it is worked out anew sooner than it is sent."""
        return type(self), (self.trade, self.tables)

    def profile(self, part: str, style: str, kind: str) -> Profile:
        """Return what matters at a part of a style where stuff of some class is asked for."""
        key = (part, style, kind)
        if key not in self._profiles:
            self._profiles[key] = self.tables.profile(part, self.trade.styles.get(style), kind)
        return self._profiles[key]

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
        part of every term; the first one named keeps least.
        """
        if wanted.id == found.id:
            return ()
        profile = self.profile(part, style, wanted.kind)
        key = (wanted.id, found.id, profile.id)
        if key not in self._materials:
            self._materials[key] = self._compare(wanted, found, profile)
        return self._materials[key]

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
        key = (wanted.id, found.id, profile.id)
        if key not in self._colours:
            self._colours[key] = self._compare_colours(wanted, found, profile)
        return self._colours[key]

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
        return 1.0 if wanted.id == found.id else self._published(wanted, found)[0]

    def unmet(self, wanted: Material, found: Material, part: str, style: str) -> tuple[Need, ...]:
        """Return the needs of the role that the found material fails and the wanted one meets."""
        needs = self.profile(part, style, wanted.kind).needs
        of = {name: prop.of for name, prop in self.tables.properties.items()}
        return tuple(
            need
            for need in needs
            if need.is_met(of[need.property](wanted)) and not need.is_met(of[need.property](found))
        )

    def _compare(self, wanted: Material, found: Material, profile: Profile) -> tuple[Term, ...]:
        known = self._known(wanted, profile)
        keeps, says, source = self._published(wanted, found)
        if not says:
            keeps, says, source = self._published_kin(wanted, found, profile)
        return self._terms(wanted, found, profile, known, (keeps, says, source))

    def _published_kin(
        self, wanted: Material, found: Material, profile: Profile
    ) -> tuple[float, str, str]:
        """Return what an exchange published for nearly the same stuff is worth to this one."""
        scales = self.tables.scales
        best: tuple[float, str, str] = (1.0, "", self.tables.scale_sources["another"])
        for substitute in wanted.substitutes:
            named = self.trade.materials.get(substitute.material)
            if named is None or named.kind != found.kind:
                continue
            plain = self._terms(named, found, profile, self._known(named, profile), (1.0, "", ""))
            if sum(term.cost for term in plain) > scales["published_kin_within"]:
                continue
            keeps = 1.0 - (1.0 - self._published(wanted, named)[0]) * scales["published_kin"]
            if keeps < best[0]:
                best = (keeps, f"much like a known stand-in, {named.name}", wanted.source)
        return best

    def _known(self, wanted: Material, profile: Profile) -> dict[str, float]:
        """Return the matters of a profile of which the material asked for tells anything."""
        return {
            name: weight
            for name, weight in profile.matters.items()
            if name == CLASS
            or (name in self.tables.properties
                and self.tables.properties[name].of(wanted) is not None)
        }  # fmt: skip

    def _terms(
        self,
        wanted: Material,
        found: Material,
        profile: Profile,
        known: dict[str, float],
        published: tuple[float, str, str],
    ) -> tuple[Term, ...]:
        keeps, says, source = published
        unit = WHOLE * keeps / (sum(known.values()) or 1)
        another = round(self.tables.scales["another"] * keeps)
        terms = [Term("material", another, says or f"{found.name} for {wanted.name}", source)]
        for name, weight in known.items():
            apart, words = self._apart(name, wanted, found)
            cost = round(unit * weight * apart)
            if cost:
                terms.append(Term(name, cost, words, self._source(name, profile)))
        return tuple(terms)

    def _source(self, name: str, profile: Profile) -> str:
        return profile.source if name == CLASS else self.tables.properties[name].source

    def _apart(self, name: str, wanted: Material, found: Material) -> Distance:
        if name == CLASS:
            apart = self.tables.classes_apart(wanted.kind, found.kind)
            return apart, f"{found.kind}, not {wanted.kind}"
        prop = self.tables.properties[name]
        return _differing(prop, prop.of(wanted), prop.of(found))

    def _published(self, wanted: Material, found: Material) -> tuple[float, str, str]:
        """Return which part of the distance stays, what was published, and where."""
        scales = self.tables.scales
        best: tuple[float, str, str] = (1.0, "", self.tables.scale_sources["another"])
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

    def _compare_colours(self, wanted: Colour, found: Colour, profile: Profile) -> tuple[Term, ...]:
        terms = []
        shade = differing(wanted, found, self.shade_cost)
        if shade is not None and profile.matters.get(COLOUR):
            cost = round(WHOLE * _SHADE_SHARE * shade * profile.matters[COLOUR] / MOST)
            if cost:
                source = self.tables.scale_sources["shade"]
                terms.append(Term(COLOUR, cost, shade_words(wanted, found), source))
        marks = marking_apart(wanted, found, self.trade.marking_distances)
        cost = round(WHOLE * _MARKING_SHARE * marks * profile.matters.get(MARKING, 0) / MOST)
        if cost:
            says = f"{self._marking(found)}, not {self._marking(wanted)}"
            terms.append(Term(MARKING, cost, says, profile.source))
        return tuple(terms)

    def _marking(self, colour: Colour) -> str:
        marking = self.trade.markings.get(colour.marking)
        return marking.name if marking else colour.marking


def shade_words(wanted: Colour, found: Colour) -> str:
    """Return how one colour's shades differ from another's: lighter or darker, by how much."""
    from variants.rulebook.colours import lab

    difference = differing(wanted, found) or 0.0
    lighter = lab(found.hexes[0])[0] - lab(wanted.hexes[0])[0]
    main = delta_e(wanted.hexes[0], found.hexes[0])
    way = "another shade"
    if abs(lighter) >= max(2.0, main / 3):
        way = "lighter" if lighter > 0 else "darker"
    return f"{way} by dE {difference:.0f} ({found.name} for {wanted.name})"


def _differing(prop: Property, wanted: PropertyValue, found: PropertyValue) -> Distance:
    """Return how far two values of a property stand apart, 0 to 1, and how that is told."""
    if wanted is None or found is None or wanted == found:
        return _NONE
    if prop.measure == WORD:
        apart = prop.pairs.get((str(wanted), str(found)), 1.0)
        return apart, f"{found}, not {wanted}"
    if prop.measure == FLAG:
        return _directed(prop, 1.0 if found else -1.0, "")
    if prop.measure == ORDER:
        steps = prop.order.index(str(found)) - prop.order.index(str(wanted))
        return _directed(prop, steps / (len(prop.order) - 1), "")
    if prop.measure == LENGTH and isinstance(wanted, tuple) and isinstance(found, tuple):
        return _lengths(prop, wanted, found)
    if isinstance(wanted, int | float) and isinstance(found, int | float):
        if prop.measure == GRADE:
            grades = int(found - wanted)
            return _directed(prop, grades / _GRADES, f" by {_WORDS[abs(grades)]}")
        return _directed(prop, log2(found / wanted) / prop.span, "")
    return _NONE


def _directed(prop: Property, difference: float, how_much: str) -> Distance:
    share = prop.more_costs if difference > 0 else prop.less_costs
    words = prop.more if difference > 0 else prop.less
    return min(1.0, abs(difference)) * share, words + how_much


def _lengths(prop: Property, wanted: tuple[float, float], found: tuple[float, float]) -> Distance:
    """Compare ranges of fibre length: what is missing at the long and at the short end."""
    short_by = log2(max(wanted[1], 0.1) / max(found[1], 0.1))
    long_by = log2(max(found[0], 0.1) / max(wanted[0], 0.1))
    if short_by <= 0 and long_by <= 0:
        return _NONE
    if short_by * prop.less_costs >= long_by * prop.more_costs:
        return _directed(prop, -short_by / prop.span, "")
    return _directed(prop, long_by / prop.span, "")


def load_likeness(folders: Sequence[Path], trade: Trade) -> Likeness:
    """Load likeness from the ``likeness`` folders of several rules folders.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    return Likeness(trade, read_likeness(folders, trade))
