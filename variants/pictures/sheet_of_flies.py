"""Several flies on one sheet, all to one scale: a plate of variants, or two side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.etree import ElementTree as ET

from variants.pictures.callouts import (
    LINE_MM,
    SIZE_MM,
    Callout,
    draw_bracket,
    draw_callouts,
    place_callouts,
)
from variants.pictures.frame import Picture, draw_background, page, scale_bar, width_of, write
from variants.pictures.paper import INK, number

_GAP_MM, _EDGE_MM = 1.8, 2.2
_HEADING_MM, _FOOT_MM = 1.25, 2.6
_NAME_MM = 1.5
_SVG = "{http://www.w3.org/2000/svg}"


class _Cell:
    """One fly of a sheet with what is written round it, measured before it is laid."""

    def __init__(self, picture: Picture, lines: Sequence[str], named: Mapping[str, str]) -> None:
        self.picture = picture
        # What lies hidden can't be pointed at, and is told below.
        self.lines = [
            *lines,
            *(told for part, told in named.items() if part not in picture.anchors),
        ]
        self.spans = [
            anchor.span
            for part, anchor in picture.anchors.items()
            if part in named and anchor.span is not None
        ]
        self.callouts: list[Callout] = []
        for above, edge in ((True, 0.0), (False, picture.height_mm)):
            wanted = [
                (anchor.place, words)
                for part, words in named.items()
                if (anchor := picture.anchors.get(part)) is not None and anchor.is_above == above
            ]
            self.callouts += place_callouts(wanted, edge, above=above)
        self.top_mm = min([0.0, *(one.top_mm for one in self.callouts)])
        bottom = max([picture.height_mm, *(one.top_mm + one.height_mm for one in self.callouts)])
        #: Where its lines begin, below its upper edge.
        self.words_mm = bottom + 0.5
        self.right_mm = max(
            picture.width_mm,
            *(one.left_mm + one.width_mm for one in self.callouts),
            *(width_of(line, _HEADING_MM if not place else SIZE_MM)
              for place, line in enumerate(self.lines)),
            0.0,
        )  # fmt: skip

    @property
    def above_mm(self) -> float:
        """How far it reaches above the shank."""
        return self.picture.shank_mm - self.top_mm

    @property
    def below_mm(self) -> float:
        """How far it reaches below the shank."""
        return self.words_mm + LINE_MM * len(self.lines) - self.picture.shank_mm

    def lay(self, svg: ET.Element, left: float, shank: float) -> None:
        """Put it on the sheet, its shank at a height."""
        top = shank - self.picture.shank_mm
        inner = ET.fromstring(self.picture.svg)
        for element in inner.iter():
            # The sheet says once whose names these are.
            element.tag = element.tag.removeprefix(_SVG)
        for name, value in (
            ("x", left), ("y", top), ("width", self.picture.width_mm),
            ("height", self.picture.height_mm),
        ):  # fmt: skip
            inner.set(name, number(value))
        svg.append(inner)
        for line, words in enumerate(self.lines):
            write(svg, left, top + self.words_mm + LINE_MM * (line + 0.85), words,
                  size_mm=_HEADING_MM if line == 0 else SIZE_MM, italic=line == 0)  # fmt: skip
        group = ET.SubElement(svg, "g", {"transform": f"translate({number(left)} {number(top)})"})
        for span in self.spans:
            draw_bracket(group, span)
        draw_callouts(group, self.callouts)


def plate(
    pictures: Sequence[Picture],
    notes: Sequence[Sequence[str]],
    *,
    columns: int = 2,
    pixels_per_mm: float = 18.0,
    named: Sequence[Mapping[str, str]] = (),
    caption: str = "",
) -> Picture:
    """Return several pictures side by side, all to one scale, their shanks in line.

    Parameters
    ----------
    pictures : sequence of Picture
        Best without captions of their own.
    notes : sequence of sequence of str
        For each picture the lines written under it, the first as its heading.
    columns : int
    pixels_per_mm : float
    named : sequence of mapping of str to str, optional
        For each picture the parts that are pointed at, and what is written of them.
    caption : str
        What is written under the whole; a scale stands beside it.

    Raises
    ------
    ValueError
        Without a picture, or without notes for each.
    """
    if not pictures or len(notes) != len(pictures):
        raise ValueError("a plate wants pictures, and notes for each of them")
    columns = min(columns, len(pictures))
    told = [*named, *({} for _ in range(len(pictures) - len(named)))]
    cells = [_Cell(*one) for one in zip(pictures, notes, told, strict=True)]
    rows = [cells[at : at + columns] for at in range(0, len(cells), columns)]
    widths = [max(row[at].right_mm for row in rows if at < len(row)) for at in range(columns)]
    width = max(
        sum(widths) + _GAP_MM * (columns - 1) + 2 * _EDGE_MM,
        width_of(caption, _NAME_MM) + 9.0 + 2 * _EDGE_MM,
    )
    for row in rows:
        _line_up(row)
    heights = [
        (max(cell.above_mm for cell in row), max(cell.below_mm for cell in row)) for row in rows
    ]
    height = sum(map(sum, heights)) + _GAP_MM * (len(rows) - 1) + 2 * _EDGE_MM + _FOOT_MM
    title = caption or "; ".join(one.title for one in pictures)
    described = "; ".join(one.title for one in pictures)
    svg = page((0.0, 0.0, width, height), title, described, pixels_per_mm)
    draw_background(svg, (0.0, 0.0, width, height))
    _border(svg, width, height)
    top = _EDGE_MM
    for row, (above, below) in zip(rows, heights, strict=True):
        left = _EDGE_MM
        for cell, wide in zip(row, widths, strict=False):
            cell.lay(svg, left, top + above)
            left += wide + _GAP_MM
        top += above + below + _GAP_MM
    foot = height - _EDGE_MM
    svg.append(scale_bar(_EDGE_MM, foot))
    write(svg, width - _EDGE_MM, foot, caption, size_mm=_NAME_MM, italic=True, anchor="end")
    return Picture(ET.tostring(svg, encoding="unicode") + "\n", width, height, title)


def _line_up(row: Sequence[_Cell]) -> None:
    """Let the headings of a row stand on one line."""
    low = max(cell.words_mm - cell.picture.shank_mm for cell in row)
    for cell in row:
        cell.words_mm = low + cell.picture.shank_mm


def _border(svg: ET.Element, width: float, height: float) -> None:
    """Draw the plate's edge: a thick line and a thin one within it."""
    for inset, line in ((0.6, "0.1"), (0.9, "0.04")):
        ET.SubElement(
            svg, "rect",
            {"x": number(inset), "y": number(inset), "width": number(width - 2 * inset),
             "height": number(height - 2 * inset), "fill": "none", "stroke": INK,
             "stroke-width": line},
        )  # fmt: skip
