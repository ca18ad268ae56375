"""`flykin batch`: many flies from one box, shared out, in bench order."""

from __future__ import annotations

import sys
from dataclasses import dataclass

import click

from variants.cli.answers import water_named
from variants.cli.gathering import gather

NOT_ALL = 1


@dataclass(frozen=True, slots=True)
class BatchOptions:
    """What the command was asked, as it was typed."""

    water: str | None
    students: int | None
    price_file: str | None
    commit: bool
    yes: bool
    as_json: bool
    folders: tuple[str, ...]


@click.command("batch", short_help="Share one box out among the flies you want.")
@click.argument("file")
@click.option("--box", required=True, help="Your box: a CSV file.")
@click.option("--water", help="How fast the water runs: slow, medium or fast.")
@click.option("--students", type=click.IntRange(1, 1000),
              help="A class: each of so many ties what FILE wants.")  # fmt: skip
@click.option("--prices", "price_file", metavar="FILE",
              help="What a shop asks: a sheet as buy takes it.")  # fmt: skip
@click.option("--commit", is_flag=True, help="Write what the batch takes off the box.")
@click.option("--yes", is_flag=True, help="Write it off without asking.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(BatchOptions)
def command(file: str, box: str, options: BatchOptions) -> None:
    """Plan the flies that FILE wants from BOX: most flies first, then the least departure.

    What the box lacks comes as a shopping list. For a class, each student ties what FILE wants, and
    the kit says what is laid out in all and at each place.

    With --commit what they take is written off the box; a journal beside it remembers. Where the
    box gives fewer flies than FILE wants, or something goes empty, that is told and asked first.

    \b
    Example:
      flykin batch examples/batch.toml --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.geometry import load_layout
    from variants.reading import read_box
    from variants.reading.batches import read_batch
    from variants.reading.prices import Prices, read_prices
    from variants.rulebook import load_rulebook
    from variants.survey.batches import plan_batch
    from variants.survey.class_kit import scale_for_class
    from variants.survey.shopping import make_shopping_list

    water_named(options.water)
    if options.commit and box == "-":
        raise click.UsageError("--commit writes to the box: name its file.")
    rulebook = load_rulebook(options.folders)
    layout = load_layout(options.folders)
    students = options.students or 0
    batch = scale_for_class(read_batch(file, rulebook.trade), students or 1)
    prices = Prices({})
    if options.price_file:
        prices = read_prices(options.price_file, rulebook.trade)
    store = BoxStore(box, rulebook.trade) if options.commit else None
    held = store.read() if store else None
    stock = held.box if held else read_box(box, rulebook.trade)
    plan = plan_batch(batch.flies, stock, rulebook, layout, options.water)
    bought = make_shopping_list(plan, prices)
    if options.as_json:
        import json

        from variants.views.batch import batch_json

        click.echo(
            json.dumps(batch_json(batch, plan, bought, students), indent=2, ensure_ascii=False)
        )
    else:
        from variants.views.batch import batch_lines

        items = len(stock.items)
        lines = batch_lines(batch, plan, rulebook.trade, items, bought, students)
        click.echo("\n".join(lines))
    if not plan.tied:
        sys.exit(NOT_ALL)
    if store and held:
        from variants.geometry import find_write_off

        found = find_write_off(plan.tied)
        if not options.yes and (plan.short or found.has_to_be_asked):
            from variants.views.batch import write_off_lines

            click.echo("\n".join(["", *write_off_lines(plan, found, rulebook.trade)]), err=True)
            click.confirm(f"Write off {box} what the flies take?", abort=True, err=True)
        entry = store.take(found.takes, batch.name, version=held.version)
        click.echo(f"Written off {box}: entry {entry.number} of its journal.", err=True)
