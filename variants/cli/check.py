"""`flykin check`: validate dressings, boxes, regions and rule folders."""

from __future__ import annotations

import sys

import click

from variants.cli.group import InputRefused


@click.command("check", short_help="Check dressings, boxes, regions and rules.")
@click.argument("files", nargs=-1, required=True)
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(files: tuple[str, ...], folders: tuple[str, ...]) -> None:
    """Check FILES: dressings and regions (.toml), boxes (.csv), folders of rules.

    \b
    Example:
      flykin check examples/dressings/*.toml examples/box.csv
    """
    from pathlib import Path

    from variants.geometry import load_layout
    from variants.reading import InputError, TomlDocument, dressing_of, read_box
    from variants.reading.regions import is_region
    from variants.regions import load_law, places_of
    from variants.rulebook import load_rulebook
    from variants.sheet import load_steps

    rulebook = load_rulebook(folders)
    refused = 0
    for file in files:
        path = Path(file)
        try:
            if path.is_dir():
                own = load_rulebook((*folders, path), with_cases=True)
                load_law(own.trade, (*folders, path))
                load_layout((*folders, path))
                load_steps(own.trade, (*folders, path))
                found = f"{len(own.rules)} rules with those that come with Flykin"
            elif path.suffix.lower() == ".csv":
                found = f"a box of {len(read_box(path, rulebook.trade).items)} items"
            elif is_region(document := TomlDocument.read(path)):
                law = load_law(rulebook.trade, folders)
                region = places_of(document, rulebook.trade, law)[0].region
                found = f"the region “{region.name}”, {len(region.naturals)} naturals"
            else:
                dressing = dressing_of(document, rulebook.trade)
                style = rulebook.trade.styles[dressing.style].name
                found = f"the dressing “{dressing.name}”, {style}, {len(dressing.parts)} parts"
            click.echo(f"{file}: good: {found}")
        except InputError as problem:
            refused += 1
            click.echo(str(problem), err=True)
    if refused:
        sys.exit(InputRefused.exit_code)
