"""What `flykin explain` tells: the trade's tables and rules as pages, each with its source."""

from variants.views.topics.find import contents, names, pages
from variants.views.topics.lists import TOPICS
from variants.views.topics.page import Page, Row, Section
from variants.views.topics.shelf import Shelf, read_shelf

__all__ = [
    "TOPICS",
    "Page",
    "Row",
    "Section",
    "Shelf",
    "contents",
    "names",
    "pages",
    "read_shelf",
]
