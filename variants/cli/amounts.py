"""`flykin amounts`: what flies use of each material, and how many the box gives."""

from __future__ import annotations

from dataclasses import dataclass

import click

from variants.cli.answers import variant_no
from variants.cli.gathering import gather
from variants.cli.requests import RequestOptions, request_options


@dataclass(frozen=True, slots=True)
class AmountsOptions:
    """What the command was asked, as it was typed."""

    variant: int
    flies: int
    as_json: bool
    folders: tuple[str, ...]


@click.command("amounts", short_help="What a fly uses, and how many the box gives.")
@click.argument("dressing")
@click.option("--box", help="Reckon a variant from this box: a CSV file, or - for standard input.")
@click.option("--variant", type=click.IntRange(1, 1000), default=1, show_default=True,
              help="Which of the closest variants.")  # fmt: skip
@request_options
@click.option("--flies", type=click.IntRange(1, 100_000), default=1, show_default=True,
              help="For so many flies.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(AmountsOptions)
def command(dressing: str, box: str | None, asked: RequestOptions, options: AmountsOptions) -> None:
    """Reckon what DRESSING uses: stems, barbs, strands, dubbing and thread.

    Without a box the dressing is reckoned as written; with one, the closest variant, and how many
    of it the box gives.

    \b
    Example:
      flykin amounts examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --flies 12
    """
    from variants.cli.books import read_one
    from variants.design import build_problem
    from variants.explain.wording import as_written
    from variants.geometry import fly_geometry, load_layout, uses_of
    from variants.model import Box
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    rulebook = load_rulebook(options.folders)
    layout = load_layout(options.folders)
    base = read_one(dressing, rulebook, options.folders)
    stock = read_box(box, rulebook.trade) if box is not None else Box(())
    design = build_problem(asked.request(base, stock, rulebook), rulebook)
    variant, what = None, as_written(design)
    if box is not None:
        variant = variant_no(design, options.variant, "reckon")
        what = f"variant {variant.rank}"
    geometry = fly_geometry(design, layout, variant)
    chosen = variant.chosen if variant else design.base
    uses = uses_of(geometry, chosen, layout)
    if options.as_json:
        import json

        from variants.views.amounts import amounts_json

        told = amounts_json(design, chosen, geometry, uses, options.flies)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
        return
    from variants.views.amounts import amounts_lines

    click.echo("\n".join(amounts_lines(design, geometry, uses, options.flies, what)))
