"""The law that a place is judged by: statutes with their tests, hazards, what waters may ask.

Comes in: the trade, whose tables hold places, taxa and statutes, and the folders of rules. Goes
out: `LawOfTheLand`. Nothing is judged here, and what no row speaks of was not looked up, which is
never told as allowed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.model import Jurisdiction, LawTables, Statute, Trade
from variants.reading import Faults, Fields, own_rules_folder, read_table
from variants.regions.fly_tests import HELP, FlyTest, read_fly_test
from variants.rulebook import Rule, read_rules
from variants.text import shown

HAZARD_COLUMNS = ("id", "key", "names", "says", "limits", "source")
HAZARD_KEYS = ("part", "material", "class", "dyed")


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard at the bench, and what calls for it: a part, a material, a class, or dyed stuff.

    ``limits`` are the published ones, each with who set it; empty where none is known.
    """

    id: str
    key: str
    names: tuple[str, ...]
    says: str
    limits: str
    source: str

    @property
    def words(self) -> str:
        """What to do, and the published limits."""
        return f"{self.says} {self.limits}".strip()


@dataclass(frozen=True, slots=True)
class LawOfTheLand:
    """The trade, whose tables hold its law; hazards, tests and what waters ask, by id."""

    trade: Trade
    hazards: Mapping[str, Hazard]
    of_waters: Mapping[str, Rule]
    tests: Mapping[str, FlyTest]

    @property
    def tables(self) -> LawTables:
        """Places, taxa and statutes."""
        return self.trade.law

    @property
    def jurisdictions(self) -> Mapping[str, Jurisdiction]:
        """Places by id."""
        return self.tables.jurisdictions

    @property
    def statutes(self) -> Mapping[str, Statute]:
        """Statutes by id."""
        return self.tables.statutes

    def places(self, jurisdiction: str) -> tuple[Jurisdiction, ...]:
        """Return a jurisdiction and every wider one whose law holds there, narrowest first.

        Raises
        ------
        KeyError
            When no jurisdiction has that id.
        """
        return self.tables.places(jurisdiction)


def load_law(trade: Trade, extra: Sequence[str | Path] = ()) -> LawOfTheLand:
    """Load hazards and what waters ask, ours and then those in ``law`` folders of the user's.

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
    hazards: dict[str, Hazard] = {}
    of_waters: dict[str, Rule] = {}
    for folder in (own_rules_folder(), *map(Path, extra)):
        for fields in _rows(folder / "law" / "hazards.tsv", HAZARD_COLUMNS, faults):
            hazard = _hazard(fields, trade)
            hazards[hazard.id] = hazard
        if (folder / "law" / "waters.toml").is_file():
            of_waters.update(read_rules(folder / "law" / "waters.toml", trade, faults))
    tests = _tests(trade, faults)
    faults.stop_if_any()
    return LawOfTheLand(trade, hazards, of_waters, tests)


def _tests(trade: Trade, faults: Faults) -> dict[str, FlyTest]:
    found: dict[str, FlyTest] = {}
    for statute in trade.law.statutes.values():
        if statute.when:
            try:
                found[statute.id] = read_fly_test(statute.when, trade)
            except ValueError as wrong:
                faults.add(statute.written, str(wrong), HELP)
    return found


def _rows(path: Path, columns: Sequence[str], faults: Faults) -> Iterator[Fields]:
    if path.is_file():
        seen: dict[str, int] = {}
        required = [one for one in columns if one != "limits"]
        for row in read_table(path, columns, required, faults, tabs=True):
            fields = row.fields(faults)
            id_ = fields.text("id", None)
            if id_ and seen.setdefault(id_, row.line) != row.line:
                problem = f"{shown(id_)} stands in line {seen[id_]} too"
                fields.wrong("id", problem, "rename one, or remove it")
            yield fields
            fields.finish()


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
        limits=fields.text("limits"),
        source=fields.text("source", None),
    )


def _materials(fields: Fields, field: str, trade: Trade) -> tuple[str, ...]:
    found = [
        fields.lookup(field, name, trade.material_names, "material") for name in fields.words(field)
    ]
    return tuple(material.id for material in found if material is not None)
