"""Documents that stand by themselves: the bench sheet as HTML and PDF, the derivation."""

from variants.web.documents.derivation_page import derivation_html
from variants.web.documents.sheet_page import (
    PAPERS,
    PdfUnavailableError,
    Plate,
    plates_of,
    sheet_html,
    sheet_pdf,
)
from variants.web.documents.templates import stylesheet

__all__ = [
    "PAPERS",
    "PdfUnavailableError",
    "Plate",
    "derivation_html",
    "plates_of",
    "sheet_html",
    "sheet_pdf",
    "stylesheet",
]
