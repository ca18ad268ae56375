"""`flykin whynot`: what keeps a dressing from being tied, and what would help."""

from __future__ import annotations

from dataclasses import dataclass

import click

from variants.cli.gathering import gather
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options


@dataclass(frozen=True, slots=True)
class WhynotOptions:
    """What the command was asked, as it was typed."""

    at_most: float | None
    as_json: bool


@click.command("whynot", short_help="Why a dressing can't be tied, and what would help.")
@click.argument("dressing")
@click.option("--box", required=True, help="Your box: a CSV file, or - for standard input.")
@request_options
@region_options
@click.option("--at-most", type=click.FloatRange(0), metavar="DEPARTURE",
              help="What departs more is another fly.  [default: 1.0, a convention]")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(WhynotOptions)
def command(
    dressing: str,
    box: str,
    folders: tuple[str, ...],
    asked: RequestOptions,
    where: PlaceOptions,
    options: WhynotOptions,
) -> None:
    """Tell why DRESSING can't be tied from BOX: all that is in the way, and every way out.

    Each way out has been tried: with it, a variant exists.

    \b
    Example:
      flykin whynot examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --keep body
    """
    from variants.cli.books import read_one
    from variants.design import build_problem
    from variants.design.search import search
    from variants.explain import find_all_conflicts, find_repairs
    from variants.reading import read_box
    from variants.rulebook import load_rulebook
    from variants.views.whynot import tieable_lines, whynot_json, whynot_lines

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    rulebook = load_rulebook(folders)
    _place, rulebook, asked = apply_place(where, asked, rulebook, folders)
    base = read_one(dressing, rulebook, folders)
    request = asked.request(base, read_box(box, rulebook.trade), rulebook)
    design = build_problem(request, rulebook)
    found = search(design, 1).variants
    variant = found[0] if found else None
    ceiling = rulebook.conventions.ceiling
    if options.at_most is not None:
        ceiling = round(1000 * options.at_most)
    why = None if variant else find_all_conflicts(design)
    ways = find_repairs(design, why, ceiling=ceiling) if why else []
    if options.as_json:
        import json

        told = whynot_json(design, why, ways, variant, ceiling)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    elif variant is not None:
        click.echo("\n".join(tieable_lines(design, variant, ceiling)))
    elif why is not None:
        click.echo("\n".join(whynot_lines(design, why, ways)))
