"""Files to the model, with every fault located; knows the shapes, not the trade."""

from variants.reading.boxes import COLUMNS, box_of, colour, read_box
from variants.reading.builds import WINDING_COLUMNS, read_builds
from variants.reading.dressings import COUNTS, dressing_of, read_dressing
from variants.reading.faults import Fault, Faults, InputError, nearest, shown
from variants.reading.fields import Fields
from variants.reading.files import bytes_of, checked_text, read_text, read_words, shown_name
from variants.reading.own_rules import own_rules_folder
from variants.reading.sheets import read_sheet
from variants.reading.sizes import SizesError, parse_sizes
from variants.reading.tables import Row, header_of, read_sheet_table, read_table
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
    "Row",
    "SizesError",
    "TomlDocument",
    "batches",
    "box_of",
    "bytes_of",
    "checked_text",
    "colour",
    "dressing_of",
    "header_of",
    "nearest",
    "own_rules_folder",
    "parse_sizes",
    "prices",
    "read_box",
    "read_builds",
    "read_dressing",
    "read_sheet",
    "read_sheet_table",
    "read_table",
    "read_text",
    "read_trade",
    "read_words",
    "recipes",
    "regions",
    "sheets",
    "shown",
    "shown_name",
    "workbooks",
]
