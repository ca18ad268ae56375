"""The box kept: changes whole or not at all, and a journal of them; files written whole."""

from variants.keeping.changes import Change, ConflictError
from variants.keeping.entries import Entry
from variants.keeping.journal import read_journal
from variants.keeping.keeper import Held, Keeper
from variants.keeping.writing import write_whole, write_whole_bytes

__all__ = [
    "Change",
    "ConflictError",
    "Entry",
    "Held",
    "Keeper",
    "read_journal",
    "write_whole",
    "write_whole_bytes",
]
