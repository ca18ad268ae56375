"""Where a record was read, so that every later message can point at it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Origin:
    """A place in a file.

    Attributes
    ----------
    file : str
        The file's name as the user gave it.
    line : int
        Line, counted from 1; 0 when only the file is known.
    field : str
        The field's name, or empty.
    """

    file: str
    line: int = 0
    field: str = ""

    def __str__(self) -> str:
        line = f":{self.line}" if self.line else ""
        return f"{self.file}{line}"


#: What was made in memory and stands in no file.
NOWHERE = Origin("(made in memory)")
