"""`flykin box add`: a new thing in the box; what is missing is asked for."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from variants.cli.box.options import box_option, cell_options, cells_of, joined


@click.command("add", short_help="Put a new thing into the box.")
@click.argument("name", nargs=-1)
@cell_options
@click.option("--ask/--no-ask", default=None,
              help="Ask for what is missing; by default where you sit at a terminal.")  # fmt: skip
@box_option
def command(
    name: tuple[str, ...],
    ask: bool | None,
    box: str,
    folders: tuple[str, ...],
    **options: Any,
) -> None:
    """Put a new thing into the box, by its NAME or what it is; a box that is not there is begun.

    What NAME tells of material and colour need not be told again. At a terminal the rest is asked
    for; Tab completes names. Amounts may be told as stuff is sold (1/2 neck, 2 packets): the screen
    says what that is taken to be.

    \b
    Example:
      flykin box add olive "seal's fur" --amount "1 packet" --place "fur shelf" \\
             --box box.csv
    """
    from variants.box import BoxStore
    from variants.box.new_item import load_item_parser
    from variants.rulebook import load_rulebook
    from variants.views.box_items import added_lines

    parser = load_item_parser(load_rulebook(folders), [Path(folder) for folder in folders])
    cells = cells_of(options)
    if name:
        cells["item"] = joined(name)
    is_asked = sys.stdin.isatty() if ask is None else ask
    store = BoxStore(box, parser.trade)
    held = store.read() if Path(box).exists() else None
    if is_asked:
        from variants.cli.box.asking import asked_cells

        cells = asked_cells(cells, parser)
    new = parser.parse(cells, held.box if held else None)
    if is_asked and new.duplicates and not click.confirm(_another(new.duplicates), default=True):
        raise click.Abort
    entry = store.add(new.cells, version=held.version if held else None)
    click.echo("\n".join(added_lines(new, entry, parser.rulebook.gauge)))


def _another(alike: Any) -> str:
    from variants.views.box_items import alike_lines

    return "\n".join(alike_lines(alike)) + "\nAdd another one?"
