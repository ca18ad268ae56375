"""Batch files (TOML): which flies are wanted, in which sizes, and how many.

name = "Club evening"

[[fly]]
dressing = "dressings/ferrymans-dun.toml"   # beside the batch file
size = 14
count = 6
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from variants.model import Dressing, Trade
from variants.reading.dressings import read_dressing
from variants.reading.faults import Faults, InputError
from variants.reading.fields import Fields
from variants.reading.toml import TomlDocument
from variants.text import shown

_MOST_FLIES = 100_000


@dataclass(frozen=True, slots=True)
class BatchFly:
    """So many flies of one dressing in one size."""

    dressing: Dressing
    size: int
    count: int


@dataclass(frozen=True, slots=True)
class Batch:
    """What a tyer means to tie."""

    name: str
    flies: tuple[BatchFly, ...]


def is_batch(document: TomlDocument) -> bool:
    """Tell whether a document means to be a batch: it wants flies, and has no parts of its own."""
    return "fly" in document.value and "part" not in document.value


def read_batch(path: str | Path, trade: Trade) -> Batch:
    """Read a batch file and the dressings that it names.

    Raises
    ------
    InputError
        With every fault of the file, and of the dressings.
    """
    document = TomlDocument.read(path)
    faults = Faults()
    top = Fields(document.value, lambda field: document.origin((field,)), faults)
    name = top.text("name") or "batch"
    tables = top.raw("fly")
    top.finish()
    if not isinstance(tables, list) or not tables:
        top.wrong("fly", "no fly is wanted", "write [[fly]] with dressing, size and count")
        faults.stop_if_any()
        return Batch(name, ())
    folder = Path(path).parent
    found: list[BatchFly] = []
    others: list[InputError] = []
    for place, table in enumerate(tables):
        fields = Fields(
            table if isinstance(table, dict) else {},
            lambda field, place=place: document.origin(("fly", place, field)),  # type: ignore[misc]
            faults,
        )
        if not isinstance(table, dict):
            fields.wrong("", f"{shown(table)} is no table", "write [[fly]]")
            continue
        try:
            one = _wanted(fields, folder, trade)
        except InputError as problem:
            others.append(problem)
            one = None
        fields.finish()
        if one is not None:
            found.append(one)
    faults.stop_if_any()
    if others:
        raise others[0]
    return Batch(name, tuple(found))


def _wanted(fields: Fields, folder: Path, trade: Trade) -> BatchFly | None:
    file = fields.text("dressing", None)
    size, count = fields.whole("size", 1, 40), fields.whole("count", 1, _MOST_FLIES)
    if count is None and not fields.has("count"):
        fields.wrong("count", "is missing", "write how many are wanted, such as 6")
    if not file or count is None or not _is_beside(fields, folder, file):
        return None
    dressing = read_dressing(folder / file, trade)
    return BatchFly(dressing, dressing.size if size is None else size, count)


def _is_beside(fields: Fields, folder: Path, file: str) -> bool:
    """Refuse what no batch has to name: devices, pipes, and files told from the root."""
    path = folder / file
    if Path(file).is_absolute() or str(path) == "-" or _is_odd(path):
        fields.wrong(
            "dressing",
            f"{shown(file)} is no dressing beside the batch",
            "name a file as seen from the batch, such as dressings/ferrymans-dun.toml",
        )
        return False
    return True


def _is_odd(path: Path) -> bool:
    """Tell whether something is there that is neither a file nor a folder."""
    try:
        return path.exists() and not (path.is_file() or path.is_dir())
    except OSError:
        return False  # whoever opens it tells why that can't be done
