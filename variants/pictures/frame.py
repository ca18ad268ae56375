"""What stands round a drawing: the page, words for screen readers, the caption, the scale."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from variants.pictures.anchors import Anchor, anchors_of
from variants.pictures.key import ROW_MM, WORDS_MM, Entry, draw_patch
from variants.pictures.paper import FONT, INK, PAPER, Paper, number
from variants.pictures.profile import FlyView
from variants.pictures.spine import Spine
from variants.text import xml_safe

#: What is drawn, and the line that it stands along in profile.
Subject = tuple[FlyView, Spine | None]
_MARGIN_MM = 1.4
_CAPTION_MM = 3.2
_BARE_MARGIN_MM = 0.3
_SCALE_MM = 5.0
_LETTER_MM = 0.55


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished drawing.

    Attributes
    ----------
    svg : str
        A whole SVG document.
    width_mm, height_mm : float
        Of the paper.
    title : str
    anchors : mapping of part id to Anchor
        Where each part may be pointed at.
    shank_mm : float
        How far below its upper edge the shank lies.
    """

    svg: str
    width_mm: float
    height_mm: float
    title: str
    anchors: Mapping[str, Anchor] = field(default_factory=dict)
    shank_mm: float = 0.0

    def _repr_svg_(self) -> str:
        """Show the drawing in a notebook."""
        return self.svg


def frame_drawing(
    paper: Paper, subject: Subject, title: str, caption: str, description: str,
    pixels_per_mm: float, key: Sequence[Entry] = (),
) -> Picture:  # fmt: skip
    """Return a drawing on its page, with a caption and a scale.

    Parameters
    ----------
    paper : Paper
    subject : Subject
        What is drawn on it, and along which line.
    title, caption, description : str
        The caption is written under it; the others are for those who can't see it.
    pixels_per_mm : float
        How large it is shown.
    key : sequence of Entry
        What is told of each part under the drawing.
    """
    words = _draw_key(paper, key)
    left, top = (paper.low[axis] - _MARGIN_MM for axis in (0, 1))
    wanted = left + min(40.0, len(caption) * _LETTER_MM) + 2 * _MARGIN_MM
    right = max(paper.high[0] + _MARGIN_MM, left + 12.0, wanted)
    bottom = paper.high[1] + _MARGIN_MM + _CAPTION_MM
    width, height = right - left, bottom - top
    svg = page((left, top, width, height), title, description, pixels_per_mm)
    draw_background(svg, (left, top, width, height))
    svg.append(finish_drawing(paper))
    _write_key(svg, words)
    svg.append(scale_bar(left + _MARGIN_MM, bottom - _MARGIN_MM * 0.6))
    room = int((right - left) / _LETTER_MM)
    shown = xml_safe(caption)
    if len(shown) > room:
        shown = f"{shown[: room - 1]}…"
    write(svg, left + _MARGIN_MM, bottom - _MARGIN_MM * 0.6 - 1.4, shown, italic=True)
    return _finish(svg, paper, subject, (left, top, width, height), title)


def crop_drawing(
    paper: Paper, subject: Subject, title: str, description: str, pixels_per_mm: float,
    key: Sequence[Entry] = (),
) -> Picture:  # fmt: skip
    """Return the drawing alone, without paper under it."""
    words = _draw_key(paper, key)
    left, top = (paper.low[axis] - _BARE_MARGIN_MM for axis in (0, 1))
    right, bottom = (paper.high[axis] + _BARE_MARGIN_MM for axis in (0, 1))
    width, height = right - left, bottom - top
    svg = page((left, top, width, height), title, description, pixels_per_mm)
    svg.append(finish_drawing(paper))
    _write_key(svg, words)
    return _finish(svg, paper, subject, (left, top, width, height), title)


