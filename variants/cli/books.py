"""Books of dressings: folders of dressing files, and files of plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from variants.model import Dressing
    from variants.rulebook import Rulebook


def read_books(paths: Iterable[str], rulebook: Rulebook) -> list[Dressing]:
    """Read every dressing of folders (their ``*.toml``) and files (``.toml`` or plain words).

    Raises
    ------
    InputError
        When a file can't be read; what plain words leave dark is no fault of a book.
    """
    return [dressing for path in paths for dressing in _read(Path(path), rulebook)]


def _read(path: Path, rulebook: Rulebook) -> Iterator[Dressing]:
    from variants.reading import read_dressing, read_text
    from variants.reading.plain import load_glossary, read_plain
    from variants.rulebook import own_rules_folder

    if path.is_dir():
        for file in sorted(path.glob("*.toml")):
            yield read_dressing(file, rulebook.trade)
    elif path.suffix == ".toml":
        yield read_dressing(path, rulebook.trade)
    else:
        glossary = load_glossary([own_rules_folder()], rulebook.trade)
        for reading in read_plain(read_text(path), glossary, file=str(path)):
            yield from reading.choices()
