"""`flykin explain`: the trade's tables and rules, told with their sources."""

from __future__ import annotations

import click


@click.command("explain", short_help="Styles, rules, colours, materials: what they are, and why.")
@click.argument("topic", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(topic: tuple[str, ...], as_json: bool, folders: tuple[str, ...]) -> None:
    """Tell what TOPIC is, from the tables and rules that every answer is computed from.

    TOPIC is one of styles, parts, materials, colours, markings, rules, departure, hook scales,
    waters, law; or the name of a style, a part, a material, a colour, a marking or a rule. Without
    one the topics are listed.

    \b
    Example:
      flykin explain dry-hackle-length
    """
    from variants.cli.answers import near_hint
    from variants.text import shown
    from variants.views.topics import contents, names, pages, read_shelf

    found = [contents()]
    if topic:
        words = " ".join(topic)
        shelf = read_shelf(folders)
        found = pages(shelf, words)
        if not found:
            hint = near_hint(words, names(shelf))
            raise click.BadParameter(
                f"{shown(words)} is no topic, and no name of the tables{hint}", param_hint="TOPIC"
            )
    if as_json:
        import json

        from variants.views.topic_screens import pages_json

        click.echo(json.dumps(pages_json(found), indent=2, ensure_ascii=False))
        return
    from variants.views.topic_screens import pages_lines

    click.echo("\n".join(pages_lines(found)))
