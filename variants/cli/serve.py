"""`flykin serve`: the page at the bench, for this machine's browser."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from variants.cli.gathering import gather

_LAST_PORT = 65_535
_PORTS = {"http": 80, "https": 443}


@dataclass(frozen=True, slots=True)
class ServeOptions:
    """What the command was asked, as it was typed."""

    box: Path | None
    port: int
    host: str
    reached_at: str
    is_opened: bool


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
              help="Another one lets other machines in; the page then asks a token, which travels "
                   "in the clear.")  # fmt: skip
@click.option("--reached-at", metavar="URL", default="",
              help="Where a proxy or tunnel of yours in front of the page is reached, such as "
                   "https://flies.example.")  # fmt: skip
@click.option("--open", "is_opened", is_flag=True, help="Open it in the browser at once.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(ServeOptions)
def command(
    books: tuple[Path, ...],
    regions: tuple[Path, ...],
    folders: tuple[str, ...],
    options: ServeOptions,
) -> None:
    """Serve a page on which a dressing, a box and a water give variants, pictures and reasons.

    Without --book the dressings are those in the folder "dressings" beside the box, without
    --region the waters those in the folder "regions". Only this machine can reach the page. Stop
    it with Ctrl-C.

    With --host other machines reach it too, over plain http: whoever listens on the network reads
    the token and all that you do. On a network that you don't trust leave --host as it is, let a
    web proxy on this machine that speaks https pass requests on to the port, with the Host line as
    the browser sent it, and name its address: --reached-at https://flies.example.

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
    box, reached_at = options.box, _origin(options.reached_at)
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
            options.host,
            options.port,
            reached_at=reached_at,
            is_opened=options.is_opened,
            tell=click.echo,
        )
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        where = f"{options.host} port {options.port}"
        told = f"can't listen at {where}: {reason}; try another --port"
        raise click.UsageError(told) from None


def _origin(url: str) -> str:
    """Return a URL as a browser names where a page comes from; an empty one stays empty."""
    from urllib.parse import urlsplit

    if not url:
        return ""
    try:
        parts = urlsplit(url.lower())
        is_right = parts.port != 0 and bool(parts.hostname)
    except ValueError:
        is_right = False
    if (
        not is_right
        or parts.scheme not in _PORTS
        or parts.path not in ("", "/")
        or parts.query
        or parts.fragment
        or parts.username is not None
    ):
        problem = f"'{url}' is no address of a page: write it like https://flies.example"
        raise click.BadParameter(problem, param_hint="--reached-at")
    usual = f":{_PORTS[parts.scheme]}"
    return f"{parts.scheme}://{parts.netloc.removesuffix(usual)}"


def _beside(box: Path | None, name: str) -> tuple[Path, ...]:
    """Return the folder of that name beside the box, where there is one."""
    folder = None if box is None else box.parent / name
    return (folder,) if folder is not None and folder.is_dir() else ()
