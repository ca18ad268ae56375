"""The table of how stuff of each class is built up round the shank."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from variants.model import BUILDS, LIES, Build
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.tables import read_table

BUILD_COLUMNS = (
    "class", "build", "gapes", "taper", "layers", "thickness_mm", "lies", "packing_g_cm3", "source",
)  # fmt: skip
WINDING_COLUMNS = ("id", "value", "unit", "says", "source")
_SPREAD = "floss_pitch"


def read_builds(folders: Sequence[Path], faults: Faults) -> dict[str, Build]:
    """Read ``geometry/builds.tsv`` of several rules folders by class of stuff.

    How wide flat strands spread stands in ``geometry/winding.tsv``. Later folders override.
    """
    spread_mm = 0.8
    for folder in folders:
        for fields in _rows(folder / "geometry" / "winding.tsv", WINDING_COLUMNS, faults):
            if fields.text("id") == _SPREAD:
                spread_mm = fields.number("value", 0.01, 10.0) or spread_mm
    builds: dict[str, Build] = {}
    for folder in folders:
        for fields in _rows(folder / "geometry" / "builds.tsv", BUILD_COLUMNS, faults):
            builds[fields.text("class", None)] = _build(fields, spread_mm)
            fields.finish()
    return builds


def _rows(path: Path, columns: Sequence[str], faults: Faults) -> list[Fields]:
    if not path.is_file():
        return []
    return [row.fields(faults) for row in read_table(path, columns, columns, faults, tabs=True)]


def _build(fields: Fields, spread_mm: float) -> Build:
    return Build(
        fields.choice("build", BUILDS, None),
        fields.number("gapes", 0.0, 3.0),
        fields.number("taper", 0.1, 2.0) or 1.0,
        fields.whole("layers", 1, 20) or 1,
        fields.number("thickness_mm", 0.0, 20.0),
        fields.choice("lies", LIES) or "round",
        fields.number("packing_g_cm3", 0.0, 20.0),
        fields.text("source", None),
        spread_mm,
    )
