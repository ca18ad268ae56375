"""The tyer's box: transactions with an append-only journal, audit, search, list import, export."""

from variants.box.amounts import format_amount
from variants.box.atomic_write import write_atomically, write_bytes_atomically
from variants.box.changes import ConflictError, ItemChange
from variants.box.journal import read_journal
from variants.box.journal_entry import JournalEntry
from variants.box.rows import colour_named
from variants.box.store import BoxStore, VersionedBox

__all__ = [
    "BoxStore",
    "ConflictError",
    "ItemChange",
    "JournalEntry",
    "VersionedBox",
    "adding",
    "audit",
    "colour_named",
    "columns",
    "exporting",
    "finding",
    "format_amount",
    "lists",
    "measurable",
    "portions",
    "read_journal",
    "write_atomically",
    "write_bytes_atomically",
]
