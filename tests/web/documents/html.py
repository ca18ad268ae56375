"""A page read by the rules of HTML: any parse error fails."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import html5lib


def read(page: str) -> ET.Element:
    """Return a page as a tree, its tags without namespace."""
    parser = html5lib.HTMLParser(
        tree=html5lib.getTreeBuilder("etree"), strict=True, namespaceHTMLElements=False
    )
    root: ET.Element = parser.parse(page)
    for one in root.iter():
        if isinstance(one.tag, str):
            one.tag = one.tag.rpartition("}")[2]
    return root


def ids(root: ET.Element) -> list[str]:
    """Return every id in the order of the page."""
    return [one.attrib["id"] for one in root.iter() if "id" in one.attrib]


def references(root: ET.Element) -> set[str]:
    """Return what links and uses within the page point to."""
    told = set()
    for one in root.iter():
        for name, value in one.attrib.items():
            if str(name).endswith("href") and value.startswith("#"):
                told.add(value[1:])
            elif name == "aria-labelledby":
                told.update(value.split())
    return told


def text(element: ET.Element) -> str:
    """Return all text in an element."""
    return "".join(element.itertext())