def _draw_key(paper: Paper, key: Sequence[Entry]) -> list[tuple[float, float, str]]:
    """Draw the key's patches under the drawing; return where its words begin, with the words."""
    if not key:
        return []
    group = paper.group("key")
    left, top = paper.low[0], paper.high[1] + 1.0
    words = []
    for row, entry in enumerate(key):
        y = top + row * ROW_MM
        draw_patch(paper, group, (paper.eye_mm - left, -y), entry.inks)
        words.append((left + WORDS_MM, y + 0.95, entry.words))
        paper.high[0] = max(paper.high[0], left + WORDS_MM + width_of(entry.words))
    return words


def _write_key(svg: ET.Element, words: Sequence[tuple[float, float, str]]) -> None:
    for x, y, told in words:
        write(svg, x, y, told, size_mm=1.0)


def width_of(words: str, size_mm: float = 1.0) -> float:
    """Return about how wide a line of text is; full-width signs count double."""
    wide = sum(2 if unicodedata.east_asian_width(one) in "WF" else 1 for one in words)
    return 0.5 * size_mm * wide


def _finish(
    svg: ET.Element, paper: Paper, subject: Subject, frame: tuple[float, float, float, float],
    title: str,
) -> Picture:  # fmt: skip
    left, top, width, height = frame
    fly, spine = subject
    # From in front the parts lie on one another, and none is pointed at.
    anchors = anchors_of(paper, fly, spine, (left, top)) if spine is not None else {}
    text = ET.tostring(svg, encoding="unicode") + "\n"
    return Picture(text, width, height, title, anchors, -top)


def page(
    frame: tuple[float, float, float, float], title: str, description: str, pixels_per_mm: float
) -> ET.Element:
    """Return an empty page (left, top, width, height in mm) with words for screen readers."""
    svg = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": " ".join(map(number, frame)),
            "width": number(frame[2] * pixels_per_mm),
            "height": number(frame[3] * pixels_per_mm),
            "role": "img",
        },
    )
    ET.SubElement(svg, "title").text = xml_safe(title)
    ET.SubElement(svg, "desc").text = xml_safe(description)
    return svg


def draw_background(svg: ET.Element, frame: tuple[float, float, float, float]) -> None:
    """Draw the paper's own colour under a page."""
    left, top, width, height = map(number, frame)
    ET.SubElement(
        svg, "rect", {"x": left, "y": top, "width": width, "height": height, "fill": PAPER}
    )


def finish_drawing(paper: Paper) -> ET.Element:
    """Return what is on the paper, with what is the rule on it said once."""
    paper.root.set("stroke-linecap", "round")
    paper.root.set("fill", "none")
    return paper.root


def write(
    svg: ET.Element, x: float, y: float, words: str, *, size_mm: float = 1.1, italic: bool = False,
    anchor: str = "",
) -> None:  # fmt: skip
    """Write a line of text."""
    look = {"x": number(x), "y": number(y), "font-family": FONT, "font-size": number(size_mm),
            "fill": INK}  # fmt: skip
    if italic:
        look["font-style"] = "italic"
    if anchor:
        look["text-anchor"] = anchor
    ET.SubElement(svg, "text", look).text = xml_safe(words)


def scale_bar(left: float, bottom: float) -> ET.Element:
    """Return a scale of millimetres, ticked and told."""
    group = ET.Element("g", {"data-part": "scale", "stroke": INK, "stroke-width": "0.06"})
    up = bottom - 0.2
    ends = [((left, up), (left + _SCALE_MM, up))]
    for tick in range(6):
        high = 0.34 if tick % 5 == 0 else 0.18
        at = left + _SCALE_MM * tick / 5
        ends.append(((at, up), (at, up - high)))
    for start, end in ends:
        ET.SubElement(
            group, "line",
            {"x1": number(start[0]), "y1": number(start[1]), "x2": number(end[0]),
             "y2": number(end[1])},
        )  # fmt: skip
    look = {"x": number(left + _SCALE_MM + 0.5), "y": number(bottom + 0.1), "font-family": FONT,
            "font-size": "1", "fill": INK, "stroke": "none"}  # fmt: skip
    ET.SubElement(group, "text", look).text = "5 mm"
    return group
