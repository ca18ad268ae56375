"""The atomic exchange of two files' names, by the system call for it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_HERE = -100  # AT_FDCWD: names are looked up from the present folder
_EXCHANGE, _SWAP = 2, 2  # RENAME_EXCHANGE of Linux, RENAME_SWAP of macOS


def exchange_names(one: Path, other: Path) -> bool:
    """Exchange the names of two files, so that at no moment either is missing. Writes.

    Returns
    -------
    bool
        False where the system or the file system can't; nothing is changed then.
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
