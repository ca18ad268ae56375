"""`flykin box`: what you own: added, used, bought, corrected, listed, found, taken back."""

from __future__ import annotations

import importlib
from typing import Any

import click

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


class BoxGroup(click.Group):
    """Loads a command's module only when the command is named."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands' names in the order of use."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command of that name, or None."""
        module = COMMANDS.get(cmd_name)
        if module is None:
            return None
        found: click.Command = importlib.import_module(module).command
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command when one is misspelt."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as problem:
            from variants.cli.answers import did_you_mean

            hint = did_you_mean(args[0], COMMANDS) if args else ""
            raise click.UsageError(f"{problem.message.rstrip('.')}{hint}", ctx) from None


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
