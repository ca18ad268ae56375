"""What the server says on its terminal while it runs: each kind of trouble once, in one line."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import PurePath
from traceback import extract_tb

from variants.text import printable

#: So many kinds of trouble are told; whoever reads so many needs no more.
_MOST_TOLD = 50
_LONGEST = 300


class OneLineHandler(logging.Handler):
    """Tells of each kind of trouble once: no crowd and no fault fills the terminal.

    Parameters
    ----------
    tell : callable
        Hears the lines.

    Examples
    --------
    >>> log = logging.Logger("example")
    >>> log.addHandler(OneLineHandler(print))
    >>> for _ in range(1000):
    ...     log.error("too many open files\\nand where")
    Trouble: too many open files
    """

    def __init__(self, tell: Callable[[str], None]) -> None:
        super().__init__(logging.ERROR)
        self._tell = tell
        self._told: set[str] = set()

    def emit(self, record: logging.LogRecord) -> None:
        """Tell of the trouble unless it was told."""
        line = f"Trouble: {_line_of(record)}"
        if line not in self._told and len(self._told) < _MOST_TOLD:
            self._told.add(line)
            self._tell(line)


def _line_of(record: logging.LogRecord) -> str:
    problem = record.exc_info[1] if record.exc_info else None
    told = record.getMessage().strip().partition("\n")[0]
    if problem is not None:
        told = f"{type(problem).__name__}: {problem}"
        if steps := extract_tb(problem.__traceback__):
            told += f" ({PurePath(steps[-1].filename).name}, line {steps[-1].lineno})"
    # What others sent may stand in it: no letter of it steers the terminal.
    return printable(told)[:_LONGEST]
