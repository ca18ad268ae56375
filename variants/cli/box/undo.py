"""`flykin box undo`: take a change back."""

from __future__ import annotations

import click

from variants.cli.box.options import box_option


@click.command("undo", short_help="Take a change back.")
@click.argument("number", type=int, required=False)
@box_option
def command(number: int | None, box: str, folders: tuple[str, ...]) -> None:
    """Take back the last change, or the one of that NUMBER in the journal.

    An edit by hand counts as a change. What was changed again since is not taken back; nor is
    anything lost: an undo can be undone by its own number.

    \b
    Example:
      flykin box undo --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.rulebook import load_rulebook
    from variants.views.changes import change_lines

    entry = BoxStore(box, load_rulebook(folders).trade).undo(number)
    lines = [f"Entry {entry.undoes} is taken back, by entry {entry.number}."]
    click.echo("\n".join([*lines, *change_lines(entry.changes)]))
