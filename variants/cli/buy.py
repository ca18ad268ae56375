"""`flykin buy`: the purchases that make most of a book tieable."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from variants.cli.answers import hook_sizes, water_named
from variants.cli.gathering import gather
from variants.cli.progress import progress_bar

if TYPE_CHECKING:
    from variants.survey.purchases import Gain
    from variants.survey.wants import Want


@dataclass(frozen=True, slots=True)
class BuyOptions:
    """What the command was asked, as it was typed."""

    sizes: str | None
    water: str | None
    at_most: float | None
    largest: int
    price_file: str | None
    budget: float | None
    flies: int
    best: int
    style: str | None
    as_json: bool
    folders: tuple[str, ...]


@click.command("buy", short_help="Which purchase opens most of a book.")
@click.argument("book", nargs=-1, required=True)
@click.option("--box", required=True, help="Your box: a CSV file, or - for standard input.")
@click.option("--size", "--sizes", "sizes", help="Hook sizes to tie, such as 14 or 12-16.")
@click.option("--water", help="How fast the water runs: slow, medium or fast.")
@click.option("--at-most", type=click.FloatRange(0), metavar="DEPARTURE",
              help="Count a dressing as tieable only up to this departure."
                   "  [default: 1.0, a convention]")  # fmt: skip
@click.option("--sets", "largest", type=click.IntRange(1, 3), default=1, show_default=True,
              help="Try sets of up to so many purchases.")  # fmt: skip
@click.option("--prices", "price_file", metavar="FILE",
              help="What things cost: a sheet of material,colour,size,price.")  # fmt: skip
@click.option("--budget", type=click.FloatRange(0, min_open=True), help="What you may spend.")
@click.option("--flies", type=click.IntRange(1, 100_000), default=1, show_default=True,
              help="Reckon amounts for so many of each dressing.")  # fmt: skip
@click.option("--best", type=click.IntRange(1, 1000), default=8, show_default=True,
              help="How many to show.")  # fmt: skip
@click.option("--style", help="Style of dressings in plain words that state none.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(BuyOptions)
def command(book: tuple[str, ...], box: str, options: BuyOptions) -> None:
    """Tell which purchases open most dressings of BOOK, or bring them nearest to what is written.

    \b
    Example:
      flykin buy examples/dressings --box examples/box.csv \\
             --sets 2 --prices examples/prices.csv
    """
    from variants.cli.answers import entry_named
    from variants.cli.books import read_books
    from variants.geometry import load_layout
    from variants.reading import read_box
    from variants.reading.prices import read_prices
    from variants.rulebook import load_rulebook
    from variants.survey import Wishes
    from variants.survey.purchases import find_purchases
    from variants.survey.wants import find_wants

    water_named(options.water)
    if options.budget is not None and not options.price_file:
        raise click.UsageError("--budget needs --prices FILE: without prices nothing adds up.")
    rulebook = load_rulebook(options.folders)
    layout = load_layout(options.folders)
    stock = read_box(box, rulebook.trade)
    style = options.style
    if style is not None:
        style = entry_named("--style", style, rulebook.trade.style_names, "style").id
    dressings = read_books(book, rulebook, style=style, rules=options.folders)
    if not dressings:
        raise click.UsageError(f"There is no dressing in {', '.join(book)}.")
    price_file = options.price_file
    prices = None if price_file is None else read_prices(price_file, rulebook.trade)
    at_most = None if options.at_most is None else round(1000 * options.at_most)
    wishes = Wishes(hook_sizes(options.sizes), options.water)
    with progress_bar("trying purchases") as progress:
        found = find_purchases(
            dressings,
            stock,
            rulebook,
            wishes,
            at_most=at_most,
            largest_set=options.largest,
            prices=prices,
            budget=options.budget,
            most_sets=options.best,
            progress=progress,
        )

    def wanted(gain: Gain) -> list[Want]:
        return find_wants(gain, dressings, rulebook, layout, wishes, options.flies)

    if options.as_json:
        import json

        from variants.views.purchases import purchases_json

        told = purchases_json(found, options.best, rulebook, wanted)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
        return
    from variants.views.purchases import purchase_lines

    lines = purchase_lines(found, len(dressings), options.best, rulebook, wanted)
    click.echo("\n".join(lines))
