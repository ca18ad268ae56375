"""The steps of one fly at the vice, in order, with their target lengths for its hook.

The fly's layout and what fills its parts come in; `Step`s go out. The words come from the table of
steps, the numbers from the geometry.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from variants.geometry import ANY, FlyGeometry, Layout, PartShape, stuffs_of
from variants.geometry.targets import gauge_size, inch_fraction
from variants.model import HEAD, Candidate, Origin, Trade
from variants.reading import Fault, InputError
from variants.rulebook import Rulebook
from variants.views.sheet.steps_table import FINISH, WORDS, StepRow, StepsTable

_SAME_MM = 0.05
#: A step: whose part, and which of its steps.
_Moment = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Target:
    """A length to set the dividers to.

    Attributes
    ----------
    right_mm, low_mm, high_mm : float
        What is right, and what the rule allows; the same where the layout alone tells.
    tied_mm : float
        What the stuff at hand gives.
    inches : str
        The right length as a fraction.
    gauge_size : int or None
        What a hackle gauge shows for it.
    """

    right_mm: float
    low_mm: float
    high_mm: float
    tied_mm: float
    inches: str
    gauge_size: int | None

    @property
    def words(self) -> str:
        """The length as it stands on the sheet."""
        told = [f"{self.right_mm:.1f} mm"]
        if self.high_mm - self.low_mm > _SAME_MM:
            told.append(f"({self.low_mm:.1f} to {self.high_mm:.1f})")
        return " ".join(told)

    @property
    def more(self) -> str:
        """The same length by other measures, and what is at hand where that differs."""
        told = [f"{self.inches} in"]
        if self.gauge_size is not None:
            told.append(f"gauge {self.gauge_size}")
        if abs(self.tied_mm - self.right_mm) > _SAME_MM:
            told.append(f"yours {self.tied_mm:.1f} mm")
        return ", ".join(told)


@dataclass(frozen=True, slots=True)
class Step:
    """One step: whose part, what is done, to which length, and where that comes from."""

    part: str
    says: str
    target: Target | None
    source: str


def steps_of(
    geometry: FlyGeometry,
    chosen: Mapping[str, Candidate],
    rulebook: Rulebook,
    layout: Layout,
    table: StepsTable,
) -> tuple[Step, ...]:
    """Return the steps of a fly in the order in which they are taken.

    Parameters
    ----------
    geometry : FlyGeometry
        Of these very candidates.
    chosen : mapping of part id to Candidate
    rulebook : Rulebook
    layout : Layout
    table : StepsTable
    """
    style = rulebook.trade.styles[geometry.style]
    filled = {part: one for part, one in chosen.items() if one.ingredients}
    fly = stuffs_of(filled, rulebook.trade.hook_models, rulebook.trade.parts)
    order = style.in_tying_order(filled)
    rows: dict[_Moment, StepRow] = {}
    for part in (*order, FINISH):
        words = {ANY: 0}
        if part in filled:
            material = filled[part].ingredients[0].material
            build = layout.builds.get(material.kind)
            words |= {build.build: 1} if build else {}
            words |= {material.kind: 2, material.id: 3}
        lineage = rulebook.trade.part_kind(part).lineage
        for row in table.of(style.lineage, lineage, words, fly):
            rows[part, row.step] = row
    first: dict[str, _Moment] = {}
    told = []
    for part, step in _in_order(rows, rulebook.trade):
        is_first = first.setdefault(part, (part, step)) == (part, step)
        target = _target(geometry.parts.get(part), rulebook) if is_first else None
        words_of = _words(part, filled.get(part), geometry)
        told.append(_step(part, rows[part, step], words_of, target))
    return tuple(told)


def _in_order(rows: Mapping[_Moment, StepRow], trade: Trade) -> list[_Moment]:
    """Return the steps so that each stands after those it waits for, else in the style's order.

    Raises
    ------
    InputError
        Where steps wait for each other.
    """
    import networkx as nx

    graph = nx.DiGraph()
    graph.add_nodes_from(rows)
    for moment, later in pairwise(rows):
        if moment[0] == later[0]:
            graph.add_edge(moment, later)
    parts = list(dict.fromkeys(part for part, _ in rows))
    places: dict[_Moment, tuple[int, int]] = {}
    for number, (moment, row) in enumerate(rows.items()):
        earlier, later_on = (
            _named(named, rows, moment[0], trade) for named in (row.after, row.before)
        )
        graph.add_edges_from([(one, moment) for one in earlier])
        graph.add_edges_from([(moment, one) for one in later_on])
        # What comes before a part is taken in that part's place, and what waits for it, after it.
        place = min(parts.index(part) for part, _ in (moment, *later_on))
        places[moment] = max([place, *(parts.index(part) for part, _ in earlier)]), number
    try:
        return list(nx.lexicographical_topological_sort(graph, key=places.__getitem__))
    except nx.NetworkXUnfeasible:
        ring = [": ".join(start) for start, _ in nx.find_cycle(graph)]
        problem = f"these steps wait for each other: {', '.join(ring)}"
        remedy = "change after or before of one of them"
        raise InputError([Fault(Origin("bench/steps.tsv"), problem, remedy)]) from None


def _named(
    words: Iterable[str], rows: Mapping[_Moment, StepRow], own: str, trade: Trade
) -> list[_Moment]:
    """Return the steps that words such as ``body`` or ``palmer: wind`` name, of other parts.

    What is like a part of that name is meant as well, but no part is like the one that asks.
    """
    wanted = [tuple(part.strip() for part in word.split(":")) for word in words]
    return [
        (part, step)
        for part, step in rows
        if part != own
        and any(
            (name, step) in wanted or (name,) in wanted
            for name in trade.part_kind(part).lineage
            if name != own
        )
    ]


def _step(part: str, row: StepRow, words: Mapping[str, str], target: Target | None) -> Step:
    return Step(part, row.told(words), target, row.source)


def _words(part: str, candidate: Candidate | None, fly: FlyGeometry) -> dict[str, str]:
    shape = fly.parts.get(part)
    words = {HEAD: _mm(fly.parts[HEAD].front_mm - fly.parts[HEAD].rear_mm)}
    words["behind_eye"] = words[HEAD]
    words |= {
        f"{name}_at": _mm(shape.rear_mm)
        for shape in fly.parts.values()
        for name in (shape.kind.form, shape.kind.id)
        if f"{name}_at" in WORDS
    }
    if candidate is not None:
        size = candidate.size_stated
        words["stuff"] = stuff_words(candidate).replace(f", {size}", f" ({size})" if size else ", ")
    if shape is None:
        return words
    words |= {"rear": _mm(shape.rear_mm), "front": _mm(shape.front_mm)}
    words |= {name: str(count) for name, count in shape.counts.items() if count}
    if shape.cone is not None:
        words |= {"thin": _mm(shape.cone.rear_mm), "thick": _mm(shape.cone.front_mm)}
    return words


def stuff_words(candidate: Candidate) -> str:
    """Return what fills a part, without the hook's size, which the sheet tells at its head."""
    size = candidate.attributes.get("size")
    return candidate.words.removesuffix(f", size {size}")


def _mm(length: float) -> str:
    return f"{max(0.0, length):.1f}"


def _target(shape: PartShape | None, rulebook: Rulebook) -> Target | None:
    if shape is None or shape.length_mm is None or shape.right_mm is None:
        return None
    right = shape.right_mm
    return Target(
        right,
        right if shape.low_mm is None else shape.low_mm,
        right if shape.high_mm is None else shape.high_mm,
        shape.length_mm,
        inch_fraction(right),
        gauge_size(rulebook, right) if shape.kind.gauged else None,
    )
