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
    column : int
        Place in the line, counted from 1; 0 when only the line is known.
    """

    file: str
    line: int = 0
    field: str = ""
    column: int = 0

    def __str__(self) -> str:
        line = f":{self.line}" if self.line else ""
        column = f":{self.column}" if self.line and self.column else ""
        return f"{self.file}{line}{column}"


#: What was made in memory and stands in no file.
NOWHERE = Origin("(made in memory)")
