"""Everything that topics are told from, read once: the rulebook, the law, the folders."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from variants.model import Trade
from variants.reading import own_rules_folder
from variants.regions import LawOfTheLand, load_law
from variants.rulebook import Rulebook, load_rulebook
from variants.views.topics.places import Places


@dataclass(frozen=True)
class Shelf:
    """The trade's tables and rules with the folders that they come from."""

    rulebook: Rulebook
    law: LawOfTheLand
    places: Places

    @property
    def trade(self) -> Trade:
        """The trade's tables."""
        return self.rulebook.trade

    @cached_property
    def classes(self) -> dict[str, Told]:
        """The classes of stuff by name, each as its table tells it."""
        kinds = {material.kind for material in self.trade.materials.values()}
        return {
            row["id"]: Told(row["id"], row.get("says", ""), None, row.get("source", ""), place, row)
            for row, place in self.places.rows("classes.tsv")
            if row["id"] in kinds
        }

    @cached_property
    def decisions(self) -> dict[str, Told]:
        """The conventions, scales and profiles of likeness by id, each as its file tells it."""
        return {
            **self._told("conventions.toml"),
            **self._told("likeness/*.toml"),
        }

    def _told(self, pattern: str) -> dict[str, Told]:
        return {
            id_: Told(
                id_,
                str(table.get("says", "")),
                table.get("value"),
                str(table.get("source", "")),
                place,
                table,
            )
            for id_, table, place in self.places.records(pattern)
        }


@dataclass(frozen=True, slots=True)
class Told:
    """A decision or a scale as its file tells it."""

    id: str
    says: str
    value: object
    source: str
    place: str
    fields: Mapping[str, object]


def read_shelf(folders: Sequence[str | Path] = ()) -> Shelf:
    """Read the rules that come with Flykin, and the user's own folders after them.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    rulebook = load_rulebook(folders)
    own = [own_rules_folder(), *map(Path, folders)]
    return Shelf(rulebook, load_law(rulebook.trade, folders), Places(own))
