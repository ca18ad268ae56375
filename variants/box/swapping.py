"""Two files given each other's names in one step, by the system's own call for it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD: names are looked up from the present folder
_EXCHANGE, _SWAP = 2, 2  # RENAME_EXCHANGE of Linux, RENAME_SWAP of macOS


def swap_names(one: Path, other: Path) -> bool:
    """Give each of two files the other's name, so that at no moment either is missing.

    Returns
    -------
    bool
        False where system or file system can't; nothing is changed then.
    """
    import ctypes

    try:
        system = ctypes.CDLL(None, use_errno=True)
        names = os.fsencode(one), os.fsencode(other)
        if sys.platform == "darwin":
            failed = system.renamex_np(*names, _SWAP)
        else:
            failed = system.renameat2(_HERE, names[0], _HERE, names[1], _EXCHANGE)
    except (OSError, AttributeError, TypeError):
        return False
    return not failed
