"""The tyer's box: transactions with an append-only journal, audit, search, list import, export."""

from variants.box.amounts import format_amount
from variants.box.atomic_write import write_atomically, write_bytes_atomically
from variants.box.changes import ConflictError, ItemChange
from variants.box.item_names import make_name
from variants.box.journal import read_journal
from variants.box.journal_entry import JournalEntry
from variants.box.row import read_colour
from variants.box.store import BoxStore, VersionedBox

__all__ = [
    "BoxStore",
    "ConflictError",
    "ItemChange",
    "JournalEntry",
    "VersionedBox",
    "audit",
    "export",
    "format_amount",
    "item_search",
    "list_columns",
    "list_import",
    "make_name",
    "new_item",
    "read_colour",
    "read_journal",
    "rounding",
    "sold_as",
    "write_atomically",
    "write_bytes_atomically",
]
