"""A drawing as PNG, by a typesetter that brings its own fonts (extra ``print``)."""

from __future__ import annotations

import tempfile
from pathlib import Path

from variants.pictures.frame import Picture

_PPI = 96.0


class PngUnavailableError(Exception):
    """The extra that PNG needs is not installed."""


def as_png(picture: Picture, pixels_per_mm: float = 26.0) -> bytes:
    """Return a picture as PNG.

    Raises
    ------
    PngUnavailableError
        Without the extra ``print``.
    """
    try:
        import typst
    except ImportError:
        raise PngUnavailableError(
            "PNG needs the extra 'print': pip install 'flykin[print]'"
        ) from None
    width, height = (pixels_per_mm * side for side in (picture.width_mm, picture.height_mm))
    page = (
        f"#set page(width: {width:.3f}pt, height: {height:.3f}pt, margin: 0pt)\n"
        f'#image("fly.svg", width: 100%, height: 100%)\n'
    )
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "fly.svg").write_text(picture.svg, encoding="utf-8")
        (Path(folder) / "page.typ").write_text(page, encoding="utf-8")
        drawn: bytes = typst.compile(str(Path(folder) / "page.typ"), format="png", ppi=72.0)
    return drawn
