"""The options that the box commands share, and the cells of an item as options."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])
#: Column of a box to the option's help.
CELLS = {
    "material": "What it is: any name the trade uses.",
    "colour": "A name, a hex value (#7A8289), or lab(60, 5, 20).",
    "sizes": "Of a hook, its size; of a feather, the sizes it suits: 12-16.",
    "length": "Barbs or fibres as measured: 6-8 mm.",
    "thickness": "0.1 mm, or 70 denier.",
    "gape": "Of a hook that you measured: 5 mm.",
    "shank": "Of a hook that you measured: 10 mm.",
    "side": "left, right or pair.",
    "amount": "25 feathers, 3 m, 0.5 g, 4 pinches, 1/2 neck, 2 packets.",
    "price": "What it cost.",
    "price_for": "How much that bought: 100 hooks.",
    "blend": "Your own blend: 3 rabbit, olive + 1 hare's mask.",
    "place": "Where it lies.",
    "note": "What else you want to remember.",
}


def box_option(command: Command) -> Command:
    """Add ``--box``, which FLYKIN_BOX may stand for, and ``--rules``."""
    told = click.option(
        "--box", required=True, envvar="FLYKIN_BOX", help="Your box: a CSV file (or FLYKIN_BOX)."
    )
    rules = click.option(
        "--rules",
        "folders",
        multiple=True,
        metavar="FOLDER",
        help="A folder of your own rules and tables.",
    )
    return told(rules(command))


def cell_options(command: Command) -> Command:
    """Add an option for each column of a box, and ``--set`` for columns of the owner's own."""
    command = click.option(
        "--set", "own", multiple=True, metavar="COLUMN=TEXT", help="A column of your own."
    )(command)
    for name, says in reversed(CELLS.items()):
        command = click.option(f"--{name.replace('_', '-')}", help=says)(command)
    return command


def cells_of(options: Mapping[str, Any]) -> dict[str, str]:
    """Return the cells that options state, by column; an empty text empties a cell.

    Raises
    ------
    click.BadParameter
        When ``--set`` is no pair.
    """
    cells = {name: options[name] for name in CELLS if options.get(name) is not None}
    for pair in options.get("own", ()):
        column, equals, text = pair.partition("=")
        if not equals or not column.strip():
            raise click.BadParameter(f"write COLUMN=TEXT, not '{pair}'", param_hint="--set")
        cells[column.strip()] = text
    return cells


def joined(words: Sequence[str]) -> str:
    """Return words of the command line as one text: ``2 feathers`` needs no quotation marks."""
    return " ".join(words).strip()
