"""`flykin read`: dressings in the trade's plain words to dressing files."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.answers import entry_named, hook_sizes
from variants.cli.group import InputRefused

if TYPE_CHECKING:
    from variants.model import Dressing, Trade
    from variants.reading.words import Reading


@click.command("read", short_help="Dressings in plain words to dressing files.")
@click.argument("file")
@click.option("--style", help="The style, where the text states none.")
@click.option("--size", "--sizes", "sizes", help="Hook sizes, where the text states none: 12-16.")
@click.option("--out", metavar="FOLDER", help="Write a file for each dressing into FOLDER.")
@click.option("--json", "as_json", is_flag=True, help="Print what was read as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(
    file: str,
    style: str | None,
    sizes: str | None,
    out: str | None,
    as_json: bool,
    folders: tuple[str, ...],
) -> None:
    """Read dressings written in plain words from FILE and print them as dressing files.

    FILE holds lines such as "Body: peacock herl ribbed with fine gold wire" under a title, such
    parts running on in one line, or the handbook's order name, tag, tail, rib, body, hackle, wing,
    parted by tabs. A style that is not stated is told from title, hook and parts. What is filled in
    by custom and what is not understood is told, never guessed in silence.

    \b
    Example:
      flykin read examples/plain/weir-keeper.txt
    """
    from variants.reading import own_rules_folder, read_words, shown_name
    from variants.reading.words import load_glossary, read_plain
    from variants.rulebook import load_rulebook

    text, name = read_words(file), shown_name(file)
    trade = load_rulebook(folders).trade
    glossary = load_glossary([own_rules_folder(), *map(Path, folders)], trade)
    style_id = entry_named("--style", style, trade.style_names, "style").id if style else None
    readings = read_plain(text, glossary, style=style_id, sizes=hook_sizes(sizes), file=name)
    if as_json:
        _print_json(readings)
    elif out is not None:
        _write_all(readings, Path(out), trade)
    elif len(readings) == 1:
        _print_one(readings[0], trade)
    else:
        _print_summary(readings)
    if not any(reading.dressing for reading in readings):
        sys.exit(InputRefused.exit_code)


def _print_one(reading: Reading, trade: Trade) -> None:
    from variants.reading.words import dressing_text
    from variants.views.read_report import report_lines

    if reading.dressing is not None:
        click.echo(dressing_text(reading.dressing, trade), nl=False)
    click.echo("\n".join(report_lines(reading)), err=True)


def _print_summary(readings: tuple[Reading, ...]) -> None:
    from variants.views.read_report import summary_lines

    click.echo("\n".join(summary_lines(readings)))


def _write_all(readings: tuple[Reading, ...], folder: Path, trade: Trade) -> None:
    from variants.box import write_atomically
    from variants.reading.words import dressing_text
    from variants.views.read_report import report_lines

    if not folder.is_dir():
        raise click.BadParameter(f"'{folder}' is no folder", param_hint="--out")
    taken: set[str] = set()
    for reading in readings:
        if reading.dressing is not None:
            name = _file_name(reading.dressing, taken)
            write_atomically(folder / name, dressing_text(reading.dressing, trade))
            click.echo(f"{folder / name}: {reading.name}, confidence {reading.confidence:.2f}")
        if reading.unread or reading.dressing is None:
            click.echo("\n".join(report_lines(reading)), err=True)


def _file_name(dressing: Dressing, taken: set[str]) -> str:
    """Return a name no other dressing of the run has; letters and digits only, so it stays put."""
    words = "".join(letter if letter.isalnum() else " " for letter in dressing.name.lower())
    stem = "-".join(words.split())[:60] or "dressing"
    number = 1
    while (name := f"{stem}.toml" if number == 1 else f"{stem}-{number}.toml") in taken:
        number += 1
    taken.add(name)
    return name


def _print_json(readings: tuple[Reading, ...]) -> None:
    import json

    from variants.views.read_report import reading_json

    answer = {"version": 1, "dressings": [reading_json(reading) for reading in readings]}
    click.echo(json.dumps(answer, indent=2, ensure_ascii=False))
