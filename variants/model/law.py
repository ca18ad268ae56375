"""What law says of stuff, place by place: taxa, statutes, and how strictly they stand together.

Nothing is read and nothing is put into words here. A row speaks of a taxon, of an origin and of
what is done with it; which of a material's taxa and origins a feather in the hand is, the tables
can't know, so that the strictest of its taxa and the mildest of its origins is reckoned with.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import IntEnum
from functools import cached_property

from variants.model.material import Material
from variants.model.origin import NOWHERE, Origin

#: What law may say, the strictest first. ``silent``: it was looked at and does not speak of it;
#: ``depends``: a water's owner has to be asked.
STATUSES = ("forbidden", "permit", "conditional", "depends", "silent", "allowed")
#: What may be done with stuff; ``fly`` is to count as a fly on water that is for flies alone.
ACTS = ("hold", "sell", "buy", "import", "export", "ornament", "fish with", "fly")
#: Where stuff comes from; ``made`` is of metal, ``found`` a dead bird, ``old`` from before the law.
ORIGINS = ("wild", "farmed", "made", "found", "old", "any")
#: How the text of a statute came to us, the surest first.
WAYS_SEEN = ("text", "excerpt", "summary", "memory")
#: How stuff puts weight on a hook.
WEIGHTS = ("wound", "bead", "eyes", "moulded")

_KEEPING, _GETTING = frozenset({"hold", "fish with"}), frozenset({"sell", "buy"})
_ACROSS = frozenset({"import", "export"})
#: What a tyer at home does with stuff.
AT_HOME = _KEEPING | _GETTING
#: The widest place, whose law speaks of borders alone.
BORDERS = "borders"


class Standing(IntEnum):
    """How law stands to some stuff in a place."""

    FREE = 0
    #: Lawful under conditions that stuff from a shop mostly meets.
    CONDITIONAL = 1
    #: Barred but for some of what goes by the name, or only with leave.
    MAY_BE_BARRED = 2
    BARRED = 3


@dataclass(frozen=True, slots=True)
class Jurisdiction:
    """Where a law holds, the wider place whose law holds there too, and whom to ask."""

    id: str
    name: str
    within: str
    authority: str
    source: str


@dataclass(frozen=True, slots=True)
class Taxon:
    """An animal, or a metal, that statutes speak of, and the lists of statutes it stands on."""

    id: str
    name: str
    groups: frozenset[str]
    source: str


@dataclass(frozen=True, slots=True)
class Statute:
    """What one statute says: of what, from where, and what is done with it.

    Attributes
    ----------
    id, place : str
    taxa : tuple of str
        Ids of taxa or groups of them; empty where ``when`` alone tells.
    when : str
        What else must hold of the fly, as the table writes it.
    origin : str
        One of `ORIGINS`.
    acts : tuple of str
        Of `ACTS`.
    status : str
        One of `STATUSES`.
    condition, exceptions : str
        In a few words of our own.
    statute, section, address : str
        Where it is written, and where the text was found.
    text_date : str
        Of the text; ``undated`` where it bears none.
    seen : str
        One of `WAYS_SEEN`.
    until : date or None
        When the text was to end.
    """

    id: str
    place: str
    taxa: tuple[str, ...]
    when: str
    origin: str
    acts: tuple[str, ...]
    status: str
    condition: str
    exceptions: str
    statute: str
    section: str
    address: str
    text_date: str
    seen: str
    until: date | None = None
    written: Origin = field(default=NOWHERE, compare=False)

    def has_lapsed(self, today: date) -> bool:
        """Tell whether the text was to end before a day."""
        return self.until is not None and self.until < today


@dataclass(frozen=True, slots=True)
class Verdict:
    """How law stands to a material in a place, and the row that decides; None for none."""

    standing: Standing
    statute: Statute | None


@dataclass(frozen=True)
class LawTables:
    """Places, taxa and statutes by id."""

    jurisdictions: Mapping[str, Jurisdiction] = field(default_factory=dict)
    taxa: Mapping[str, Taxon] = field(default_factory=dict)
    statutes: Mapping[str, Statute] = field(default_factory=dict)

    def places(self, jurisdiction: str) -> tuple[Jurisdiction, ...]:
        """Return a jurisdiction and every wider one whose law holds there, narrowest first.

        Raises
        ------
        KeyError
            When no jurisdiction has that id.
        """
        found = [self.jurisdictions[jurisdiction]]
        while found[-1].within:
            found.append(self.jurisdictions[found[-1].within])
        return tuple(found)

    def taxa_of(self, statute: Statute, material: Material) -> tuple[str, ...]:
        """Return those of a material's taxa that a row speaks of."""
        return tuple(one for one in material.taxa if one in self._spoken_of[statute.id])

    def speaks_of(self, statute: Statute, material: Material) -> bool:
        """Tell whether a row speaks of a material by its taxa and its origins."""
        is_origin = statute.origin not in ("wild", "farmed") or statute.origin in material.origins
        return is_origin and bool(self.taxa_of(statute, material))

    @cached_property
    def _spoken_of(self) -> Mapping[str, frozenset[str]]:
        """For each statute, the taxa that it names itself or by a group."""
        members: dict[str, set[str]] = {}
        for taxon in self.taxa.values():
            for name in (taxon.id, *taxon.groups):
                members.setdefault(name, set()).add(taxon.id)
        return {
            one.id: frozenset().union(*(members.get(name, ()) for name in one.taxa))
            for one in self.statutes.values()
        }

    @cached_property
    def _by_taxon(self) -> Mapping[str, tuple[Statute, ...]]:
        """For each taxon, the rows about stuff alone that speak of it."""
        rows: dict[str, list[Statute]] = {}
        for statute in self.statutes.values():
            for taxon in () if statute.when else self._spoken_of[statute.id]:
                rows.setdefault(taxon, []).append(statute)
        return {taxon: tuple(found) for taxon, found in rows.items()}

    def rows_of(self, material: Material) -> Iterator[Statute]:
        """Yield each row about stuff alone that speaks of a material."""
        rows = {one.id: one for taxon in material.taxa for one in self._by_taxon.get(taxon, ())}
        yield from (one for one in rows.values() if self.speaks_of(one, material))

    def verdict(self, material: Material, places: Sequence[str]) -> Verdict:
        """Return how the law of some places, taken together, stands to a material.

        Parameters
        ----------
        material : Material
        places : sequence of str
            Ids; of the widest place only what is carried over a border is asked, of the others
            what a tyer does at home.
        """
        worst = Verdict(Standing.FREE, None)
        for taxon in material.taxa:
            rows = [one for one in self._by_taxon.get(taxon, ()) if one.place in places]
            of_origins = [_judged(rows, origin) for origin in material.origins]
            mildest = min(of_origins, key=lambda one: one.standing, default=worst)
            worst = max(worst, mildest, key=lambda one: one.standing)
        return worst

    def is_spoken_of(self, material: Material, places: Iterable[str]) -> bool:
        """Tell whether any row of some places speaks of a material at home."""
        known = frozenset(places)
        return any(
            one.place in known and not AT_HOME.isdisjoint(one.acts)
            for one in self.rows_of(material)
        )


