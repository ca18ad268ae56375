"""`flykin box list`: what is in the box."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import entry_named
from variants.cli.box.options import box_option

if TYPE_CHECKING:
    from variants.model import Item

SORTS = ("file", "name", "material", "colour", "size", "place", "amount")


@click.command("list", short_help="List what is in the box.")
@click.option("--material", help="Only this material.")
@click.option("--family", help="Only this class of stuff, such as hair, or fur dubbing.")
@click.option("--colour", help="Only this colour, and shades within --within of it.")
@click.option("--within", type=click.FloatRange(0, 100), default=2.0, show_default=True,
              help="How far a shade may stand from --colour, in dE (CIEDE2000).")  # fmt: skip
@click.option("--for", "part", help="Only what can be this part of a fly.")
@click.option("--size", type=click.IntRange(2, 24), help="Only what suits this hook size.")
@click.option("--place", help="Only what lies there.")
@click.option("--gone", is_flag=True, help="Only what is used up.")
@click.option("--sort", type=click.Choice(SORTS), default="file", show_default=True,
              help="In which order.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the list as JSON.")
@box_option
def command(box: str, folders: tuple[str, ...], **options: Any) -> None:
    """List what is in the box, all of it or a part.

    \b
    Example:
      flykin box list --family hair --sort place --box examples/box.csv
    """
    from pathlib import Path

    from variants.box.item_search import ItemQuery, ItemSearch
    from variants.reading import read_box
    from variants.reading.words import load_glossary
    from variants.rulebook import load_rulebook, own_rules_folder

    rulebook = load_rulebook(folders)
    trade = rulebook.trade
    held = read_box(box, trade)
    wanted = ItemQuery(
        material=_named("--material", options["material"], trade.material_names, "material"),
        colour=_named("--colour", options["colour"], trade.colour_names, "colour"),
        within=options["within"],
        part=_named("--for", options["part"], trade.part_names, "part of a fly"),
        size=options["size"],
    )
    finder = ItemSearch(rulebook, load_glossary([own_rules_folder(), *map(Path, folders)], trade))
    found = {one.item.id for one in finder.find(held, wanted) if not one.why}
    known = {material.kind for material in trade.materials.values()}
    family = _family(options["family"], known, {item.material.kind for item in held.items})
    items = [
        item
        for item in held.items
        if item.id in found
        and (family is None or item.material.kind == family)
        and (not options["place"] or _lies(item, options["place"]))
        and (not options["gone"] or item.is_gone)
    ]
    if options["sort"] != "file":
        items.sort(key=_KEYS[options["sort"]])
    if options["as_json"]:
        import json

        from variants.views.box_items import list_json

        click.echo(json.dumps(list_json(items, box), indent=2, ensure_ascii=False))
        return
    from variants.views.box_items import list_lines

    click.echo("\n".join(list_lines(items, len(held.items), rulebook.gauge)))


def _named(option: str, name: str | None, names: Any, what: str) -> Any:
    return entry_named(option, name, names, what) if name else None


def _family(name: str | None, known: set[str], owned: set[str]) -> str | None:
    """Return the class of stuff of that name; a wrong one is answered with those in the box."""
    if not name:
        return None
    from variants.model import plain

    names = {plain(kind): kind for kind in known}
    offered = [plain(kind) for kind in sorted(owned)]
    found: str = entry_named("--family", name, names, "class", offered)
    return found


def _lies(item: Item, place: str) -> bool:
    from variants.model import plain

    return plain(place) in plain(item.place)


def _amount(item: Item) -> tuple[bool, str, float]:
    """Order by what is left, the least first, of each unit by itself."""
    if item.amount is None:
        return True, "", 0.0
    base = item.amount.to_base_units()
    return False, str(base.units), float(base.magnitude)


_KEYS: dict[str, Any] = {
    "name": lambda item: item.id.lower(),
    "material": lambda item: (item.material.kind, item.material.name, item.id),
    "colour": lambda item: (item.colour.name if item.colour else "", item.id),
    "size": lambda item: (item.sizes or (99,), item.length_mm or (999.0,), item.id),
    "place": lambda item: (item.place.lower(), item.id),
    "amount": lambda item: (_amount(item), item.id),
}
