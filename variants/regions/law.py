"""The tables of law and of hazards: rules/law/*.tsv read into one value.

Comes in: the folders of rules, ours first and the user's after it, and the trade. Goes out:
`LawOfTheLand`. Nothing is judged here, and a material without a row is unknown, never allowed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.model import Trade
from variants.reading import Faults, Fields, own_rules_folder, read_table, shown
from variants.rulebook import STATUSES, Rule, read_rules

JURISDICTION_COLUMNS = ("id", "name", "within", "authority", "source")
STATUTE_COLUMNS = (
    "id", "jurisdiction", "materials", "status", "statute", "section", "known", "says", "source",
)  # fmt: skip
HAZARD_COLUMNS = ("id", "key", "names", "says", "source")
HAZARD_KEYS = ("part", "material", "class", "dyed")


@dataclass(frozen=True, slots=True)
class Jurisdiction:
    """Where a law holds, the wider place whose law holds there too, and whom to ask."""

    id: str
    name: str
    within: str
    authority: str
    source: str


@dataclass(frozen=True, slots=True)
class Statute:
    """What one statute says about some materials.

    Attributes
    ----------
    id, jurisdiction : str
    materials : tuple of str
        Ids of materials.
    status : str
        One of `STATUSES`; ``licensed`` is allowed under the conditions that `says` tells.
    statute, section : str
    known : str
        When the row was last written.
    says, source : str
    """

    id: str
    jurisdiction: str
    materials: tuple[str, ...]
    status: str
    statute: str
    section: str
    known: str
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard at the bench, and what calls for it: a part, a material, a class, or dyed stuff."""

    id: str
    key: str
    names: tuple[str, ...]
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class LawOfTheLand:
    """The tables of law and of hazards, and what waters may ask for, by id."""

    jurisdictions: Mapping[str, Jurisdiction]
    statutes: Mapping[str, Statute]
    hazards: Mapping[str, Hazard]
    of_waters: Mapping[str, Rule]

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


def load_law(trade: Trade, extra: Sequence[str | Path] = ()) -> LawOfTheLand:
    """Load our own tables of law, then those in the ``law`` folders of the user's, by id.

    Raises
    ------
    InputError
        With every fault of every table.

    Examples
    --------
    >>> from variants.rulebook import load_rulebook
    >>> law = load_law(load_rulebook().trade)
    >>> [place.name for place in law.places("dk")]
    ['Denmark', 'European Union', 'crossing a border']
    """
    faults = Faults()
    law = LawOfTheLand(jurisdictions := {}, statutes := {}, hazards := {}, of_waters := {})
    rows: list[tuple[Fields, Jurisdiction | Statute]] = []
    for folder in (own_rules_folder(), *map(Path, extra)):
        for fields in _rows(folder / "law" / "jurisdictions.tsv", JURISDICTION_COLUMNS, faults):
            place = _jurisdiction(fields)
            jurisdictions[place.id] = place
            rows.append((fields, place))
        for fields in _rows(folder / "law" / "statutes.tsv", STATUTE_COLUMNS, faults):
            statute = _statute(fields, trade)
            statutes[statute.id] = statute
            rows.append((fields, statute))
        for fields in _rows(folder / "law" / "hazards.tsv", HAZARD_COLUMNS, faults):
            hazard = _hazard(fields, trade)
            hazards[hazard.id] = hazard
        if (folder / "law" / "waters.toml").is_file():
            of_waters.update(read_rules(folder / "law" / "waters.toml", trade, faults))
    for fields, row in rows:
        _note_places(fields, row, jurisdictions)
    faults.stop_if_any()
    return law


def _rows(path: Path, columns: Sequence[str], faults: Faults) -> Iterator[Fields]:
    if path.is_file():
        seen: dict[str, int] = {}
        for row in read_table(path, columns, columns, faults, tabs=True):
            fields = row.fields(faults)
            id_ = fields.text("id", None)
            if id_ and seen.setdefault(id_, row.line) != row.line:
                problem = f"{shown(id_)} stands in line {seen[id_]} too"
                fields.wrong("id", problem, "rename one, or remove it")
            yield fields
            fields.finish()


def _jurisdiction(fields: Fields) -> Jurisdiction:
    return Jurisdiction(
        id=fields.text("id", None),
        name=fields.text("name", None),
        within=fields.text("within"),
        authority=fields.text("authority", None),
        source=fields.text("source", None),
    )


def _statute(fields: Fields, trade: Trade) -> Statute:
    return Statute(
        id=fields.text("id", None),
        jurisdiction=fields.text("jurisdiction", None),
        materials=_stated_materials(fields, trade),
        status=fields.choice("status", STATUSES, None),
        statute=fields.text("statute", None),
        section=fields.text("section", None),
        known=fields.text("known", None),
        says=fields.text("says", None),
        source=fields.text("source", None),
    )


def _hazard(fields: Fields, trade: Trade) -> Hazard:
    key = fields.choice("key", HAZARD_KEYS, None)
    names = _materials(fields, "names", trade) if key == "material" else fields.words("names")
    if not names and key != "dyed":
        fields.wrong("names", "names nothing", "write ids parted by semicolons")
    return Hazard(
        id=fields.text("id", None),
        key=key,
        names=names,
        says=fields.text("says", None),
        source=fields.text("source", None),
    )


def _stated_materials(fields: Fields, trade: Trade) -> tuple[str, ...]:
    if not fields.has("materials"):
        fields.wrong("materials", "names nothing", "write materials parted by semicolons")
    return _materials(fields, "materials", trade)


def _materials(fields: Fields, field: str, trade: Trade) -> tuple[str, ...]:
    found = [
        fields.lookup(field, name, trade.material_names, "material") for name in fields.words(field)
    ]
    return tuple(material.id for material in found if material is not None)


def _note_places(
    fields: Fields, row: Jurisdiction | Statute, known: Mapping[str, Jurisdiction]
) -> None:
    """Note a place that is not in the tables, and places that lie within each other."""
    field = "jurisdiction" if isinstance(row, Statute) else "within"
    name = row.jurisdiction if isinstance(row, Statute) else row.within
    if name and name not in known:
        remedy = "write one of: " + ", ".join(sorted(known))
        fields.wrong(field, f"'{name}' is not a jurisdiction", remedy)
    seen = {row.id}
    while isinstance(row, Jurisdiction) and name in known:
        if name in seen:
            fields.wrong(field, f"'{row.id}' lies within itself", "leave the widest one's empty")
            return
        seen.add(name)
        name = known[name].within
