"""Books of dressings: folders of dressing files, and files of plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from variants.model import Dressing
    from variants.reading.words import Reading
    from variants.rulebook import Rulebook


def read_books(
    paths: Iterable[str], rulebook: Rulebook, *, style: str | None = None, rules: Sequence[str] = ()
) -> list[Dressing]:
    """Read every dressing of folders (their ``*.toml``) and files (``.toml`` or plain words).

    Parameters
    ----------
    paths : iterable of str
    rulebook : Rulebook
    style : str, optional
        Id of the style that plain words are read as where they state none.
    rules : sequence of str
        Folders of the user's own rules and tables.

    Raises
    ------
    InputError
        When a file can't be read. What plain words leave dark is no fault of a book: how much of
        it was left out is told on standard error.
    """
    return [dressing for path in paths for dressing in _read(Path(path), rulebook, style, rules)]


def read_one(path: str, rulebook: Rulebook, rules: Sequence[str] = ()) -> Dressing:
    """Read the one dressing of a dressing file, or of a ``.txt`` file in plain words.

    Parameters
    ----------
    path : str
        ``-`` is standard input, and a dressing file.
    rulebook : Rulebook
    rules : sequence of str
        Folders of the user's own rules and tables.

    Raises
    ------
    InputError
        When the file can't be read, or its plain words make no dressing or several. What custom
        filled in and what was not understood is told on standard error.
    """
    from variants.model import Origin
    from variants.reading import Fault, InputError, read_dressing
    from variants.reading.words import NO_NAME

    if Path(path).suffix.lower() != ".txt":
        return read_dressing(path, rulebook.trade)
    readings = _readings(Path(path), rulebook, None, rules)
    (first, *rest) = readings
    if rest:
        remedy = f"keep one, or write a file for each: flykin read {path} --out FOLDER"
        raise InputError([Fault(Origin(path), f"holds {len(readings)} dressings", remedy)])
    if first.dressing is None:
        remedy = "write the words so that they are known; flykin read FILE tells more"
        faults = [Fault(Origin(path, one.line, one.field), one.why, remedy) for one in first.unread]
        raise InputError(
            faults or [Fault(Origin(path, first.line), "is no whole dressing", remedy)]
        )
    for one in first.unread:
        where = f"line {one.line}, {one.field}" if one.field else f"line {one.line}"
        _tell(Path(path), f"NOT UNDERSTOOD {where}: “{one.words}”: {one}")
    not_read = ""
    if first.unread:
        not_read = "; what follows is of a fly not wholly understood, and proven of what was read"
    _tell(Path(path), f"plain words, confidence {first.confidence:.2f}{not_read}; see flykin read")
    if first.dressing.name == NO_NAME:
        return replace(first.dressing, name=Path(path).stem)
    return first.dressing


def _read(
    path: Path, rulebook: Rulebook, style: str | None, rules: Sequence[str]
) -> Iterator[Dressing]:
    from variants.reading import read_dressing

    if path.is_dir():
        for file in sorted(path.glob("*.toml")):
            yield read_dressing(file, rulebook.trade)
    elif path.suffix == ".toml":
        yield read_dressing(path, rulebook.trade)
    else:
        yield from _read_plain(path, rulebook, style, rules)


def _readings(
    path: Path, rulebook: Rulebook, style: str | None, rules: Sequence[str]
) -> tuple[Reading, ...]:
    from variants.reading import own_rules_folder, read_words
    from variants.reading.words import load_glossary, read_plain

    glossary = load_glossary([own_rules_folder(), *map(Path, rules)], rulebook.trade)
    return read_plain(read_words(path), glossary, style=style, file=str(path))


def _read_plain(
    path: Path, rulebook: Rulebook, style: str | None, rules: Sequence[str]
) -> Iterator[Dressing]:
    readings = _readings(path, rulebook, style, rules)
    yield from (reading.dressing for reading in readings if reading.dressing is not None)
    left_out = [reading for reading in readings if reading.dressing is None]
    doubtful = sum(bool(reading.unread) for reading in readings) - len(left_out)
    if left_out:
        first = left_out[0]
        why = next((f"line {one.line}: {one}" for one in first.unread), f"line {first.line}")
        _tell(path, f"{len(left_out)} of {len(readings)} dressings left out, the first at {why}")
    if doubtful:
        _tell(path, f"{doubtful} of {len(readings)} dressings not wholly understood; see read")


def _tell(path: Path, what: str) -> None:
    from variants.text import printable

    click.echo(printable(f"{path}: {what}"), err=True)
