"""`flykin sheet`: a bench sheet for one fly, or the kit of a class, as HTML or PDF."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.answers import variant_no
from variants.cli.gathering import gather
from variants.cli.places import PlaceOptions, apply_place, region_options
from variants.cli.requests import RequestOptions, request_options

if TYPE_CHECKING:
    from variants.views.sheet import BenchSheet
    from variants.web.documents import Plate


@dataclass(frozen=True, slots=True)
class SheetOptions:
    """What the command was asked, as it was typed."""

    variant: int
    students: int | None
    each: int
    paper: str
    out: str | None
    as_json: bool


@click.command("sheet", short_help="A bench sheet to tie from, or a class's kit.")
@click.argument("dressing")
@click.option("--box", help="Tie a variant from this box: a CSV file, or - for standard input.")
@click.option("--variant", type=click.IntRange(1, 1000), default=1, show_default=True,
              help="Which of the closest variants.")  # fmt: skip
@request_options
@click.option("--students", type=click.IntRange(1, 1000), default=None,
              help="Add the kit of a class of so many.")  # fmt: skip
@click.option("--each", type=click.IntRange(1, 1000), default=1, show_default=True,
              help="How many flies each of them ties.")  # fmt: skip
@region_options
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True,
              help="The paper of a PDF.")  # fmt: skip
@click.option("--out", metavar="FILE",
              help="Where to: .html or .pdf; HTML on standard output without.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print what the sheet tells as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(SheetOptions)
def command(
    dressing: str,
    box: str | None,
    folders: tuple[str, ...],
    asked: RequestOptions,
    where: PlaceOptions,
    options: SheetOptions,
) -> None:
    """Write a sheet to tie DRESSING from: steps, lengths for the hook, and where things lie.

    Without a box the dressing is told as written; with one, its closest variant, what stands in
    for what, and why.

    \b
    Example:
      flykin sheet examples/dressings/ferrymans-dun.toml \\
             --box examples/box.csv --students 6 --out dun.pdf
    """
    from variants.cli.books import read_one
    from variants.design import build_problem
    from variants.geometry import load_layout
    from variants.model import Box
    from variants.reading import read_box
    from variants.regions import load_law
    from variants.rulebook import load_rulebook
    from variants.views.sheet import bench_sheet, load_steps, sheet_json
    from variants.web.documents import plates_of

    if dressing == box == "-":
        raise click.UsageError("Only one of DRESSING and --box can be standard input.")
    out = None if options.out is None else Path(options.out)
    if out is not None and options.as_json:
        raise click.UsageError("--json goes to standard output: leave --out out.")
    if out is not None and out.suffix not in (".html", ".pdf"):
        raise click.BadParameter(f"'{out}' should end in .html or .pdf", param_hint="--out")
    layout = load_layout(folders)
    place, rulebook, asked = apply_place(where, asked, load_rulebook(folders), folders)
    law, table = load_law(rulebook.trade, folders), load_steps(rulebook.trade, folders)
    base = read_one(dressing, rulebook, folders)
    stock = read_box(box, rulebook.trade) if box is not None else Box(())
    design = build_problem(asked.request(base, stock, rulebook), rulebook)
    variant = variant_no(design, options.variant, "tie") if box is not None else None
    sheet = bench_sheet(
        design, layout, table, law, variant,
        place=place, students=options.students or 0, flies_each=options.each,
    )  # fmt: skip
    if options.as_json:
        import json

        click.echo(json.dumps(sheet_json(sheet), indent=2, ensure_ascii=False))
        return
    _write(sheet, plates_of(design, layout, variant), out, options.paper)


def _write(sheet: BenchSheet, plates: list[Plate], out: Path | None, paper: str) -> None:
    from variants.web.documents import PdfUnavailableError, sheet_html, sheet_pdf

    if out is None:
        click.echo(sheet_html(sheet, plates), nl=False)
    elif out.suffix == ".html":
        from variants.box import write_atomically

        write_atomically(out, sheet_html(sheet, plates))
    else:
        from variants.box import write_bytes_atomically

        try:
            made = sheet_pdf(sheet, plates, paper)
        except PdfUnavailableError as problem:
            raise click.UsageError(str(problem)) from None
        write_bytes_atomically(out, made)
