"""Pictures written to a file, or to standard output."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from variants.pictures import Picture


def write_picture(picture: Picture, out: Path | None) -> None:
    """Write a picture as SVG or, by the file's ending, as PNG; SVG to standard output without one.

    Raises
    ------
    click.UsageError
        When PNG wants an extra that is not installed.
    """
    if out is None:
        click.echo(picture.svg, nl=False)
    elif out.suffix == ".svg":
        from variants.box import write_atomically

        write_atomically(out, picture.svg)
    else:
        from variants.box import write_bytes_atomically
        from variants.pictures import PngUnavailableError, as_png

        try:
            drawn = as_png(picture)
        except PngUnavailableError as problem:
            raise click.UsageError(str(problem)) from None
        write_bytes_atomically(out, drawn)
