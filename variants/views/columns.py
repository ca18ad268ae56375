"""Text laid out in the columns of a terminal, where some letters take two and some none.

What is written in the scripts of the west goes the short way; a library measures the rest.
"""

from __future__ import annotations

import re
import textwrap

#: How many columns a screen has.
WIDTH = 80
#: Letters and signs of which each surely takes one column: Latin, punctuation, arrows, lines.
_ONE_COLUMN = re.compile("[ -~\xa1-\xac\xae-\u02ff\u2010-\u2027\u2190-\u2199\u2212\u2260-\u2265"
                         "\u21d2\u2500-\u257f\ufffd\n]*")  # fmt: skip


def columns(text: str) -> int:
    """Return how many columns a text takes.

    >>> columns("beaver"), columns("鹿の毛")
    (6, 6)
    """
    if _ONE_COLUMN.fullmatch(text):
        return len(text)
    import wcwidth

    return wcwidth.width(text)


def wrap(
    text: str,
    width: int = WIDTH,
    *,
    initial_indent: str = "",
    subsequent_indent: str = "",
    break_on_hyphens: bool = False,
) -> list[str]:
    """Break a text into lines of at most so many columns, as `textwrap.wrap` does of letters."""
    if _ONE_COLUMN.fullmatch(text):
        return textwrap.wrap(
            text,
            width,
            initial_indent=initial_indent,
            subsequent_indent=subsequent_indent,
            break_on_hyphens=break_on_hyphens,
        )
    import wcwidth

    return wcwidth.wrap(
        text,
        width,
        control_codes="ignore",
        initial_indent=initial_indent,
        subsequent_indent=subsequent_indent,
        break_on_hyphens=break_on_hyphens,
    )


def wrap_indented(text: str, indent: int, hang: int = 2) -> list[str]:
    """Break a text into lines that begin at a column, all but the first some columns further in."""
    return wrap(text, initial_indent=" " * indent, subsequent_indent=" " * (indent + hang))


def shortened(text: str, width: int) -> str:
    """Return a text cut to so many columns, with an ellipsis where something is left out.

    >>> shortened("Tollgate Amber", 9), shortened("鹿の毛の蚊針", 7)
    ('Tollgate…', '鹿の毛…')
    """
    if columns(text) <= width:
        return text
    while text and columns(text) >= width:
        text = text[:-1]
    return f"{text.rstrip()}…"
