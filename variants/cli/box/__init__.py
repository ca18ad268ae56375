"""The commands of the box: what you own added, used, bought, corrected, found, taken back."""

from __future__ import annotations

from typing import Any

import click

from variants.cli.group import LazyGroup

#: Command to the module that holds it; each module offers ``command``.
COMMANDS = {
    "find": "variants.cli.box.find",
    "list": "variants.cli.box.listing",
    "add": "variants.cli.box.add",
    "use": "variants.cli.box.use",
    "buy": "variants.cli.box.buy",
    "correct": "variants.cli.box.correct",
    "undo": "variants.cli.box.undo",
    "history": "variants.cli.box.history",
    "import": "variants.cli.box.bring_in",
    "export": "variants.cli.box.export",
}


class BoxGroup(LazyGroup):
    """The commands of the box."""

    modules = COMMANDS


@click.command(
    "box",
    cls=BoxGroup,
    short_help="What you own: find, add, use, buy, import, undo.",
)
def command(**_: Any) -> None:
    """Keep your box: a CSV file that stays yours to edit in any spreadsheet.

    Every change is written whole or not at all and remembered in a journal beside the box
    (box.csv.journal); 'undo' takes it back, 'flykin check --box' holds the two against each other.
    FLYKIN_BOX names the box where --box is not given.

    \b
    Example:
      flykin box find "olive fur" --box examples/box.csv
    """
