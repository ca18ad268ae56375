"""`flykin check`: validate dressings, boxes, batches, prices, gauges, regions and rule folders."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.group import InputRefused

if TYPE_CHECKING:
    from variants.rulebook import Rulebook

#: Sheets are files of these kinds; all else is TOML.
_SHEETS = (".csv", ".tsv", ".xlsx")


@click.command("check", short_help="Check any of your files, and folders of rules.")
@click.argument("files", nargs=-1, required=True)
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(files: tuple[str, ...], folders: tuple[str, ...]) -> None:
    """Check FILES, and tell what each of them is.

    Dressings, batches and regions are TOML; boxes, prices and gauges are sheets (CSV, TSV, XLSX),
    told apart by the names of their columns; a folder holds rules and tables.

    \b
    Example:
      flykin check examples/dressings/*.toml examples/box.csv
    """
    from variants.reading import InputError
    from variants.rulebook import load_rulebook

    rulebook = load_rulebook(folders)
    refused = 0
    for file in files:
        path = Path(file)
        try:
            if path.is_dir():
                found = _folder(path, folders)
            elif path.suffix.lower() in _SHEETS:
                found = _sheet(path, rulebook)
            else:
                found = _document(path, rulebook, folders)
            click.echo(f"{file}: good: {found}")
        except InputError as problem:
            refused += 1
            click.echo(str(problem), err=True)
    if refused:
        sys.exit(InputRefused.exit_code)


def _folder(path: Path, folders: Sequence[str]) -> str:
    from variants.geometry import load_layout
    from variants.regions import load_law
    from variants.rulebook import load_rulebook
    from variants.sheet import load_steps

    own = load_rulebook((*folders, path), with_cases=True)
    load_law(own.trade, (*folders, path))
    load_layout((*folders, path))
    load_steps(own.trade, (*folders, path))
    return f"{len(own.rules)} rules with those that come with Flykin"


def _sheet(path: Path, rulebook: Rulebook) -> str:
    from variants.geometry.gauge import read_gauge
    from variants.reading import header_of, read_box, read_sheet
    from variants.reading.prices import read_prices

    names = header_of(read_sheet(path))
    if "item" not in names and {"known", "read"} & names:
        return f"a gauge, {read_gauge(path).readings} readings"
    if "item" not in names and "price" in names:
        return f"a file of {len(read_prices(path, rulebook.trade).rows)} prices"
    return f"a box of {len(read_box(path, rulebook.trade).items)} items"


def _document(path: Path, rulebook: Rulebook, folders: Sequence[str]) -> str:
    from variants.reading import TomlDocument, dressing_of
    from variants.reading.batches import is_batch, read_batch
    from variants.reading.regions import is_region
    from variants.regions import load_law, places_of

    document = TomlDocument.read(path)
    if is_region(document):
        law = load_law(rulebook.trade, folders)
        region = places_of(document, rulebook.trade, law)[0].region
        return f"the region “{region.name}”, {len(region.naturals)} naturals"
    if is_batch(document):
        batch = read_batch(path, rulebook.trade)
        flies = sum(one.count for one in batch.flies)
        return f"the batch “{batch.name}”, {flies} flies of {len(batch.flies)} kinds"
    dressing = dressing_of(document, rulebook.trade)
    style = rulebook.trade.styles[dressing.style].name
    return f"the dressing “{dressing.name}”, {style}, {len(dressing.parts)} parts"
