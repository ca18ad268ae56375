"""`flykin kin`: which named dressings a dressing equals or stands nearest to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from variants.explain.derivation import Kin
    from variants.model import PartKind


@click.command("kin", short_help="Named dressings that it equals or stands near.")
@click.argument("dressing")
@click.option("--book", "books", multiple=True, required=True, metavar="PATH",
              help="Where to look: a folder of dressings, or a file of plain words.")  # fmt: skip
@click.option("--best", type=click.IntRange(1, 1000), default=5, show_default=True,
              help="How many to show.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(
    dressing: str, books: tuple[str, ...], best: int, as_json: bool, folders: tuple[str, ...]
) -> None:
    """Tell which dressings of a book DRESSING equals or stands nearest to, and where they differ.

    Dressings in plain words that state no style are read as of DRESSING's.

    \b
    Example:
      flykin kin examples/dressings/tollgate-amber.toml \\
             --book examples/dressings
    """
    from variants.cli.books import read_books, read_one
    from variants.explain.derivation import find_kin
    from variants.rulebook import load_rulebook

    rulebook = load_rulebook(folders)
    mine = read_one(dressing, rulebook, folders)
    others = [
        other
        for other in read_books(books, rulebook, style=mine.style, rules=folders)
        if (other.name, other.parts) != (mine.name, mine.parts)
    ]
    found = find_kin(mine, others, rulebook)[:best]
    if as_json:
        _print_json(mine.name, found)
        return
    from variants.text import printable

    click.echo(f"{printable(mine.name)}, {rulebook.trade.styles[mine.style].name}\n")
    for kin in found:
        click.echo("\n".join(_lines(kin, rulebook.trade.parts)))
    if not found:
        click.echo("The book holds no other dressing of this style.")


def _lines(kin: Kin, parts: Mapping[str, PartKind]) -> list[str]:
    from variants.explain.wording import departure_words, join_words, part_name
    from variants.text import printable
    from variants.views.columns import wrap

    name = printable(kin.dressing.name)
    if kin.is_same:
        return wrap(f"  same  {name}", 80, subsequent_indent=" " * 8)
    differing = join_words(part_name(parts, part) for part in kin.differing)
    told = f"{departure_words(kin.distance):>6}  {name}: differs in {differing}"
    return wrap(told, 80, subsequent_indent=" " * 8)


def _print_json(name: str, found: list[Kin]) -> None:
    import json

    answer = {
        "version": 1,
        "name": name,
        "kin": [
            {
                "name": kin.dressing.name,
                "same": kin.is_same,
                "differing": list(kin.differing),
                "distance": kin.distance / 1000,
            }
            for kin in found
        ],
    }
    click.echo(json.dumps(answer, indent=2, ensure_ascii=False))
