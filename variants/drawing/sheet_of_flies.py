"""Several flies on one sheet, each under its name; unlike parts of variants are named below it."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as ET

from variants.drawing.frame import Picture
from variants.drawing.paper import INK, PAPER, clean, number

_GAP_MM, _LINE_MM = 1.5, 1.5
_SVG = "{http://www.w3.org/2000/svg}"


def plate(
    pictures: Sequence[Picture],
    notes: Sequence[Sequence[str]],
    *,
    columns: int = 2,
    pixels_per_mm: float = 18.0,
) -> Picture:
    """Return several pictures side by side, all to one scale.

    Parameters
    ----------
    pictures : sequence of Picture
    notes : sequence of sequence of str
        For each picture the lines written under it: what differs.
    columns : int
    pixels_per_mm : float

    Raises
    ------
    ValueError
        Without a picture, or without notes for each.
    """
    if not pictures or len(notes) != len(pictures):
        raise ValueError("a plate wants pictures, and notes for each of them")
    ET.register_namespace("", "http://www.w3.org/2000/svg")
    columns = min(columns, len(pictures))
    wide = max(one.width_mm for one in pictures)
    high = max(
        one.height_mm + _LINE_MM * (len(lines) + 1)
        for one, lines in zip(pictures, notes, strict=True)
    )
    rows = -(-len(pictures) // columns)
    width = columns * (wide + _GAP_MM) + _GAP_MM
    height = rows * (high + _GAP_MM) + _GAP_MM
    root = ET.Element(
        f"{_SVG}svg",
        {
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "width": number(width * pixels_per_mm),
            "height": number(height * pixels_per_mm),
            "role": "img",
        },
    )
    ET.SubElement(root, f"{_SVG}title").text = clean("; ".join(one.title for one in pictures))
    ET.SubElement(
        root, f"{_SVG}rect", {"width": number(width), "height": number(height), "fill": PAPER}
    )
    for place, (picture, lines) in enumerate(zip(pictures, notes, strict=True)):
        row, column = divmod(place, columns)
        x = _GAP_MM + column * (wide + _GAP_MM)
        y = _GAP_MM + row * (high + _GAP_MM)
        inner = ET.fromstring(picture.svg)
        inner.set("x", number(x))
        inner.set("y", number(y))
        inner.set("width", number(picture.width_mm))
        inner.set("height", number(picture.height_mm))
        root.append(inner)
        for number_, line in enumerate(lines, start=1):
            words = ET.SubElement(
                root, f"{_SVG}text",
                {"x": number(x + 1.4), "y": number(y + picture.height_mm + number_ * _LINE_MM),
                 "font-family": "'Libertinus Serif', 'Linux Libertine', Georgia, serif",
                 "font-size": "1.05", "fill": INK},
            )  # fmt: skip
            words.text = clean(line)
    title = "; ".join(one.title for one in pictures)
    return Picture(ET.tostring(root, encoding="unicode") + "\n", width, height, title)
