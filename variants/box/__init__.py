"""The box kept: changes whole or not at all, and a journal of them; files written whole."""

from variants.box.changes import Change, ConflictError
from variants.box.entries import Entry
from variants.box.journal import read_journal
from variants.box.keeper import Held, Keeper
from variants.box.writing import write_whole, write_whole_bytes

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
