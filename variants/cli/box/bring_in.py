"""`flykin box import`: someone's list into the box, looked at first."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from variants.cli.box.options import box_option
from variants.cli.group import InputRefused

if TYPE_CHECKING:
    from variants.box.list_import import ListReader


@click.command("import", short_help="Take a spreadsheet into the box, looked at first.")
@click.argument("file")
@click.option("--map", "told", multiple=True, metavar="HEADER=COLUMN",
              help="What a column of theirs is; an empty COLUMN leaves it out.")  # fmt: skip
@click.option("--fill", multiple=True, metavar="COLUMN",
              help="Empty cells take the value above, as merged cells leave them.")  # fmt: skip
@click.option("--sheet", default="", help="Which sheet of a workbook; the first by default.")
@click.option("--correct", "may_correct", is_flag=True,
              help="Set things that are in the box right from the list.")  # fmt: skip
@click.option("--leave-out", is_flag=True, help="Leave out rows that are not understood.")
@click.option("--dry-run", is_flag=True, help="Look at it only; nothing is written.")
@click.option("--yes", is_flag=True, help="Write without asking.")
@box_option
def command(file: str, box: str, folders: tuple[str, ...], **options: Any) -> None:
    """Take the rows of FILE (CSV or XLSX) into the box; a box that is not there is begun.

    First it tells what each column is taken for and what was guessed at. Titles above the header,
    merged header cells, decimal commas and units in the header are understood; columns of their own
    are kept. All rows go in, or none.

    \b
    Example:
      flykin box import examples/lists/shed.csv --box box.csv --dry-run
    """
    from variants.box import BoxStore
    from variants.box.item_search import DuplicateIndex
    from variants.rulebook import load_rulebook
    from variants.views.box_import import import_lines
    from variants.views.box_items import entry_lines

    rulebook = load_rulebook(folders)
    reader = _reader(rulebook.trade, folders)
    found = reader.read(
        file, told=_pairs(options["told"]), fill=_columns(options["fill"]), sheet=options["sheet"]
    )
    store = BoxStore(box, rulebook.trade)
    held = store.read() if Path(box).exists() else None
    duplicates = DuplicateIndex(held.box if held else None)
    alike = {row.line: duplicates.find(row.item) for row in found.rows if row.item is not None}
    click.echo("\n".join(import_lines(found, held.box if held else None, box, alike)))
    good = [row.values for row in found.rows if row.item is not None]
    if found.faults and not (options["leave_out"] and good):
        click.echo("Nothing is written. --leave-out leaves out what is not understood.", err=True)
        sys.exit(InputRefused.exit_code)
    if options["dry_run"]:
        click.echo("A dry run: nothing is written.")
        return
    if not options["yes"]:
        click.confirm(f"Take {len(good)} rows into {box}?", abort=True)
    entry = store.import_rows(
        good,
        may_correct=options["may_correct"],
        note=Path(file).name,
        version=held.version if held else None,
    )
    click.echo("\n".join(entry_lines(entry)))


def _reader(trade: Any, folders: tuple[str, ...]) -> ListReader:
    from variants.box.list_columns import read_column_words
    from variants.box.list_import import ListReader
    from variants.box.sold_as import read_sold_as
    from variants.reading.words import load_glossary
    from variants.rulebook import own_rules_folder

    own = [own_rules_folder(), *map(Path, folders)]
    return ListReader(trade, load_glossary(own, trade), read_column_words(own), read_sold_as(own))


def _pairs(told: tuple[str, ...]) -> dict[str, str]:
    pairs = {}
    for pair in told:
        header, equals, column = pair.rpartition("=")
        if not equals or not header.strip():
            raise click.BadParameter(f"write HEADER=COLUMN, not '{pair}'", param_hint="--map")
        pairs[header.strip()] = column.strip()
    return pairs


def _columns(names: tuple[str, ...]) -> list[str]:
    from variants.cli.answers import known_word
    from variants.reading import COLUMNS

    for name in names:
        known_word("--fill", name.lower(), COLUMNS)
    return [name.lower() for name in names]
