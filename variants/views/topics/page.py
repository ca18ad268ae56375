"""What a topic has to tell, as data: a page of sections of rows, each with its source.

Screens and JSON are made from it in `variants.views.topic_screens`; nothing here reads a file.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a page: a name, what is said of it, and where that comes from."""

    name: str
    says: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Rows that belong together."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """What is told about one topic.

    Attributes
    ----------
    title, says : str
    sections : tuple of Section
    source : str
        Where what is said comes from; empty for a mere list, whose entries name theirs.
    place : str
        The file and line of the data it is told from; empty for a list.
    """

    title: str
    says: str
    sections: tuple[Section, ...] = ()
    source: str = ""
    place: str = ""
