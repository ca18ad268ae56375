"""What the trade takes when a dressing names only a colour, or nothing: data with its source.

``rules/customary.tsv`` comes in. A row says: in this style and part, for these colours, custom
takes this material (and, where stated, reads the colour as that one). The row that fits most
closely is taken; nothing is taken that can't carry the colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.model import Colour, Material, Trade
from variants.reading.dressings import parse_sizes
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.tables import read_table
from variants.text import nearest

CUSTOMARY_COLUMNS = (
    "style", "part", "colours", "material", "colour", "sizes", "sure", "says", "source",
)  # fmt: skip
ANY = "any"


@dataclass(frozen=True, slots=True)
class Custom:
    """One custom.

    Attributes
    ----------
    style : str
        Id of a style, or ``any``.
    part : str
    colours : frozenset of str
        Colours it holds for; empty for any that the material comes in.
    material, colour : str
        What custom takes; no colour means the one that was named.
    sizes : tuple of int
        Hook sizes usual in the style, in rows for the hook.
    sure : float
    says, source : str
    """

    style: str
    part: str
    colours: frozenset[str]
    material: str
    colour: str
    sizes: tuple[int, ...]
    sure: float
    says: str
    source: str


class Customs:
    """All customs, asked for one part of one style at a time."""

    def __init__(self, rows: Sequence[Custom], trade: Trade) -> None:
        self._trade = trade
        self._rows: dict[str, list[Custom]] = {}
        for row in rows:
            self._rows.setdefault(row.part, []).append(row)

    def of(
        self, style: str, part: str, colour: Colour | None, *, named: bool = False
    ) -> Custom | None:
        """Return the custom that fits most closely, or None.

        Parameters
        ----------
        style, part : str
        colour : Colour or None
            The colour that the dressing names.
        named : bool
            Whether only a row that names the colour counts.
        """
        known = self._trade.styles.get(style)
        styles = (*(known.lineage if known else (style,)), ANY)
        for name in self._trade.part_kind(part).lineage:
            rows = [
                row
                for row in self._rows.get(name, ())
                if row.style in styles and self._holds(row, colour, named)
            ]
            if rows:
                return max(rows, key=lambda row: (bool(row.colours), -styles.index(row.style)))
        return None

    def _holds(self, row: Custom, colour: Colour | None, named: bool) -> bool:
        if row.colours:
            return colour is not None and colour.id in row.colours
        if named:
            return False
        return colour is None or comes_in(self._trade.materials[row.material], colour, self._trade)


def comes_in(material: Material, colour: Colour, trade: Trade) -> bool:
    """Tell whether a material is had in a colour: naturally, or dyed in its own marking."""
    if colour.id in material.colours:
        return True
    if ANY not in material.colours:
        return False
    own = [trade.colours[name].marking for name in material.colours if name != ANY]
    return colour.marking in (own or [Colour("", "").marking])


def read_customs(folders: Sequence[Path], trade: Trade) -> Customs:
    """Read the customs of several rules folders, the user's own before ours.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    faults = Faults()
    rows: list[Custom] = []
    for folder in reversed(folders):
        path = folder / "customary.tsv"
        if path.is_file():
            table = read_table(path, CUSTOMARY_COLUMNS, ("style", "part"), faults, tabs=True)
            rows.extend(_custom(row.fields(faults), trade) for row in table)
    faults.stop_if_any()
    return Customs(rows, trade)


def _custom(fields: Fields, trade: Trade) -> Custom:
    colours = fields.words("colours")
    for name in colours:
        if name not in trade.colours:
            near = nearest(name, trade.colours)
            fields.wrong("colours", f"'{name}' is no colour's id", near=near)
    sizes = fields.text("sizes")
    sure = fields.number("sure", 0, 1)
    return Custom(
        style=fields.choice("style", (*trade.styles, ANY), None),
        part=fields.choice("part", trade.parts, None),
        colours=frozenset(colours),
        material=fields.choice("material", trade.materials, None),
        colour=fields.choice("colour", trade.colours),
        sizes=_sizes(fields, sizes) if sizes else (),
        sure=1.0 if sure is None else sure,
        says=fields.text("says", None),
        source=fields.text("source", None),
    )


def _sizes(fields: Fields, text: str) -> tuple[int, ...]:
    try:
        return parse_sizes(text)
    except ValueError as problem:
        fields.wrong("sizes", str(problem), "write 12-16")
        return ()
