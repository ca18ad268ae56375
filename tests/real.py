"""Dressings and boxes written as text in a test, read with the rules as they ship."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from variants import api
from variants.design import DesignProblem
from variants.model import Box, Dressing, Variant
from variants.reading import TomlDocument, parse_dressing, read_box
from variants.rulebook import Rulebook, load_rulebook

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"


@cache
def rulebook() -> Rulebook:
    """The rules as they ship, read once."""
    return load_rulebook()


def fly(parts: Mapping[str, str], style: str = "dry upright", sizes: str = "14") -> Dressing:
    """Return a dressing; each part is ``"material, colour"`` or TOML fields after a bar."""
    tables = []
    for part, words in parts.items():
        stuff, _, fields = words.partition("|")
        material, _, colour = (word.strip() for word in stuff.partition(","))
        lines = [f"[part.{part}]", f'material = "{material}"']
        lines += [f'colour = "{colour}"'] if colour else []
        tables.append("\n".join([*lines, fields.strip()]))
    head = f'name = "Trial"\nstyle = "{style}"\nsizes = "{sizes}"\n'
    return parse_dressing(TomlDocument(head + "\n".join(tables), "trial.toml"), rulebook().trade)


def box(rows: Iterable[str], columns: str = "item,material,colour,sizes,length,amount") -> Box:
    """Return a box from CSV rows under these columns."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "box.csv"
        path.write_text("\n".join([columns, *rows]) + "\n", encoding="utf-8")
        return read_box(path, rulebook().trade)


def example(name: str) -> Dressing:
    """Return a dressing of the Wendle valley."""
    return api.load_dressing(EXAMPLES / "dressings" / f"{name}.toml", rulebook())


@cache
def example_box() -> Box:
    """The box of the Wendle valley."""
    return api.load_box(EXAMPLES / "box.csv", rulebook())


def propose(
    dressing: Dressing, stock: Box, **wishes: object
) -> tuple[DesignProblem, list[Variant]]:
    """Ask for variants with the rules as they ship."""
    return api.propose(dressing, stock, rulebook(), **wishes)  # type: ignore[arg-type]
