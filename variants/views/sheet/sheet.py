"""A bench sheet as data: the dressing, the steps, what stands in for what and why, cautions, kit.

A design, its layout and a variant come in; a `BenchSheet` of plain words goes out, which pages set
as HTML or PDF. Nothing is reckoned after this.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass

from variants.design import DesignProblem, adapted_counts, idle_counts
from variants.explain import PartReason, explain
from variants.explain.wording import as_written, departure_words, item_words, part_name
from variants.geometry import Layout, fly_geometry, uses_of
from variants.model import Attributes, Candidate, Part, Variant, asked_name
from variants.regions import Cautions, LawOfTheLand, Place, find_cautions_at
from variants.views.law import water_asks
from variants.views.sheet.kit import KitLine, kit_of
from variants.views.sheet.steps import Step, steps_of, stuff_words
from variants.views.sheet.steps_table import StepsTable

_COUNTS = {
    "turns": "turns", "turns_behind": "behind", "turns_front": "in front", "fibres": "fibres",
    "strands": "strands", "pairs": "pairs",
}  # fmt: skip
#: Below so many thousandths, reasons are told together in one line.
_TRIFLE = 10


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the dressing: part, stuff, its shades, counts, and where it lies in the box."""

    part: str
    stuff: str
    shades: tuple[str, ...]
    counts: str
    from_box: tuple[str, ...]
    is_changed: bool


@dataclass(frozen=True, slots=True)
class Substitution:
    """What stands in for what, and why it may: each reason with its cost and its source.

    ``asked`` is empty where the stuff is as written and only its counts are others.
    """

    part: str
    asked: str
    used: str
    reasons: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """Everything that stands on the sheet.

    Attributes
    ----------
    name, style, note, source : str
        Of the dressing.
    size : int
        Of the hook.
    hook : str
        Gape, shank and wire in mm.
    water : str
        How fast, or empty.
    which : str
        ``as written`` and what the water changes of that, or which variant.
    departure : str
    lines : tuple of Line
        In the traditional order of a written dressing.
    steps : tuple of Step
    substitutions : tuple of Substitution
    place : str
        Where it is to be fished, or empty.
    asks : tuple of str
        What the owner of the water asks.
    materials : tuple of str
        Cautions that stand with the materials.
    cautions : Cautions
    kit : tuple of KitLine
        Empty when nobody asked for a class.
    students, flies_each : int
    has_box : bool
    """

    name: str
    style: str
    note: str
    source: str
    size: int
    hook: str
    water: str
    which: str
    departure: str
    lines: tuple[Line, ...]
    steps: tuple[Step, ...]
    substitutions: tuple[Substitution, ...]
    place: str
    asks: tuple[str, ...]
    materials: tuple[str, ...]
    cautions: Cautions
    kit: tuple[KitLine, ...]
    students: int
    flies_each: int
    has_box: bool


def bench_sheet(
    design: DesignProblem,
    layout: Layout,
    table: StepsTable,
    law: LawOfTheLand,
    variant: Variant | None = None,
    *,
    place: Place | None = None,
    students: int = 0,
    flies_each: int = 1,
) -> BenchSheet:
    """Return the sheet of a variant, or of the dressing as written.

    Parameters
    ----------
    design : DesignProblem
    layout : Layout
    table : StepsTable
    law : LawOfTheLand
    variant : Variant, optional
        One of the design's; the dressing as written without one.
    place : Place, optional
        Where it is to be fished: its law and its water's rules are told.
    students, flies_each : int
        A class of so many, each tying so many; 0 for no class.

    Raises
    ------
    ValueError
        When the hook's dimensions are not known.
    """
    base, trade = design.request.base, design.rulebook.trade
    chosen = design.base if variant is None else variant.chosen
    geometry = fly_geometry(design, layout, variant)
    hook = geometry.hook
    uses = uses_of(geometry, chosen, layout) if students else ()
    parts = [Part(part, one.ingredients) for part, one in chosen.items() if one.ingredients]
    return BenchSheet(
        name=base.name,
        style=trade.styles[base.style].name,
        note=base.note,
        source=base.source,
        size=hook.size,
        hook=f"gape {hook.gape_mm:.1f}, shank {hook.shank_mm:.1f}, wire {hook.wire_mm:.2f} mm",
        water=design.request.water or "",
        which=as_written(design) if variant is None else f"variant {variant.rank}",
        departure=departure_words(0 if variant is None else variant.departure),
        lines=tuple(_lines(design, chosen)),
        steps=steps_of(geometry, chosen, design.rulebook, layout, table),
        substitutions=() if variant is None else tuple(_substitutions(design, variant)),
        materials=tuple(_material_cautions(parts)),
        place=place.name if place is not None else "",
        asks=tuple(water_asks(place)) if place is not None else (),
        cautions=find_cautions_at(parts, law, place),
        kit=kit_of(uses, trade, students, flies_each),
        students=students,
        flies_each=flies_each,
        has_box=variant is not None,
    )


