"""Many pictures of flies in one document: what several of them show alike stands there once.

Pictures come in whole; symbols and the definitions that they share go out. Variants of one dressing
differ in a part or two, so forty of them take little more room than a few.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from variants.pictures import Picture

SHELF_PREFIX = "fly"
_REFERENCE = re.compile(r"url\(#([^)]+)\)")
#: Shorter than this, a part is no longer than the reference to it.
_LEAST_SHARED = 200


@dataclass(frozen=True, slots=True)
class Shelved:
    """A picture on the shelf: the id to use it by, and how large it is."""

    id: str
    width_mm: float
    height_mm: float


class Shelf:
    """Pictures put by for one document.

    Parameters
    ----------
    prefix : str
        Begins every id, so that two shelves may stand in one document.
    """

    def __init__(self, prefix: str = SHELF_PREFIX) -> None:
        self.prefix = prefix
        self.defs = ET.Element("defs")
        self._shared: set[str] = set()

    def put(self, key: str, picture: Picture) -> Shelved:
        """Put a picture on the shelf under a key of its own."""
        root = _without_namespace(ET.fromstring(picture.svg))
        names = self._definitions(root)
        own = {"id": f"{self.prefix}-{key}", "viewBox": root.get("viewBox", "0 0 1 1")}
        symbol = ET.Element("symbol", own)
        for child in root:
            if child.tag in ("title", "desc", "defs"):
                continue
            _renamed(child, names)
            symbol.append(child)
        self._share(symbol)
        self.defs.append(symbol)
        return Shelved(f"{self.prefix}-{key}", picture.width_mm, picture.height_mm)

    def svg(self) -> str:
        """Return the definitions; a document holds them in an SVG that is not hidden."""
        return ET.tostring(self.defs, encoding="unicode")

    def _definitions(self, root: ET.Element) -> dict[str, str]:
        """Put by gradients and the like under ids made of what they are; return old id to new."""
        names: dict[str, str] = {}
        for defs in root.iter("defs"):
            for one in defs:
                if old := one.attrib.pop("id", ""):
                    names[old] = self._put_by(one)
        return names

    def _put_by(self, element: ET.Element) -> str:
        """Put an element among the definitions, once, and return its id."""
        text = ET.tostring(element, encoding="unicode")
        name = f"{self.prefix}-{hashlib.sha256(text.encode()).hexdigest()[:10]}"
        if name not in self._shared:
            self._shared.add(name)
            element.set("id", name)
            self.defs.append(element)
        return name

    def _share(self, within: ET.Element) -> None:
        """Put the fly's parts by and leave references to them."""
        for place, child in enumerate(list(within)):
            if child.tag == "g" and child.get("data-part"):
                if len(ET.tostring(child)) > _LEAST_SHARED:
                    within[place] = ET.Element("use", {"href": f"#{self._put_by(child)}"})
            elif child.tag in ("g", "svg"):
                self._share(child)


def _without_namespace(element: ET.Element) -> ET.Element:
    for one in element.iter():
        one.tag = one.tag.rpartition("}")[2]
    return element


def _renamed(element: ET.Element, names: dict[str, str]) -> None:
    """Let references name the ids that definitions have on the shelf."""
    for one in element.iter():
        for name, value in one.attrib.items():
            if "url(#" in value:
                told = _REFERENCE.sub(lambda found: f"url(#{names.get(found[1], found[1])})", value)
                one.set(name, told)
            elif name == "href" and value.startswith("#"):
                one.set(name, f"#{names.get(value[1:], value[1:])}")
