"""`flykin draw`: the fly drawn to scale, alone, beside its variant, or a plate of variants."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from variants.cli.answers import NO_VARIANT, variant_no
from variants.cli.gathering import gather
from variants.cli.pictures import write_picture
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options
from variants.views.columns import wrap

if TYPE_CHECKING:
    from variants.design import DesignProblem
    from variants.geometry import Layout
    from variants.model import Dressing, Variant
    from variants.pictures import Picture
    from variants.rulebook import Rulebook

#: So many letters of a note go on one line under a picture.
_NOTE_WIDTH = 44
_MOST_FLIES, _COLUMNS = 60, 4


@dataclass(frozen=True, slots=True)
class DrawOptions:
    """What the command was asked, as it was typed."""

    variant: int
    beside: bool
    on_plate: int | None
    view: Literal["profile", "front", "both"]
    patterns: bool
    out: str | None


@click.command("draw", short_help="Draw the fly to scale.")
@click.argument("dressings", metavar="DRESSING...", nargs=-1, required=True)
@click.option("--box", help="Draw a variant from this box: a CSV file, or - for standard input.")
@click.option("--variant", type=click.IntRange(1, 1000), default=1, show_default=True,
              help="Which of the closest variants.")  # fmt: skip
@click.option("--beside", is_flag=True, help="Draw the dressing and the variant side by side.")
@click.option("--plate", "on_plate", type=click.IntRange(1, 60), metavar="N",
              help="Draw the N closest variants on one plate.")  # fmt: skip
@request_options
@region_options
@click.option("--view", type=click.Choice(("profile", "front", "both")), default="profile",
              show_default=True, help="From the side, from in front, or both.")  # fmt: skip
@click.option("--patterns", is_flag=True,
              help="Hatch by colour and add a key, for who doesn't see colours well.")  # fmt: skip
@click.option(
    "--out", metavar="FILE", help="Where to: .svg or .png; SVG on standard output without."
)
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(DrawOptions)
def command(
    dressings: tuple[str, ...],
    box: str | None,
    folders: tuple[str, ...],
    asked: RequestOptions,
    where: PlaceOptions,
    options: DrawOptions,
) -> None:
    """Draw DRESSING to scale, from the very numbers that the rules test.

    With a box its closest variant is drawn; --beside puts the dressing next to it and names what
    changed, --plate draws several. Several dressings, or a folder, make a plate of them as written.

    \b
    Example:
      flykin draw examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --beside --out beside.svg
    """
    from variants.cli.books import read_books, read_one
    from variants.design import build_problem
    from variants.geometry import load_layout
    from variants.model import Box
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    is_book = len(dressings) > 1 or Path(dressings[0]).is_dir()
    if box == "-" and "-" in dressings:
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    if box is None and (options.beside or options.on_plate):
        raise click.UsageError("--beside and --plate draw variants: name a --box.")
    if is_book and box is not None:
        raise click.UsageError("Variants are drawn of one dressing: name one, or leave out --box.")
    out = None if options.out is None else Path(options.out)
    if out is not None and out.suffix not in (".svg", ".png"):
        raise click.BadParameter(f"'{out}' should end in .svg or .png", param_hint="--out")
    layout = load_layout(folders)
    _place, rulebook, asked = apply_place(where, asked, load_rulebook(folders), folders)
    if is_book:
        flies = read_books(dressings, rulebook, rules=folders)
        write_picture(_draw_book(flies, rulebook, layout, asked, options), out)
        return
    base = read_one(dressings[0], rulebook, folders)
    stock = read_box(box, rulebook.trade) if box is not None else Box(())
    design = build_problem(asked.request(base, stock, rulebook), rulebook)
    write_picture(_draw_picture(design, layout, box is not None, options), out)


def _draw_book(
    flies: list[Dressing],
    rulebook: Rulebook,
    layout: Layout,
    asked: RequestOptions,
    options: DrawOptions,
) -> Picture:
    """Return a plate of dressings as they are written."""
    from variants.design import adapted_parts, build_problem
    from variants.model import Box
    from variants.pictures import draw_fly, plate

    if not 1 <= len(flies) <= _MOST_FLIES:
        raise click.UsageError(
            f"A plate holds 1 to {_MOST_FLIES} flies, and here are {len(flies)} dressings."
        )
    draw = partial(draw_fly, view=options.view, patterns=options.patterns)
    pictures, notes = [], []
    for fly in flies:
        design = build_problem(asked.request(fly, Box(()), rulebook), rulebook)
        pictures.append(draw(design, layout, captioned=False))
        style = rulebook.trade.styles[fly.style].name
        note = f"{style}, hook size {design.base['hook'].attributes['size']}"
        told = _water(design, adapted_parts(design.base, rulebook.trade.parts))
        notes.append([fly.name, *wrap(note + told, _NOTE_WIDTH)])
    return plate(pictures, notes, columns=min(_COLUMNS, len(pictures)))


def _draw_picture(
    design: DesignProblem, layout: Layout, has_box: bool, options: DrawOptions
) -> Picture:
    from variants.explain.wording import departure_words
    from variants.pictures import draw_fly, plate

    draw = partial(draw_fly, view=options.view, patterns=options.patterns)
    if not has_box:
        return draw(design, layout)
    caption = f"{design.request.base.name}, hook size {design.base['hook'].attributes['size']}"
    caption += _water(design)
    if options.on_plate:
        found = _variants(design, options.on_plate)
        pictures = [draw(design, layout, one, captioned=False) for one in found]
        notes = [_notes(design, one) for one in found]
        return plate(pictures, notes, columns=3, caption=caption)
    variant = variant_no(design, options.variant, "draw")
    if not options.beside:
        return draw(design, layout, variant)
    both = [
        draw(design, layout, one, captioned=False, stated=one is None) for one in (None, variant)
    ]
    heads = [
        ["as written"],
        [f"variant {variant.rank}, departs {departure_words(variant.departure)}"],
    ]
    return plate(both, heads, named=_named(design, variant), caption=caption)


def _water(design: DesignProblem, counts: str = "") -> str:
    """Return the water that flies are drawn for, and the counts that it changes."""
    if not design.request.water:
        return ""
    return f", {design.request.water} water{f': {counts}' if counts else ''}"


def _variants(design: DesignProblem, wanted: int) -> tuple[Variant, ...]:
    from variants.design.search import find_needed

    found = find_needed(design, wanted)
    if not found:
        click.echo("There is no variant to draw; see whynot.", err=True)
        sys.exit(NO_VARIANT)
    return found


def _notes(design: DesignProblem, variant: Variant) -> list[str]:
    from variants.explain.changes import find_changes
    from variants.explain.wording import departure_words

    told = [f"{change.part}: {change.words}" for change in find_changes(design, variant)]
    lines = [line for one in told for line in wrap(one, _NOTE_WIDTH)]
    heading = f"{variant.rank}, departs {departure_words(variant.departure)}"
    return [heading, *(lines or ["as written"])]


def _named(design: DesignProblem, variant: Variant) -> list[dict[str, str]]:
    """Return what is written of the changed parts: at the dressing's fly, and at the variant's."""
    from variants.design import adapted_counts
    from variants.explain.wording import part_name

    asked, used = {}, {}
    for part, one in variant.chosen.items():
        before, counts = design.base[part], adapted_counts(one)
        if one.identity == before.identity and not counts:
            continue
        name = part_name(design.rulebook.trade.parts, part)
        asked[part] = f"{name}: {before.words}"
        told = [one.words] if one.identity != before.identity else []
        used[part] = f"{name}: {', '.join(filter(None, [*told, counts]))}"
    return [asked, used]
