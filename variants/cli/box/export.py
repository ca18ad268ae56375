"""`flykin box export`: the box for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from variants.cli.box.options import box_option

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}


@click.command("export", short_help="Write the box as CSV or XLSX.")
@click.argument("out")
@click.option("--separator", type=click.Choice(tuple(SEPARATORS)), default="comma",
              show_default=True, help="What parts the cells of a CSV file.")  # fmt: skip
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@box_option
def command(out: str, separator: str, force: bool, box: str, folders: tuple[str, ...]) -> None:
    """Write the box with all its columns to OUT, a workbook (.xlsx) or CSV.

    Text that a spreadsheet would run is marked with an apostrophe; reading it again takes it off.

    \b
    Example:
      flykin box export box.xlsx --box examples/box.csv
    """
    from variants.box import write_bytes_atomically
    from variants.box.export import load_table, to_csv, to_workbook
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    target = Path(out)
    if target.exists() and not force:
        raise click.BadParameter(f"'{out}' is there: --force writes over it", param_hint="OUT")
    if target.exists() and target.resolve() == Path(box).resolve():
        raise click.BadParameter("that is the box itself", param_hint="OUT")
    if target.suffix.lower() not in (".csv", ".xlsx"):
        raise click.BadParameter("name a file that ends in .csv or .xlsx", param_hint="OUT")
    held = read_box(box, load_rulebook(folders).trade)
    table = load_table(box)
    is_book = target.suffix.lower() == ".xlsx"
    raw = to_workbook(table) if is_book else to_csv(table, SEPARATORS[separator])
    write_bytes_atomically(target, raw)
    click.echo(f"{out}: {len(held.items)} items")
