"""The file that the name of a box leads to."""

from __future__ import annotations

from pathlib import Path

from variants.model import Origin
from variants.reading import Fault, InputError


def real_path(path: str | Path) -> Path:
    """Return the file that a name leads to, through links.

    Raises
    ------
    InputError
        When links lead round in a circle, or to what is no file.
    """
    try:
        real = Path(path).resolve()
    except (OSError, RuntimeError):
        problem, remedy = "can't be found: links lead round in a circle", "name the file itself"
        raise InputError([Fault(Origin(str(path)), problem, remedy)]) from None
    if real.exists() and not (real.is_file() or real.is_dir()):
        problem, remedy = "is no file but a pipe or a device", "name the box's file"
        raise InputError([Fault(Origin(str(path)), problem, remedy)])
    return real
