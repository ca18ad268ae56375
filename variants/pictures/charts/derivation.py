"""The derivation as a picture: dressings hang along a line that measures how far they depart.

A networkx derivation and the flies' pictures come in; places go out (`lay_out`), and a whole SVG
(`derivation_svg`). Each dressing has a row of its own: the line from its parent with the
substitution written on it, and the fly below, at its departure. So no label can meet another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from variants.pictures.charts.letters import wrap_words
from variants.pictures.charts.shelf import Shelved

if TYPE_CHECKING:
    import networkx as nx

LABEL_SIZE, LABEL_LINE = 13.0, 17.0
NAME_SIZE, WIDTH = 15.0, 1180.0
PICTURE_WIDE, PICTURE_HIGH = 100.0, 74.0
#: Above the first row there is room for a heading and the scale.
HEAD = 96.0
_LEFT, _GAP, _MARGIN = 46.0, 14.0, 20.0
#: To the right of the farthest dressing its picture and its name have room.
_RIGHT = 400.0
_TICKS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
_MOST_TICKS = 10


@dataclass(frozen=True, slots=True)
class PlacedEdge:
    """The line from a parent: where it leaves and arrives, and what is written on it."""

    before: str
    after: str
    start: tuple[float, float]
    end: tuple[float, float]
    lines: tuple[str, ...]
    text_x: float
    text_y: float
    is_first: bool


@dataclass(frozen=True, slots=True)
class PlacedNode:
    """One dressing: its dot on the scale, its picture, and its words."""

    name: str
    x: float
    y: float
    parent: str | None
    label: str
    below: str

    @property
    def picture(self) -> tuple[float, float]:
        """Where its picture's upper left corner is."""
        return self.x + 10.0, self.y + 6.0

    @property
    def words(self) -> tuple[float, float]:
        """Where its name's base line begins."""
        return self.x + 10.0 + PICTURE_WIDE + 12.0, self.y + 36.0


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A whole derivation laid out.

    Attributes
    ----------
    nodes : mapping of node to PlacedNode
        In the order of the rows.
    edges : tuple of PlacedEdge
    ticks : tuple of (departure in thousandths, x)
    width, height : float
    """

    nodes: Mapping[str, PlacedNode]
    edges: tuple[PlacedEdge, ...]
    ticks: tuple[tuple[int, float], ...]
    width: float
    height: float


def lay_out(graph: nx.DiGraph[str], root: str) -> Arrangement:
    """Return the places of a derivation's dressings and substitutions.

    Parameters
    ----------
    graph : networkx.DiGraph
        As `variants.explain.derivation.derive` returns it.
    root : str

    Notes
    -----
    Rows follow the tree in which each dressing hangs from the nearest of those that it can come
    from, nearest first; other ways to it are drawn as well, and named in its row.
    """
    farthest = max([values["departure"] for _, values in graph.nodes(data=True)] + [1])
    scale = (WIDTH - _LEFT - _RIGHT) / farthest
    parents = {node: _nearest_parent(graph, node) for node in graph}
    nodes: dict[str, PlacedNode] = {}
    edges: list[PlacedEdge] = []
    y = HEAD
    for node in _rows(graph, root, parents):
        values = graph.nodes[node]
        x = _LEFT + values["departure"] * scale
        incoming: list[tuple[str, list[str], float]] = []
        for before in _parents_in_order(graph, node, parents[node]):
            text_x = nodes[before].x + 8.0 if before in nodes else _LEFT
            words = edge_words(graph, before, node, is_first=before == parents[node])
            lines = wrap_words(words, LABEL_SIZE, WIDTH - _MARGIN - text_x)
            incoming.append((before, lines, text_x))
        label_y = y + LABEL_LINE
        y += sum(len(lines) for _, lines, _ in incoming) * LABEL_LINE + (6.0 if incoming else 0.0)
        box = "" if values["in_box"] else ", not from this box"
        below = f"departs {values['departure'] / 1000:.2f}{box}"
        nodes[node] = PlacedNode(node, x, y, parents[node], values["label"], below)
        for before, lines, text_x in incoming:
            other = nodes[before]
            edges.append(
                PlacedEdge(
                    before, node, (other.x, other.y), (x, y), tuple(lines), text_x, label_y,
                    before == parents[node],
                )
            )  # fmt: skip
            label_y += len(lines) * LABEL_LINE
        y += PICTURE_HIGH + _GAP
    return Arrangement(nodes, tuple(edges), _ticks(farthest, scale), WIDTH, y + _MARGIN)


def _nearest_parent(graph: nx.DiGraph[str], node: str) -> str | None:
    """Return which dressing a dressing hangs from: the one that the last step is shortest from."""
    own = graph.nodes[node]["departure"]

    def step(before: str) -> tuple[bool, int, str]:
        further = own - graph.nodes[before]["departure"]
        return further < 0, abs(further), before

    return min(graph.predecessors(node), key=step, default=None)


def _rows(graph: nx.DiGraph[str], root: str, parents: Mapping[str, str | None]) -> Iterator[str]:
    """Yield the dressings row by row; none before any that it comes from."""
    children: dict[str, list[str]] = {node: [] for node in graph}
    for node, parent in parents.items():
        if parent is not None:
            children[parent].append(node)
    waiting, done = [root], set()
    later: list[str] = []
    while waiting or later:
        if not waiting:
            # What waited for another parent comes when that one is there.
            waiting = [one for one in later if all(p in done for p in graph.predecessors(one))]
            later = [one for one in later if one not in waiting]
            waiting.reverse()
        node = waiting.pop()
        if not all(parent in done for parent in graph.predecessors(node)):
            later.append(node)
            continue
        done.add(node)
        yield node
        waiting += sorted(
            children[node], key=lambda one: (graph.nodes[one]["departure"], one), reverse=True
        )


def _parents_in_order(graph: nx.DiGraph[str], node: str, first: str | None) -> list[str]:
    others = sorted(one for one in graph.predecessors(node) if one != first)
    return [*([first] if first is not None else []), *others]


def edge_words(graph: nx.DiGraph[str], before: str, after: str, *, is_first: bool = True) -> str:
    """Return what is written on a line: what changes, and from where when that is not plain."""
    edge = graph.edges[before, after]
    told = str(edge["label"])
    if edge["linked"]:
        told += f" (tied together: {edge['reason']})"
    source = graph.nodes[before]["label"]
    return f"from {source}: {told}" if is_first else f"or from {source}: {told}"


def _ticks(farthest: int, scale: float) -> tuple[tuple[int, float], ...]:
    step = next((one for one in _TICKS if farthest / 1000 / one <= _MOST_TICKS), _TICKS[-1])
    count = int(farthest / 1000 / step + 1e-9)
    return tuple(
        (round(number * step * 1000), _LEFT + number * step * 1000 * scale)
        for number in range(count + 1)
    )


def picture_frame(shelved: Shelved, pixels_per_mm: float) -> tuple[float, float]:
    """Return how wide and high a fly is shown."""
    return shelved.width_mm * pixels_per_mm, shelved.height_mm * pixels_per_mm


def common_scale(shelved: Mapping[str, Shelved]) -> float:
    """Return how many pixels a millimetre takes so that every fly fits its place, all to scale."""
    wide = max((one.width_mm for one in shelved.values()), default=1.0)
    high = max((one.height_mm for one in shelved.values()), default=1.0)
    return min(PICTURE_WIDE / wide, PICTURE_HIGH / high)
