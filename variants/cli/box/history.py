"""`flykin box history`: what was done to the box."""

from __future__ import annotations

import click

from variants.cli.box.options import box_option


@click.command("history", short_help="What was done to the box, latest first.")
@click.argument("item", required=False)
@click.option("--best", type=click.IntRange(1), default=20, show_default=True,
              help="How many entries to show.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the journal as JSON.")
@box_option
def command(item: str | None, best: int, as_json: bool, box: str, folders: tuple[str, ...]) -> None:
    """Tell what was done to the box, latest first; to ITEM alone when it is named.

    \b
    Example:
      flykin box history "cock neck ginger" --box examples/box.csv
    """
    from variants.box import BoxStore
    from variants.rulebook import load_rulebook
    from variants.views.changes import by_hand_lines, history_json, history_lines, of_item

    store = BoxStore(box, load_rulebook(folders).trade)
    entries = store.history()
    told = of_item(entries, item) if item else entries
    if as_json:
        import json

        click.echo(json.dumps(history_json(told, box), indent=2, ensure_ascii=False))
        return
    lines = by_hand_lines(store.find_hand_edit())
    lines += history_lines(told, entries, best)
    click.echo("\n".join(lines))
