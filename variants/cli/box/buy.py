"""`flykin box buy`: more of what is in the box."""

from __future__ import annotations

from pathlib import Path

import click

from variants.cli.box.options import box_option, joined


@click.command("buy", short_help="Add what you bought of a thing that is in the box.")
@click.argument("item")
@click.argument("amount", nargs=-1, required=True)
@click.option("--price", default="", help="What it cost.")
@click.option("--note", default="", help="What to remember.")
@box_option
def command(
    item: str,
    amount: tuple[str, ...],
    price: str,
    note: str,
    box: str,
    folders: tuple[str, ...],
) -> None:
    """Add AMOUNT to ITEM: 25 hooks, 10 m, 1 packet; with its price.

    \b
    Example:
      flykin box buy "dry hooks 14" 2 packets --price 6.50 --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.box.sold_as import convert_sold_amount, read_sold_as
    from variants.rulebook import load_rulebook, own_rules_folder
    from variants.views.box_items import entry_lines, portion_lines
    from variants.views.changes import change_lines

    trade = load_rulebook(folders).trade
    store = BoxStore(box, trade)
    held = store.read()
    sold_as = read_sold_as([own_rules_folder(), *map(Path, folders)])
    there = held.box.item(store.row(item)["item"])
    said = joined(amount)
    told = convert_sold_amount(said, there.material, sold_as) if there else None
    entry = store.buy(
        item, told.amount if told else said, price=price, note=note, version=held.version
    )
    lines = change_lines(entry.changes) + (portion_lines(told) if told else [])
    click.echo("\n".join([*lines, *entry_lines(entry)]))