def _lines(design: DesignProblem, chosen: Mapping[str, Candidate]) -> Iterable[Line]:
    parts = design.rulebook.trade.parts
    ordered = sorted(chosen, key=lambda part: parts[part].tying_order if part in parts else 0)
    there = {part for part, one in chosen.items() if one.ingredients}
    for part in ordered:
        one = chosen[part]
        yield Line(
            part_name(parts, part),
            stuff_words(one),
            shades_of(one),
            _counts(one, idle_counts(part, design.rules, there)),
            tuple(item_words(items) for items in one.items if items),
            one.identity != design.base[part].identity,
        )


def shades_of(candidate: Candidate) -> tuple[str, ...]:
    """Return the shades that a part shows, main one first; a blend shows its own."""
    shade = candidate.attributes.get("shade")
    if candidate.attributes.get("blend") and isinstance(shade, str):
        return (shade,)
    found = [
        shade
        for ingredient in candidate.ingredients
        if ingredient.colour is not None
        for shade in ingredient.colour.hexes
    ]
    return tuple(dict.fromkeys(found))


def _counts(candidate: Candidate, idle: Container[str]) -> str:
    told = candidate.attributes
    return ", ".join(
        f"{value} {words}{_asked(told, name)}"
        for name, words in _COUNTS.items()
        if isinstance(value := told.get(name), int) and value and name not in idle
    )


def _asked(told: Attributes, name: str) -> str:
    asked = told.get(asked_name(name))
    return f" instead of {asked}" if asked is not None and asked != told.get(name) else ""


def _substitutions(design: DesignProblem, variant: Variant) -> Iterable[Substitution]:
    for reason in explain(design, variant).parts:
        counts = adapted_counts(reason.used)
        is_other = reason.used.identity != reason.asked.identity
        if not is_other and not counts:
            continue
        used = reason.used.words if is_other else counts
        if is_other and counts:
            used += f"; {counts}"
        yield Substitution(
            part_name(design.rulebook.trade.parts, reason.part),
            reason.asked.words if is_other else "",
            used,
            tuple(_reasons(reason)),
        )


def _reasons(reason: PartReason) -> Iterable[tuple[str, str, str]]:
    """Yield what each reason costs, what it says, and its source: dearest first, trifles as one."""
    told = [(term.cost, f"{term.what}: {term.says}", term.source) for term in reason.terms]
    told += [
        (one.finding.cost, one.rule.says, one.rule.source)
        for one in reason.judgements
        if one.finding.cost
    ]
    told.sort(key=lambda one: -one[0])
    trifles = [one for one in told if one[0] < _TRIFLE]
    if len(trifles) < 2:
        trifles = []
    for cost, says, source in told[: len(told) - len(trifles)]:
        yield f"+{departure_words(cost)}", says, source
    if trifles:
        says = "; ".join(says for _, says, _ in trifles)
        sources = dict.fromkeys(source for *_, source in trifles if source)
        yield f"+{departure_words(sum(cost for cost, *_ in trifles))}", says, "; ".join(sources)


def _material_cautions(parts: Iterable[Part]) -> list[str]:
    found = {
        f"{one.material.name}: {one.material.caution}"
        for part in parts
        for one in part.ingredients
        if one.material.caution
    }
    return sorted(found)
