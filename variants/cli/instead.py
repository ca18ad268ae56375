"""`flykin instead`: what serves in place of a material that is not to be had."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.answers import entry_named

if TYPE_CHECKING:
    from variants.explain import StandInQuery
    from variants.model import Colour, Material
    from variants.rulebook import Rulebook


@click.command("instead", short_help="What serves in place of a material.")
@click.argument("material")
@click.option("--part", required=True, help="The part it is wanted for, such as hackle.")
@click.option("--style", required=True, help="The style of the fly, such as dry upright.")
@click.option("--colour", help="The colour wanted.")
@click.option("--box", help="Your box: only what it holds and has left is offered.")
@click.option("--best", type=click.IntRange(1, 100), default=5, show_default=True,
              help="How many answers to show.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(
    material: str,
    part: str,
    style: str,
    colour: str | None,
    box: str | None,
    best: int,
    as_json: bool,
    folders: tuple[str, ...],
) -> None:
    """Tell what serves in place of MATERIAL, the difference it makes, and what does not serve.

    MATERIAL is a name of the tables or plain words, such as "cree rooster hackle".

    \b
    Example:
      flykin instead "otter fur" --part body --style "dry upright" \\
             --box examples/box.csv
    """
    from variants.explain import StandInQuery, find_stand_ins
    from variants.reading import read_box
    from variants.rulebook import load_rulebook

    rulebook = load_rulebook(folders)
    trade = rulebook.trade
    part_id = entry_named("--part", part, trade.part_names, "part of a fly").id
    style_id = entry_named("--style", style, trade.style_names, "style").id
    wanted, told_colour = _stuff(material, part_id, style_id, rulebook, folders)
    asked = StandInQuery(
        wanted,
        part_id,
        style_id,
        entry_named("--colour", colour, trade.colour_names, "colour") if colour else told_colour,
    )
    _check_part(asked, rulebook)
    held = read_box(box, trade) if box is not None else None
    answer = find_stand_ins(rulebook.likeness, asked, held)
    if as_json:
        import json

        from variants.views.stand_ins import stand_in_json

        click.echo(json.dumps(stand_in_json(answer, best), indent=2, ensure_ascii=False))
        return
    from variants.views.stand_ins import stand_in_lines

    part_kind, style_entry = trade.parts[asked.part], trade.styles[asked.style]
    click.echo("\n".join(stand_in_lines(answer, part_kind, style_entry, best, held is not None)))


def _stuff(
    words: str, part: str, style: str, rulebook: Rulebook, folders: tuple[str, ...]
) -> tuple[Material, Colour | None]:
    """Return the material that words name, by its name or in plain words, and their colour."""
    from variants.model import plain
    from variants.reading.words import load_glossary, read_stuff
    from variants.rulebook import own_rules_folder, wind_together

    trade = rulebook.trade
    found = trade.material_names.get(plain(words))
    if found is not None:
        return found, None
    glossary = load_glossary([own_rules_folder(), *map(Path, folders)], trade)
    stuff = read_stuff(words, part, style, glossary)
    if stuff is None:
        return entry_named("MATERIAL", words, trade.material_names, "material"), None
    from variants.views.read_report import stuff_lines

    click.echo("\n".join(stuff_lines(words, stuff)), err=True)
    return stuff.material, wind_together(stuff.colours) if stuff.colours else None


def _check_part(asked: StandInQuery, rulebook: Rulebook) -> None:
    """Refuse a part that the style lacks, or that nothing like the material is made into."""
    style, part = rulebook.trade.styles[asked.style], rulebook.trade.parts[asked.part]
    if style.part(part.id) is None:
        known = ", ".join(one.part for one in style.parts)
        raise click.BadParameter(f"a {style.name} has no {part.name}: {known}", param_hint="--part")
    if not rulebook.likeness.has_place(asked.material, asked.part, asked.style):
        serves = ", ".join(sorted(asked.material.functions))
        raise click.BadParameter(
            f"{asked.material.name} makes no {part.name}; it serves as {serves}",
            param_hint="--part",
        )
