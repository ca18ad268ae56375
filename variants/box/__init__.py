"""The tyer's box: changed under a lock, journalled, checked, searched, filled, exported."""

from variants.box.amounts import told_amount
from variants.box.changes import Change, ConflictError
from variants.box.entries import Entry
from variants.box.journal import read_journal
from variants.box.keeper import Held, Keeper
from variants.box.rows import colour_named
from variants.box.writing import write_whole, write_whole_bytes

__all__ = [
    "Change",
    "ConflictError",
    "Entry",
    "Held",
    "Keeper",
    "adding",
    "audit",
    "colour_named",
    "columns",
    "exporting",
    "finding",
    "lists",
    "measurable",
    "portions",
    "read_journal",
    "told_amount",
    "write_whole",
    "write_whole_bytes",
]