def _judged(rows: Iterable[Statute], origin: str) -> Verdict:
    """Return the strictest that rows say of one taxon from one origin."""
    rows = tuple(rows)
    asked = [one for one in rows if one.origin in ("any", origin)]
    at_home = [one for one in asked if one.place != BORDERS and not AT_HOME.isdisjoint(one.acts)]
    across = [one for one in asked if one.place == BORDERS and not _ACROSS.isdisjoint(one.acts)]
    may_be_kept = any(
        one.status != "forbidden" and not _KEEPING.isdisjoint(one.acts)
        for one in rows
        if one.origin in ("any", origin, "old")
    )
    verdicts = [Verdict(_at_home(one, may_be_kept), one) for one in at_home]
    verdicts += [Verdict(_over_border(one, origin), one) for one in across]
    return max(verdicts, key=lambda one: one.standing, default=Verdict(Standing.FREE, None))


def _at_home(row: Statute, may_be_kept: bool) -> Standing:
    if row.status == "forbidden":
        is_kept = not _KEEPING.isdisjoint(row.acts)
        return Standing.MAY_BE_BARRED if may_be_kept and not is_kept else Standing.BARRED
    return {"permit": Standing.MAY_BE_BARRED, "conditional": Standing.CONDITIONAL}.get(
        row.status, Standing.FREE
    )


def _over_border(row: Statute, origin: str) -> Standing:
    if row.status == "forbidden" or (row.status == "permit" and origin == "wild"):
        return Standing.MAY_BE_BARRED
    return Standing.CONDITIONAL if row.status in ("permit", "conditional") else Standing.FREE
