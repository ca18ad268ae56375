"""The box kept: files written whole, and a journal of what was taken from it."""

from variants.keeping.journal import Entry, Taking, read_journal, takings, write_off
from variants.keeping.writing import write_whole, write_whole_bytes

__all__ = [
    "Entry",
    "Taking",
    "read_journal",
    "takings",
    "write_off",
    "write_whole",
    "write_whole_bytes",
]
