"""`flykin serve`: the page at the bench, for this machine's browser."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_LAST_PORT = 65_535


@click.command("serve", short_help="Open the page at the bench in a browser.")
@click.option("--box", type=click.Path(path_type=Path), help="Your box: a CSV file.")
@click.option("--book", "books", multiple=True, metavar="PATH", type=click.Path(path_type=Path),
              help="A folder of dressings, or a file of plain words.")  # fmt: skip
@click.option("--region", "regions", multiple=True, metavar="PATH",
              type=click.Path(path_type=Path),
              help="A region file, or a folder of them, to choose waters from.")  # fmt: skip
@click.option("--port", type=click.IntRange(0, _LAST_PORT), default=8320, show_default=True,
              help="Where it listens; 0 takes a free one.")  # fmt: skip
@click.option("--host", default="127.0.0.1", show_default=True, metavar="ADDRESS",
              help="Another one lets other machines in; the page then asks a token.")  # fmt: skip
@click.option("--open", "is_opened", is_flag=True, help="Open it in the browser at once.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(
    books: tuple[Path, ...], regions: tuple[Path, ...], folders: tuple[str, ...], **options: Any
) -> None:
    """Serve a page on which a dressing, a box and a water give variants, pictures and reasons.

    Without --book the dressings are those in the folder "dressings" beside the box, without
    --region the waters those in the folder "regions". Only this machine can reach the page. Stop
    it with Ctrl-C.

    \b
    Example:
      flykin serve --box examples/box.csv --book examples/dressings
    """
    try:
        from variants.web.serving import serve
    except ImportError as problem:
        if (problem.name or "").partition(".")[0] == "variants":
            raise
        raise click.UsageError(
            f"serve needs the extra 'web': pip install 'flykin[web]' ({problem.name} is missing)"
        ) from None
    box = options["box"]
    books, regions = books or _beside(box, "dressings"), regions or _beside(box, "regions")
    for option, paths in (("--book", books), ("--region", regions)):
        for path in paths:
            if not path.exists():
                raise click.BadParameter(f"there is no '{path}'", param_hint=option)
    if box is not None and not box.is_file():
        raise click.BadParameter(f"there is no box '{box}'", param_hint="--box")
    try:
        serve(
            box,
            books,
            [Path(folder) for folder in folders],
            regions,
            options["host"],
            options["port"],
            is_opened=options["is_opened"],
            tell=click.echo,
        )
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        where = f"{options['host']} port {options['port']}"
        told = f"can't listen at {where}: {reason}; try another --port"
        raise click.UsageError(told) from None


def _beside(box: Path | None, name: str) -> tuple[Path, ...]:
    """Return the folder of that name beside the box, where there is one."""
    folder = None if box is None else box.parent / name
    return (folder,) if folder is not None and folder.is_dir() else ()
