"""What is missing of a new thing, asked for one by one; Tab completes names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import click

from variants.box import make_name
from variants.box.new_item import ItemParser
from variants.model import Material, plain
from variants.reading import InputError

#: Asked for in this order, each with what may be left empty.
_QUESTIONS = {
    "amount": "How much is left (25 feathers, 1/2 neck, 3 m; empty: not counted)",
    "place": "Where does it lie",
}


def asked_cells(cells: Mapping[str, str], parser: ItemParser) -> dict[str, str]:
    """Return the cells of a new thing, those that lack asked for at the terminal.

    Parameters
    ----------
    cells : mapping of column to cell
        What is known already is not asked for.
    parser : ItemParser
    """
    told = parser.complete(cells)
    material = _material(told, parser)
    told["material"] = material.name
    if "colour" not in told and "blend" not in told and material.colours:
        told["colour"] = _colour(material, parser)
    if "sizes" not in told and "length" not in told:
        told |= _measures(material, told, parser)
    for name, question in _QUESTIONS.items():
        if name not in told:
            told[name] = _until_right(
                lambda question=question: _ask(question),  # type: ignore[misc]
                lambda cell, name=name: parser.parse({**_base(told, parser), name: cell}, None),  # type: ignore[misc]
            )
    if "item" not in told:
        told["item"] = _ask("What do you call it", default=make_name(told))
    return told


def _base(told: Mapping[str, str], parser: ItemParser) -> dict[str, str]:
    """Return cells that are right, to try another with."""
    base = {name: told[name] for name in ("item", "material", "sizes") if told.get(name)}
    return {"item": "it", **base}


def _material(told: Mapping[str, str], parser: ItemParser) -> Material:
    text = told.get("material", "")
    found = parser.find_material(text) if text else None
    said = text or told.get("item", "")
    names = sorted({material.name for material in parser.trade.materials.values()})
    while found is None:
        near = parser.near_materials(said) if said else ()
        if near:
            click.echo(f"“{said}” does not tell which material it is. Near it:")
            for number, name in enumerate(near, start=1):
                click.echo(f"  {number}  {name}")
        said = _ask("Which material (a name, or a number)", names=names, needed=True)
        if said.isdigit() and 1 <= int(said) <= len(near):
            said = near[int(said) - 1]
        found = parser.find_material(said)
    return found


def _colour(material: Material, parser: ItemParser) -> str:
    trade = parser.trade
    natural = trade.colours.get(material.natural_colour or "")
    names = sorted({colour.name for colour in trade.colours.values()})
    return _until_right(
        lambda: _ask("Colour", default=natural.name if natural else "", names=names),
        lambda cell: parser.parse({"item": "it", "material": material.name, "colour": cell,
                                   "sizes": "14"}, None),
    )  # fmt: skip


def _measures(material: Material, told: Mapping[str, str], parser: ItemParser) -> dict[str, str]:
    """Ask for what a hook must have, and a feather for winding should have."""
    if "hook" in material.functions:
        question = "Hook size"
    elif "hackle" in material.functions:
        question = "Hook sizes it suits (12-16), or its barbs (6-8 mm); empty: not measured"
    else:
        return {}

    def cells(answer: str) -> dict[str, str]:
        name = "length" if any(letter.isalpha() for letter in answer.replace("to", "")) else "sizes"
        return {name: answer}

    answer = _until_right(
        lambda: _ask(question, needed="hook" in material.functions),
        lambda cell: parser.parse({"item": "it", "material": material.name, **cells(cell)}, None),
    )
    return cells(answer) if answer else {}


def _until_right(ask: Callable[[], str], try_it: Callable[[str], Any]) -> str:
    """Ask until the answer can be read."""
    while True:
        answer = ask()
        if not answer:
            return ""
        try:
            try_it(answer)
        except InputError as problem:
            click.echo(str(problem), err=True)
            continue
        return answer


def _ask(
    question: str, *, default: str = "", names: Iterable[str] = (), needed: bool = False
) -> str:
    with _completing(names):
        while True:
            answer: str = click.prompt(question, default=default, show_default=bool(default))
            answer = " ".join(answer.split())
            if answer or not needed:
                return answer


@contextmanager
def _completing(names: Iterable[str]) -> Iterator[None]:
    """Let Tab complete names, where the terminal can."""
    try:
        import readline
    except ImportError:
        yield
        return
    known = list(names)

    def complete(text: str, state: int) -> str | None:
        found = [name for name in known if plain(name).startswith(plain(text))]
        return found[state] if state < len(found) else None

    before, parted = readline.get_completer(), readline.get_completer_delims()
    readline.set_completer(complete)
    readline.set_completer_delims("\n")
    readline.parse_and_bind("tab: complete")
    try:
        yield
    finally:
        readline.set_completer(before)
        readline.set_completer_delims(parted)
