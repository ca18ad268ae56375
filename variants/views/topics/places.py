"""Where an entry of the rules folders stands: the file and the line, to look it up by hand.

Files are read again for that: an answer to a tyer never waits for the places of what it does not
show.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from variants.model import Origin
from variants.reading import TomlDocument, read_text


class Places:
    """The rules folders, ours first, and where things stand in them.

    Parameters
    ----------
    folders : sequence of Path
        Later ones override earlier ones by id.
    """

    def __init__(self, folders: Sequence[Path]) -> None:
        self._folders = folders

    def of_row(self, pattern: str, id_: str, column: str = "id") -> str:
        """Return where the row of a table stands that has some id; empty when none has."""
        for folder in reversed(self._folders):
            for path in sorted(folder.glob(pattern)):
                line = _line_of_row(path, id_, column)
                if line:
                    return self._shown(Origin(str(path), line))
        return ""

    def rows(self, pattern: str) -> Iterator[tuple[dict[str, str], str]]:
        """Yield the rows of tables, by column, with their places; later folders' come later."""
        for folder in self._folders:
            for path in sorted(folder.glob(pattern)):
                for line, row in _rows(path):
                    yield row, self._shown(Origin(str(path), line))

    def of_style(self, id_: str) -> str:
        """Return the file that describes a style."""
        for folder in reversed(self._folders):
            for path in sorted(folder.glob("styles/*.toml")):
                document = TomlDocument.read(path)
                if document.value.get("id") == id_:
                    return self._shown(document.origin(("id",)))
        return ""

    def records(self, pattern: str) -> Iterator[tuple[str, Mapping[str, object], str]]:
        """Yield every table with an id that TOML files hold, as its id, fields and place.

        A later folder's table comes later.
        """
        for folder in self._folders:
            for path in sorted(folder.glob(pattern)):
                document = TomlDocument.read(path)
                for name, value in document.value.items():
                    if isinstance(value, dict):
                        yield name, value, self._shown(document.origin((name,)))
                    elif isinstance(value, list):
                        for index, table in enumerate(value):
                            if isinstance(table, dict) and isinstance(table.get("id"), str):
                                place = document.origin((name, index))
                                yield str(table["id"]), table, self._shown(place)

    def _shown(self, origin: Origin) -> str:
        """Return a place, told from the rules folder when it is our own."""
        path, own = Path(origin.file), self._folders[0]
        inside = Path("rules", path.relative_to(own)) if path.is_relative_to(own) else path
        return f"{inside.as_posix()}, line {origin.line}"


def _line_of_row(path: Path, id_: str, column: str) -> int:
    return next((line for line, row in _rows(path) if row.get(column) == id_), 0)


def _rows(path: Path) -> Iterator[tuple[int, dict[str, str]]]:
    """Yield the rows of a table that has been checked already, each with its line."""
    header: list[str] = []
    for number, line in enumerate(read_text(path).split("\n"), start=1):
        cells = [cell.strip() for cell in line.split("\t")]
        if line.startswith("#") or not any(cells):
            continue
        if header:
            yield number, dict(zip(header, cells, strict=False))
        else:
            header = cells
