"""The laid-out derivation as SVG: a whole file, or the drawing that a page is made round."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from variants.pictures import Picture
from variants.pictures.charts.derivation import (
    HEAD,
    LABEL_LINE,
    LABEL_SIZE,
    NAME_SIZE,
    PICTURE_HIGH,
    WIDTH,
    Arrangement,
    PlacedEdge,
    PlacedNode,
    common_scale,
    lay_out,
    picture_frame,
)
from variants.pictures.charts.letters import wrap_words
from variants.pictures.charts.look import LIGHT
from variants.pictures.charts.shelf import Shelf, Shelved
from variants.pictures.charts.svg import Element, Sheet

if TYPE_CHECKING:
    import networkx as nx

_SCALE_Y = HEAD - 26.0
#: A faint halo keeps words legible where a line runs under them.
_HALO = {"stroke": LIGHT["paper"], "stroke_width": 3, "paint_order": "stroke",
         "stroke_linejoin": "round"}  # fmt: skip
#: How much of a corner is cut off.
_BEND = 10.0


def derivation_svg(
    graph: nx.DiGraph[str],
    root: str,
    pictures: Mapping[str, Picture],
    title: str,
    *,
    links: bool = False,
) -> str:
    """Return the derivation as SVG.

    Parameters
    ----------
    graph : networkx.DiGraph
    root : str
    pictures : mapping of node to Picture
        Without captions; a node without one shows its words alone.
    title : str
        Stands above it.
    links : bool
        Whether each dressing is a link to the element of a page that tells of it.
    """
    arrangement = lay_out(graph, root)
    told = "; ".join(f"{node.label}, {node.below}" for node in arrangement.nodes.values())
    sheet = Sheet(title, f"How variants descend, and how far each departs: {told}.")
    if links:
        # Its links are read one by one, which a picture as a whole would hide.
        sheet.root.set("role", "group")
        sheet.root.set("id", "derivation")
    shelf = Shelf()
    shelved = {
        node: shelf.put(node, pictures[node]) for node in arrangement.nodes if node in pictures
    }
    sheet.root.insert(2, shelf.defs)
    _guides(sheet, arrangement)
    if not links:
        sheet.words(sheet.top, 20, 32, title, 20, font_weight="600")
    _caption(sheet, arrangement, common_scale(shelved))
    lines = sheet.group(sheet.top)
    left_from: dict[tuple[str, bool], float] = {}
    for edge in arrangement.edges:
        trunk = edge.before, edge.is_first
        _line(sheet, lines, edge, left_from.get(trunk, edge.start[1]), links)
        left_from[trunk] = edge.end[1] - _BEND
    if links:
        sheet.group(sheet.top, id="way")
    scale = common_scale(shelved)
    for node in arrangement.nodes.values():
        incoming = [one for one in arrangement.edges if one.after == node.name]
        _node(sheet, node, incoming, shelved.get(node.name), scale, links)
    _axis(sheet, arrangement, links)
    return sheet.svg(arrangement.width, arrangement.height, declared_size=not links)


def _guides(sheet: Sheet, arrangement: Arrangement) -> None:
    """Draw a faint line down from each mark of the scale."""
    guides = sheet.group(sheet.top, stroke=LIGHT["rule"], stroke_width=0.7, stroke_dasharray="1 4")
    for _, x in arrangement.ticks:
        sheet.line(guides, (x, _SCALE_Y), (x, arrangement.height - 12), stroke=None)


def _axis(sheet: Sheet, arrangement: Arrangement, links: bool) -> None:
    """Draw the scale of departure; on a page it stays in sight, so it brings its own ground."""
    axis = sheet.group(sheet.top, **{"class": "axis"} if links else {})
    if links:
        sheet.box(axis, 0, _SCALE_Y - 32, arrangement.width, 42, fill=LIGHT["paper"])
    first, farthest = arrangement.ticks[0][1], max(one.x for one in arrangement.nodes.values())
    last = max(farthest, arrangement.ticks[-1][1])
    sheet.line(axis, (first, _SCALE_Y), (last, _SCALE_Y))
    sheet.words(axis, last + 10, _SCALE_Y + 4, "departure", 12, font_style="italic",
                fill=LIGHT["faint"])  # fmt: skip
    for thousandths, x in arrangement.ticks:
        sheet.line(axis, (x, _SCALE_Y - 4), (x, _SCALE_Y + 4))
        words = f"{thousandths / 1000:.2f}"
        sheet.words(axis, x, _SCALE_Y - 8, words, 12, text_anchor="middle")


def _line(sheet: Sheet, within: Element, edge: PlacedEdge, begun: float, links: bool) -> None:
    """Draw the line of a substitution: down from the parent, then along to the child.

    ``begun`` is how far down brothers have drawn the way from their parent already; a page, which
    shows the way to one dressing, finds it whole beside.
    """
    (x, y), (to_x, to_y) = edge.start, edge.end
    bend = min(_BEND, abs(to_x - x), abs(to_y - y))
    onward = [(x, to_y - bend), (x + bend * (1 if to_x > x else -1), to_y), (to_x, to_y)]
    dashes = None if edge.is_first else "5 4"
    drawn = sheet.path(within, [(x, min(begun, to_y - bend)), *onward], stroke_width=1.2,
                       stroke_dasharray=dashes, stroke_linejoin="round")  # fmt: skip
    if links and edge.is_first:
        drawn.set("data-edge", f"{edge.before} {edge.after}")
        drawn.set(
            "data-whole", "M" + "L".join(f"{one:.1f} {two:.1f}" for one, two in [(x, y), *onward])
        )


def _node(
    sheet: Sheet,
    node: PlacedNode,
    incoming: list[PlacedEdge],
    shelved: Shelved | None,
    scale: float,
    links: bool,
) -> None:
    group = sheet.group(sheet.top, data_node=node.name)
    _write_out(sheet, group, incoming)
    card = _link(sheet, group, node) if links else group
    is_base = node.parent is None
    sheet.dot(card, node.x, node.y, 5 if is_base else 4, fill=LIGHT["ink"] if is_base else
              LIGHT["paper"], stroke=LIGHT["ink"], stroke_width=1.6)  # fmt: skip
    if shelved is not None:
        frame = (*node.picture, *picture_frame(shelved, scale))
        sides = zip(("x", "y", "width", "height"), frame, strict=True)
        told = {side: f"{value:.1f}" for side, value in sides}
        ET.SubElement(card, "use", {"href": f"#{shelved.id}", **told})
    x, y = node.words
    names = wrap_words(node.label, NAME_SIZE, WIDTH - 12.0 - x, most=2)
    for place, line in enumerate(names):
        sheet.words(card, x, y + 18 * place, line, NAME_SIZE, font_weight="600", **_HALO,
                    data_label=f"{node.name}")  # fmt: skip
    sheet.words(card, x, y + 18 * len(names), node.below, LABEL_SIZE, fill=LIGHT["faint"], **_HALO,
                data_label=f"{node.name}")  # fmt: skip


def _write_out(sheet: Sheet, group: Element, incoming: list[PlacedEdge]) -> None:
    """Write on the lines that lead to a dressing what changes."""
    for edge in incoming:
        for place, line in enumerate(edge.lines):
            sheet.words(group, edge.text_x, edge.text_y + place * LABEL_LINE - 3, line, LABEL_SIZE,
                        font_style="italic", fill=LIGHT["changed"], **_HALO,
                        data_label=f"{edge.before} {edge.after}")  # fmt: skip


def _link(sheet: Sheet, group: Element, node: PlacedNode) -> Element:
    """Begin a link to where a page tells of a dressing, and the frame that shows it is chosen."""
    told = {
        "href": f"#about-{node.name}", "aria-label": f"{node.label}, {node.below}",
        "data-node": node.name, "data-parent": node.parent or "",
    }  # fmt: skip
    link = ET.SubElement(group, "a", told)
    sheet.box(link, node.x - 8, node.y - 7, 300, PICTURE_HIGH + 14, fill="none", rx=3,
              **{"class": "card", "pointer-events": "all"})  # fmt: skip
    return link


def _caption(sheet: Sheet, arrangement: Arrangement, scale: float) -> None:
    """Tell how large the flies are shown."""
    x, y = arrangement.width - 150.0, 34.0
    sheet.line(sheet.top, (x, y), (x + 10 * scale, y))
    for end in (x, x + 10 * scale):
        sheet.line(sheet.top, (end, y - 3), (end, y + 3))
    sheet.words(sheet.top, x + 10 * scale + 6, y + 4, "10 mm", 12)
