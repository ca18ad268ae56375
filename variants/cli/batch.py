"""`flykin batch`: many flies from one box, shared out, in bench order."""

from __future__ import annotations

import sys
from typing import Any

import click

from variants.cli.answers import known_word

NOT_ALL = 1


@click.command("batch", short_help="Share one box out among the flies you want.")
@click.argument("file")
@click.option("--box", required=True, help="Your box: a CSV file.")
@click.option("--water", help="How fast the water runs: slow, medium or fast.")
@click.option("--commit", is_flag=True, help="Write what the batch takes off the box.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(file: str, box: str, **options: Any) -> None:
    """Plan the flies that FILE wants from BOX: most flies first, then the least departure.

    With --commit what they take is written off the box; a journal beside it remembers.

    \b
    Example:
      flykin batch examples/batch.toml --box examples/box.csv
    """
    from variants.amounts.batches import plan_batch
    from variants.geometry import load_layout
    from variants.keeping import Keeper
    from variants.reading import read_box
    from variants.reading.batches import read_batch
    from variants.rulebook import WATERS, load_rulebook

    known_word("--water", options["water"], WATERS)
    if options["commit"] and box == "-":
        raise click.UsageError("--commit writes to the box: name its file.")
    rulebook = load_rulebook(options["folders"])
    layout = load_layout(options["folders"])
    batch = read_batch(file, rulebook.trade)
    keeper = Keeper(box, rulebook.trade) if options["commit"] else None
    held = keeper.held() if keeper else None
    stock = held.box if held else read_box(box, rulebook.trade)
    plan = plan_batch(batch.flies, stock, rulebook, layout, options["water"])
    if keeper and held and plan.tied:
        from variants.amounts.bench import taken_by_item

        entry = keeper.take(taken_by_item(plan.tied), batch.name, version=held.version)
        click.echo(f"Written off {box}: entry {entry.number} of its journal.", err=True)
    if options["as_json"]:
        import json

        from variants.views.batch import batch_json

        click.echo(json.dumps(batch_json(batch, plan), indent=2, ensure_ascii=False))
    else:
        from variants.views.batch import batch_lines

        lines = batch_lines(batch, plan, rulebook.trade, len(stock.items))
        click.echo("\n".join(lines))
    if not plan.tied:
        sys.exit(NOT_ALL)
