"""`flykin man`: the manual pages, made from the commands themselves."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("man", short_help="The manual page of a command.")
@click.argument("command_words", metavar="[COMMAND]...", nargs=-1)
@click.option("--out", metavar="FOLDER", help="Write the pages of all commands into FOLDER.")
def command(command_words: tuple[str, ...], out: str | None) -> None:
    """Print the manual page of COMMAND, or of flykin itself: flykin man propose | man -l -

    With --out every page is written, ready for a folder man1 in your MANPATH.

    \b
    Example:
      flykin man propose
    """
    from variants.cli import flykin
    from variants.cli.roff import manual_page

    root = click.Context(flykin, info_name="flykin")
    if out is None:
        click.echo(manual_page(_context(root, command_words)), nl=False)
        return
    from variants.box import write_atomically

    folder = Path(out)
    if not folder.is_dir():
        raise click.BadParameter(f"'{out}' is no folder", param_hint="--out")
    pages = list(_with_inner(root))
    for ctx in pages:
        write_atomically(folder / f"{ctx.command_path.replace(' ', '-')}.1", manual_page(ctx))
    click.echo(f"{len(pages)} pages written to {folder}")


def _context(root: click.Context, words: tuple[str, ...]) -> click.Context:
    """Return the context of a command that is named word by word."""
    ctx = root
    for word in words:
        inner = ctx.command.get_command(ctx, word) if isinstance(ctx.command, click.Group) else None
        if inner is None:
            from variants.cli.answers import near_hint
            from variants.text import shown

            known = ctx.command.list_commands(ctx) if isinstance(ctx.command, click.Group) else []
            hint = near_hint(word, known)
            raise click.BadParameter(f"{shown(word)} is no command{hint}", param_hint="COMMAND")
        ctx = click.Context(inner, info_name=word, parent=ctx)
    return ctx


def _with_inner(ctx: click.Context) -> list[click.Context]:
    """Return a command's context and those of all commands in it."""
    if not isinstance(ctx.command, click.Group):
        return [ctx]
    inner = [
        click.Context(one, info_name=name, parent=ctx)
        for name in ctx.command.list_commands(ctx)
        if (one := ctx.command.get_command(ctx, name)) is not None
    ]
    return [ctx, *(found for one in inner for found in _with_inner(one))]
