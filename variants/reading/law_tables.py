"""The tables of law to `LawTables`, and what they make of each material: its caution.

Comes in: the tables of the trade without law, and the rows of rules/law. Goes out: the trade with
its law, every material with its taxa and with a caution that is written from the statutes, so that
the two can't say different things.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from variants.model import (
    ACTS,
    BORDERS,
    ORIGINS,
    STATUSES,
    WAYS_SEEN,
    WEIGHTS,
    Jurisdiction,
    LawTables,
    Material,
    Standing,
    Statute,
    Taxon,
    Trade,
)
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.text import nearest, shown

JURISDICTION_COLUMNS = ("id", "name", "within", "authority", "source")
TAXON_COLUMNS = ("taxon", "name", "groups", "source")
STUFF_COLUMNS = ("material", "taxa", "origins", "weighs", "ask")
STATUTE_COLUMNS = (
    "id", "place", "taxa", "when", "origin", "act", "status", "condition", "exceptions",
    "statute", "section", "address", "text_date", "seen", "until",
)  # fmt: skip
UNDATED = "undated"

ASK = "check with the local authority"
_WORDS = {
    Standing.BARRED: "barred",
    Standing.MAY_BE_BARRED: "barred in part, or only with leave",
    Standing.CONDITIONAL: "under conditions",
}
_ACROSS = {
    Standing.MAY_BE_BARRED: "trade across borders is barred or needs papers",
    Standing.CONDITIONAL: "papers may be asked to cross a border",
}
_YEAR = re.compile(r"(1[89]|20)\d\d")
#: Statuses that a row of law may have; what an owner has to be asked is no law.
_OF_LAW = tuple(one for one in STATUSES if one != "depends")

Rows = Callable[[str, Sequence[str], Sequence[str]], Iterator[tuple[Fields, tuple[str, ...]]]]


def add_law(trade: Trade, rows: Rows, faults: Faults) -> Trade:
    """Read the tables of law and return the trade with them and with the cautions they give.

    Parameters
    ----------
    trade : Trade
        Without law.
    rows : callable
        From a file, its columns and its keys to its rows, the user's after ours.
    faults : Faults
    """
    jurisdictions = _jurisdictions(rows)
    taxa = {
        key: Taxon(
            key,
            fields.text("name", None),
            frozenset(fields.words("groups")),
            fields.text("source", None),
        )
        for fields, (key,) in rows("law/taxa.tsv", TAXON_COLUMNS, ("taxon",))
    }
    known = frozenset(taxa) | {group for one in taxa.values() for group in one.groups}
    statutes = {
        key: _statute(fields, jurisdictions, known)
        for fields, (key,) in rows("law/statutes.tsv", STATUTE_COLUMNS, ("id",))
    }
    law = LawTables(jurisdictions, taxa, statutes)
    materials = dict(trade.materials)
    for fields, _ in rows("law/stuffs.tsv", STUFF_COLUMNS, ("material",)):
        material = fields.entry("material", trade.material_names, "material")
        if material is not None:
            materials[material.id] = _add_origin(fields, material, taxa)
    if len(faults):
        return trade
    cautioned = {id_: _add_caution(one, law) if one.taxa else one for id_, one in materials.items()}
    return replace(trade, materials=cautioned, law=law)


def _jurisdictions(rows: Rows) -> dict[str, Jurisdiction]:
    found: dict[str, Jurisdiction] = {}
    read: list[tuple[Fields, str]] = []
    for fields, (key,) in rows("law/jurisdictions.tsv", JURISDICTION_COLUMNS, ("id",)):
        found[key] = Jurisdiction(
            id=key,
            name=fields.text("name", None),
            within=fields.text("within"),
            authority=fields.text("authority", None),
            source=fields.text("source", None),
        )
        read.append((fields, key))
    for fields, key in read:
        _note_places(fields, found[key], found)
    return found


def _note_places(fields: Fields, place: Jurisdiction, known: dict[str, Jurisdiction]) -> None:
    """Note a wider place that is not in the tables, and places that lie within each other."""
    seen, name = {place.id}, place.within
    if name and name not in known:
        problem = f"{shown(name)} is not a jurisdiction"
        fields.wrong("within", problem, "", nearest(name, known))
    while name in known:
        if name in seen:
            problem = f"{shown(place.id)} lies within itself"
            fields.wrong("within", problem, "leave the widest one's empty")
            return
        seen.add(name)
        name = known[name].within


def _statute(fields: Fields, places: dict[str, Jurisdiction], known: frozenset[str]) -> Statute:
    place = fields.text("place", None)
    if place and place not in places:
        problem = f"{shown(place)} is not a jurisdiction"
        fields.wrong("place", problem, "write an id of jurisdictions.tsv", nearest(place, places))
    if not fields.has("taxa") and not fields.has("when"):
        fields.wrong("taxa", "the row speaks of nothing", "write taxa, or what holds of the fly")
    return Statute(
        id=fields.text("id", None),
        place=place,
        taxa=_known(fields, "taxa", known, "taxon or group of taxa.tsv"),
        when=fields.text("when"),
        origin=fields.choice("origin", ORIGINS, None),
        acts=_acts(fields),
        status=fields.choice("status", _OF_LAW, None),
        condition=fields.text("condition", None),
        exceptions=fields.text("exceptions"),
        statute=fields.text("statute", None),
        section=fields.text("section", None),
        address=fields.text("address", None),
        text_date=_text_date(fields),
        seen=fields.choice("seen", WAYS_SEEN, None),
        until=_until(fields),
        written=fields.origin("when"),
    )


def _acts(fields: Fields) -> tuple[str, ...]:
    if not fields.has("act"):
        fields.wrong("act", "the act is missing", f"write some of: {', '.join(ACTS)}")
    return _known(fields, "act", frozenset(ACTS), "act")


def _known(fields: Fields, field: str, known: frozenset[str], what: str) -> tuple[str, ...]:
    found = fields.words(field)
    for one in found:
        if one not in known:
            fields.wrong(field, f"{shown(one)} is no {what}", "", nearest(one, sorted(known)))
    return found


def _text_date(fields: Fields) -> str:
    told = fields.text("text_date", None)
    if told and told != UNDATED and not _YEAR.search(told):
        remedy = f"write the year of the text, or {UNDATED}"
        fields.wrong("text_date", f"{shown(told)} names no year", remedy)
    return told


def _until(fields: Fields) -> date | None:
    told = fields.text("until")
    try:
        return date.fromisoformat(told) if told else None
    except ValueError:
        fields.wrong("until", f"{shown(told)} is no day", "write it as 2026-12-31")
        return None


def _add_origin(fields: Fields, material: Material, taxa: dict[str, Taxon]) -> Material:
    named = _known(fields, "taxa", frozenset(taxa), "taxon of taxa.tsv")
    origins = _known(fields, "origins", frozenset(ORIGINS), "origin")
    if named and not origins:
        fields.wrong("origins", "the origins are missing", "write wild, farmed or made")
    return replace(
        material,
        taxa=named,
        origins=origins,
        weighs=fields.choice("weighs", WEIGHTS),
        ask=fields.text("ask"),
    )


def _add_caution(material: Material, law: LawTables) -> Material:
    """Return a material with the caution and the restriction that the statutes make of it."""
    at_home, across = _standings(material, law)
    restriction = _restriction(at_home, across, law)
    words = [*_place_words(at_home, law), *([_ACROSS[across]] if across else [])]
    if not words:
        return material
    asks = f" Ask: {material.ask[0].upper()}{material.ask[1:]}" if material.ask else ""
    asks += "." if asks and not asks.endswith("?") else ""
    last = f"Use a substitute, or {ASK}." if restriction == "protected" else f"C{ASK[1:]}."
    caution = f"Law: {'; '.join(words)}.{asks} {last}"
    return replace(
        material, caution=f"{material.caution} {caution}".strip(), restriction=restriction
    )


def _standings(material: Material, law: LawTables) -> tuple[dict[str, Standing], Standing]:
    """Return how each place that speaks of a material at home stands to it, and borders do."""
    places = dict.fromkeys(one.place for one in law.rows_of(material))
    found = {place: law.verdict(material, (place,)).standing for place in places}
    across = found.pop(BORDERS, Standing.FREE)
    return {one: found[one] for one in found if law.is_spoken_of(material, (one,))}, across


def _restriction(at_home: dict[str, Standing], across: Standing, law: LawTables) -> str:
    may_be_barred = Standing.MAY_BE_BARRED
    wide = [
        standing
        for place, standing in at_home.items()
        if law.jurisdictions[place].within == BORDERS
    ]
    if wide and min(wide) >= may_be_barred and Standing.BARRED in wide:
        return "protected"
    return "restricted" if max((*at_home.values(), across)) >= may_be_barred else ""


def _place_words(at_home: dict[str, Standing], law: LawTables) -> Iterator[str]:
    """Yield each standing with the places where it holds; a narrow one where it is stricter.

    Conditions of a narrow place are left to those who name the place.
    """
    for standing, words in _WORDS.items():
        names = [
            law.jurisdictions[place].name
            for place, own in at_home.items()
            if own is standing
            and (own is not Standing.CONDITIONAL or law.jurisdictions[place].within == BORDERS)
            and own > max((at_home.get(one.id, 0) for one in law.places(place)[1:]), default=0)
        ]
        if names:
            yield f"{words} ({', '.join(names)})"
