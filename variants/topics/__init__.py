"""What `flykin explain` tells: the trade's tables and rules as pages, each with its source."""

from variants.topics.find import contents, names, pages
from variants.topics.page import Page, Row, Section
from variants.topics.shelf import Shelf, read_shelf

__all__ = ["Page", "Row", "Section", "Shelf", "contents", "names", "pages", "read_shelf"]
