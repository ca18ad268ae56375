"""How large a file may be: the same for every kind, so that none can fill a memory or an evening.

A box of 100 000 things fits, and a book of dressings such as one person writes. All of it is
counted before anything is parsed.
"""

from __future__ import annotations

MOST_BYTES = 16 * 1024 * 1024
MOST_LINES = 100_000
MOST_CELLS = 2_000_000
#: Of one line, or of one cell of a workbook.
LONGEST_LINE = 200_000
#: What takes thought, letter for letter: dressings in words, TOML.
MOST_LETTERS = 400_000
TOO_LARGE = "is larger than 16 MB"
REMEDY = "split it, or name another file"


def find_excess(raw: bytes) -> str:
    """Return what there is too much of in a file of text; empty when there is not.

    >>> find_excess(b"a\\n" * 100_001)
    'holds more than 100 000 lines'
    """
    if len(raw) > MOST_BYTES:
        return TOO_LARGE
    return too_many("lines", MOST_LINES) if raw.count(b"\n") > MOST_LINES else ""


def too_many(what: str, most: int) -> str:
    """Return the words for more of something than a file may hold.

    >>> too_many("rows", 2_000_000)
    'holds more than 2 000 000 rows'
    """
    return f"holds more than {most:,} {what}".replace(",", " ")
