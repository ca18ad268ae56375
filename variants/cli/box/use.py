"""`flykin box use`: what was used up."""

from __future__ import annotations

import click

from variants.cli.box.options import box_option, joined


@click.command("use", short_help="Take off what you used.")
@click.argument("item")
@click.argument("amount", nargs=-1, required=True)
@click.option("--note", default="", help="What for.")
@box_option
def command(
    item: str, amount: tuple[str, ...], note: str, box: str, folders: tuple[str, ...]
) -> None:
    """Take AMOUNT of ITEM off the box: 2 feathers, 30 cm, 1 pinch, or all.

    A bare number counts in the unit of the box.

    \b
    Example:
      flykin box use "cock neck ginger" 2 --note "a dozen" --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.rulebook import load_rulebook
    from variants.views.box_items import entry_lines
    from variants.views.changes import change_lines

    store = BoxStore(box, load_rulebook(folders).trade)
    entry = store.use(item, joined(amount), note=note)
    click.echo("\n".join([*change_lines(entry.changes), *entry_lines(entry)]))
