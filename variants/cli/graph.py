"""`flykin graph`: how variants descend, as a picture or as a page to walk through."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.answers import NO_VARIANT
from variants.cli.gathering import gather
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options

if TYPE_CHECKING:
    from variants.design import DesignProblem
    from variants.explain.derivation import Descent
    from variants.geometry import Layout
    from variants.model import Variant

_DRAWN = (".svg", ".html")


@dataclass(frozen=True, slots=True)
class GraphOptions:
    """What the command was asked, as it was typed."""

    best: int
    alike: bool
    out: str | None


@click.command("graph", short_help="Draw how variants descend from a dressing.")
@click.argument("dressing")
@click.option("--box", required=True, help="Your box: a CSV file, or - for standard input.")
@request_options
@click.option("--best", type=click.IntRange(1, 200), default=12, show_default=True,
              help="How many variants to show.")  # fmt: skip
@click.option("--all", "alike", is_flag=True,
              help="The closest whatever they change, not one of each set of changes.")  # fmt: skip
@region_options
@click.option("--out", metavar="FILE",
              help="Where to: .html, .svg, .json, .graphml, .dot or .mmd; SVG on standard output"
              " without.")  # fmt: skip
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(GraphOptions)
def command(
    dressing: str,
    box: str,
    folders: tuple[str, ...],
    asked: RequestOptions,
    where: PlaceOptions,
    options: GraphOptions,
) -> None:
    """Draw how the variants of DRESSING descend from it, one substitution at a time.

    A file that ends in .html is a page of its own: zoom and drag, and choose a fly to read its
    dressing and why it may.

    \b
    Example:
      flykin graph examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --out descent.html
    """
    from variants.cli.books import read_one
    from variants.design import build_problem
    from variants.design.search import search
    from variants.explain.derivation import EXPORTS, trace_descent
    from variants.geometry import load_layout
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    out = None if options.out is None else Path(options.out)
    if out is not None and out.suffix not in (*_DRAWN, *EXPORTS):
        endings = ", ".join((*_DRAWN, *EXPORTS))
        raise click.BadParameter(f"'{out}' should end in {endings}", param_hint="--out")
    layout = load_layout(folders)
    _place, rulebook, asked = apply_place(where, asked, load_rulebook(folders), folders)
    base = read_one(dressing, rulebook, folders)
    stock = read_box(box, rulebook.trade)
    design = build_problem(asked.request(base, stock, rulebook), rulebook)
    found = search(design, options.best, not options.alike).variants
    if not found:
        click.echo("There is no variant to draw; see whynot.", err=True)
        sys.exit(NO_VARIANT)
    whole = trace_descent(design, found)
    suffix = ".svg" if out is None else out.suffix
    if suffix in EXPORTS:
        told = EXPORTS[suffix](whole.graph)
    else:
        told = _drawn(design, layout, whole, found, as_page=suffix == ".html")
    if out is None:
        click.echo(told, nl=False)
        return
    from variants.box import write_atomically

    write_atomically(out, told)


def _drawn(
    design: DesignProblem,
    layout: Layout,
    whole: Descent,
    found: tuple[Variant, ...],
    *,
    as_page: bool,
) -> str:
    from variants.explain.derivation import BASE
    from variants.pictures.charts import derivation_svg, fly_pictures
    from variants.web.documents import derivation_html

    pictures = fly_pictures(design, layout, whole)
    if as_page:
        return derivation_html(design, whole.graph, BASE, found, pictures)
    return derivation_svg(whole.graph, BASE, pictures, design.request.base.name)
