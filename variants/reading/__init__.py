"""Files to the model, with every fault located; knows the shapes, not the trade."""

from variants.reading.boxes import COLUMNS, parse_box, parse_colour, read_box
from variants.reading.builds import WINDING_COLUMNS, read_builds
from variants.reading.dressings import COUNTS, parse_dressing, read_dressing
from variants.reading.faults import Fault, Faults, InputError
from variants.reading.fields import Fields
from variants.reading.files import check_text, read_bytes, read_text, read_words, shown_name
from variants.reading.own_rules import own_rules_folder
from variants.reading.sheets import read_sheet
from variants.reading.sizes import SizesError, parse_sizes
from variants.reading.tables import TableRow, read_header, read_sheet_table, read_table
from variants.reading.toml import TomlDocument
from variants.reading.trade_tables import read_trade

__all__ = [
    "COLUMNS",
    "COUNTS",
    "WINDING_COLUMNS",
    "Fault",
    "Faults",
    "Fields",
    "InputError",
    "SizesError",
    "TableRow",
    "TomlDocument",
    "batches",
    "check_text",
    "own_rules_folder",
    "parse_box",
    "parse_colour",
    "parse_dressing",
    "parse_sizes",
    "prices",
    "read_box",
    "read_builds",
    "read_bytes",
    "read_dressing",
    "read_header",
    "read_sheet",
    "read_sheet_table",
    "read_table",
    "read_text",
    "read_trade",
    "read_words",
    "recipes",
    "regions",
    "sheets",
    "shown_name",
    "workbooks",
]
