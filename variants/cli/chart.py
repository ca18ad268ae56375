"""`flykin chart`: proportions against hook size, the box at a glance, a departure part by part."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import click

from variants.cli.answers import NO_VARIANT, entry_named, hook_named, hook_sizes
from variants.cli.gathering import gather
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options


@click.group("chart", short_help="Charts: proportions, the box, a departure.")
def command() -> None:
    """Draw a chart as SVG.

    \b
    Example:
      flykin chart proportions --style "dry upright" --out dry.svg
    """


@dataclass(frozen=True, slots=True)
class ProportionsOptions:
    """What the command was asked, as it was typed."""

    sizes: str
    out: str | None
    folders: tuple[str, ...]


@command.command("proportions", short_help="How long each part is, by hook size.")
@click.option("--style", required=True, help="Style of the fly, such as 'dry upright'.")
@click.option("--size", "--sizes", "sizes", default="10-18", show_default=True,
              help="Hook sizes, such as 14 or 10-18.")  # fmt: skip
@click.option("--hook", default="dry fly hook", show_default=True, help="Model of hook.")
@click.option("--out", metavar="FILE", help="Where to: .svg; standard output without.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(ProportionsOptions)
def proportions(style: str, hook: str, options: ProportionsOptions) -> None:
    """Draw how long each part of a style is on each hook size, and what is still right.

    \b
    Example:
      flykin chart proportions --style "dry upright" --out dry.svg
    """
    from variants.geometry.targets import targets
    from variants.pictures.charts import proportions_svg
    from variants.rulebook import load_rulebook

    out = _out(options.out)
    rulebook = load_rulebook(options.folders)
    kind = entry_named("--style", style, rulebook.trade.style_names, "style")
    model = hook_named(hook, rulebook.trade)
    found = targets(rulebook, kind.id, hook_sizes(options.sizes), model)
    if not found:
        problem = "no rule of this style tells a length, or the scale lacks these sizes"
        raise click.BadParameter(problem, param_hint="--size")
    _write(proportions_svg(found, rulebook.trade, f"{kind.name} on the {model.name}"), out)


@command.command("box", short_help="What the box holds, by material and colour.")
@click.argument("box")
@click.option("--out", metavar="FILE", help="Where to: .svg; standard output without.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def box(box: str, out: str | None, folders: tuple[str, ...]) -> None:
    """Draw what BOX holds: a row for each class of stuff, a column for each colour family.

    \b
    Example:
      flykin chart box examples/box.csv --out box.svg
    """
    from variants.explain.wording import pluralize
    from variants.pictures.charts import box_svg
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    where = _out(out)
    trade = load_rulebook(folders).trade
    stock = read_box(box, trade)
    if not stock.items:
        raise click.BadParameter("the box is empty", param_hint="BOX")
    name = "the box" if box == "-" else Path(box).stem
    _write(
        box_svg(stock, trade, f"{name}: {pluralize(len(stock.items), 'thing')} at a glance"), where
    )


@dataclass(frozen=True, slots=True)
class DepartureOptions:
    """What the command was asked, as it was typed."""

    best: int
    different: bool
    out: str | None


@command.command("departure", short_help="What each part adds to the departure.")
@click.argument("dressing")
@click.option("--box", required=True, help="Your box: a CSV file, or - for standard input.")
@request_options
@click.option("--best", type=click.IntRange(1, 100), default=6, show_default=True,
              help="How many variants to show.")  # fmt: skip
@region_options
@click.option("--different", is_flag=True, help="Only the best variant of each set of changes.")
@click.option("--out", metavar="FILE", help="Where to: .svg; standard output without.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(DepartureOptions)
def departure(
    dressing: str,
    box: str,
    folders: tuple[str, ...],
    asked: RequestOptions,
    where: PlaceOptions,
    options: DepartureOptions,
) -> None:
    """Draw what each part adds to the departure of the closest variants of DRESSING.

    \b
    Example:
      flykin chart departure examples/dressings/tenter-mill-quill.toml \\
             --box examples/box.csv --out departure.svg
    """
    from variants.cli.books import read_one
    from variants.design import build_problem
    from variants.design.search import search
    from variants.pictures.charts import departure_svg
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    out = _out(options.out)
    _place, rulebook, asked = apply_place(where, asked, load_rulebook(folders), folders)
    base = read_one(dressing, rulebook, folders)
    stock = read_box(box, rulebook.trade)
    design = build_problem(asked.request(base, stock, rulebook), rulebook)
    found = search(design, options.best, options.different).variants
    if not found:
        click.echo("There is no variant to draw; see whynot.", err=True)
        sys.exit(NO_VARIANT)
    _write(departure_svg(design, found), out)


def _out(name: str | None) -> Path | None:
    if name is None:
        return None
    out = Path(name)
    if out.suffix != ".svg":
        raise click.BadParameter(f"'{out}' should end in .svg", param_hint="--out")
    return out


def _write(svg: str, out: Path | None) -> None:
    if out is None:
        click.echo(svg, nl=False)
        return
    from variants.box import write_atomically

    write_atomically(out, svg)
