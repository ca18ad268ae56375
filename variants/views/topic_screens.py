"""A page of `flykin explain` on the screen and as JSON.

The JSON is an object with ``version`` (1) and ``pages``: each with ``title``, ``says``, ``source``,
``place`` (file and line of the data) and ``sections``, whose ``rows`` have ``name``, ``says`` and
``source``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

from variants.text import printable
from variants.views.columns import columns, wrap
from variants.views.topics import Page, Row, Section

#: Longer names stand on a line of their own.
_WIDEST_NAME = 24


def page_lines(page: Page) -> list[str]:
    """Return a page as lines of at most 80 columns."""
    lines = wrap(printable(page.title))
    lines += _told(page.says, 2)
    if page.source:
        lines += _told(f"Source: {page.source}", 2)
    if page.place:
        lines += _told(f"Stands in {page.place}", 2)
    for section in page.sections:
        if section.rows:
            lines += ["", *_section_lines(section)]
    return lines


def _told(text: str, indent: int) -> list[str]:
    lead = " " * indent
    return wrap(printable(text), initial_indent=lead, subsequent_indent=lead)


def _section_lines(section: Section) -> list[str]:
    title = printable(section.title)
    lines = wrap(title[:1].upper() + title[1:]) if title else []
    widths = [columns(row.name) for row in section.rows]
    short = [width for width in widths if width <= _WIDEST_NAME]
    # Where most names are long, what is said stands under them rather than far to the right.
    width = max(short) if 2 * len(short) > len(widths) else 2
    before = ""
    for row in section.rows:
        lines += _row_lines(row, width, "" if row.name == before else printable(row.name))
        before = row.name
    return lines


def _row_lines(row: Row, width: int, name: str) -> list[str]:
    says = printable(row.says)
    if row.source:
        says += f" (source: {printable(row.source)})"
    indent = " " * (width + 4)
    if columns(name) > width:
        own = wrap(name, initial_indent="  ", subsequent_indent="    ")
        return [*own, *wrap(says, initial_indent=indent, subsequent_indent=indent)]
    lead = f"  {name}{' ' * (width - columns(name))}  "
    return wrap(says, initial_indent=lead, subsequent_indent=indent) or [lead.rstrip()]


def pages_lines(pages: Sequence[Page]) -> list[str]:
    """Return several pages, an empty line between them."""
    lines: list[str] = []
    for page in pages:
        lines += [*([""] if lines else []), *page_lines(page)]
    return lines


def pages_json(pages: Iterable[Page]) -> dict[str, Any]:
    """Return pages in the shape told above."""
    return {"version": 1, "pages": [asdict(page) for page in pages]}
