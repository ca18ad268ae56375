"""`flykin box correct`: set right what the box says of a thing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from variants.cli.box.options import box_option, cell_options, cells_of


@click.command("correct", short_help="Set right what the box says of a thing.")
@click.argument("item")
@click.option("--rename", metavar="NAME", help="Another name for it.")
@cell_options
@box_option
def command(
    item: str, rename: str | None, box: str, folders: tuple[str, ...], **options: Any
) -> None:
    """Set cells of ITEM right; an empty text empties a cell.

    \b
    Example:
      flykin box correct "cock neck ginger" --amount "40 feathers" --place "" \\
             --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.box.new_item import load_item_parser
    from variants.rulebook import load_rulebook
    from variants.views.box_items import entry_lines, portion_lines
    from variants.views.changes import change_lines

    cells = cells_of(options)
    if rename is not None:
        cells["item"] = rename
    if not cells:
        raise click.UsageError("Say what is to be set right, such as --amount '40 feathers'.")
    parser = load_item_parser(load_rulebook(folders), [Path(folder) for folder in folders])
    store = BoxStore(box, parser.trade)
    held = store.read()
    row = store.row(item)
    material = parser.find_material(cells.get("material") or row["material"])
    told = []
    for name in ("amount", "price_for"):
        if cells.get(name) and material is not None:
            found = parser.convert_amount(cells[name], material)
            cells[name] = found.amount
            told += portion_lines(found)
    entry = store.correct(item, cells, version=held.version)
    click.echo("\n".join([*change_lines(entry.changes), *told, *entry_lines(entry)]))
