"""`flykin box find`: do I own something like this, and where?"""

from __future__ import annotations

import sys
from typing import Any

import click

from variants.cli.answers import entry_named
from variants.cli.box.options import box_option, joined

NOTHING = 1


@click.command("find", short_help="Do I own something like this, and where?")
@click.argument("words", nargs=-1)
@click.option("--material", help="This material, and near it others of its class.")
@click.option("--colour", help="A colour of the tables, a hex value or lab(60, 5, 20).")
@click.option("--within", type=click.FloatRange(0, 100), default=6.0, show_default=True,
              help="How far a shade may stand from --colour, in dE (CIEDE2000).")  # fmt: skip
@click.option("--for", "part", help="What it should be on a fly, such as wing.")
@click.option("--size", type=click.IntRange(2, 24), help="The hook size it should suit.")
@click.option("--best", type=click.IntRange(1, 1000), default=10, show_default=True,
              help="How many answers to show.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@box_option
def command(words: tuple[str, ...], box: str, folders: tuple[str, ...], **options: Any) -> None:
    """Find things in the box by WORDS: any trade name, in any spelling, one or many.

    Exit code 1: there is nothing like it.

    \b
    Example:
      flykin box find gray duck --for wing --box examples/box.csv
    """
    from pathlib import Path

    from variants.box import read_colour
    from variants.box.item_search import ItemQuery, ItemSearch
    from variants.reading import read_box
    from variants.reading.words import load_glossary
    from variants.rulebook import load_rulebook, own_rules_folder

    said = joined(words)
    told = {name: options[name] for name in ("material", "colour", "part", "size")}
    if not said and not any(told.values()):
        raise click.UsageError("Say what to look for, in words or by --material, --colour, --for.")
    rulebook = load_rulebook(folders)
    trade = rulebook.trade
    held = read_box(box, trade)
    material, part = told["material"], told["part"]
    wanted = ItemQuery(
        words=said,
        material=entry_named("--material", material, trade.material_names, "material")
        if material
        else None,
        colour=read_colour(told["colour"], trade, "--colour") if told["colour"] else None,
        within=options["within"],
        part=entry_named("--for", part, trade.part_names, "part of a fly") if part else None,
        size=options["size"],
    )
    finder = ItemSearch(rulebook, load_glossary([own_rules_folder(), *map(Path, folders)], trade))
    answers = finder.find(held, wanted)
    if options["as_json"]:
        import json

        from variants.views.box_items import found_json

        click.echo(json.dumps(found_json(answers, options["best"], box), indent=2,
                              ensure_ascii=False))  # fmt: skip
    else:
        from variants.views.box_items import found_lines

        lines = found_lines(answers, options["best"], _asked(said, told), rulebook.gauge)
        click.echo("\n".join(lines))
    if not answers:
        sys.exit(NOTHING)


def _asked(said: str, told: dict[str, Any]) -> str:
    """Return what was asked for, in words."""
    from variants.text import printable

    words = [f"“{said}”"] if said else []
    words += [str(told[name]) for name in ("colour", "material") if told[name]]
    if told["part"]:
        words.append(f"for the {told['part']}")
    if told["size"]:
        words.append(f"in size {told['size']}")
    return printable(" ".join(words))
