"""One style, part, material, colour or marking: everything that the tables tell of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from variants.model import Colour, Marking, Material, PartKind, Statute, Style
from variants.regions import says_words, written_words
from variants.rulebook import Rule, delta_e
from variants.views.topics.page import Page, Row, Section

if TYPE_CHECKING:
    from variants.views.topics.shelf import Shelf, Told

_NEAREST = 5
_GRADES = {
    "stiffness": ("limp", "soft", "medium", "springy", "stiff"),
    "sheen": ("dull", "slight", "medium", "bright", "mirror"),
    "durability": ("breaks at once", "fragile", "fair", "strong", "lasts"),
    "translucency": ("opaque", "slight", "some", "much", "clear"),
    "web": ("none", "a little", "some", "much", "all web"),
}


def style_page(shelf: Shelf, style: Style) -> Page:
    """Return how a style is built and fished, its parts and the rules that name it."""
    parts = tuple(
        Row(
            shelf.trade.parts[one.part].name,
            f"weight {one.weight:g}, {'may be left out' if one.optional else 'always there'}. "
            f"{one.says}",
            one.source,
        )
        for one in style.parts
    )
    own = [rule for rule in shelf.rulebook.rules if style.id in rule.styles]
    general = sum(not rule.styles for rule in shelf.rulebook.rules)
    also = Row("also called", ", ".join(style.also))
    rows = [also] if style.also else []
    rows.append(Row("fished", "on the surface" if style.floats else "under the surface"))
    return Page(
        f"Style {style.name}",
        style.says,
        (
            Section("", tuple(rows)),
            Section("Parts in tying order, and how much a change there weighs", parts),
            _rules(f"Rules that name this style ({general} more hold for every style)", own),
        ),
        style.source,
        shelf.places.of_style(style.id),
    )


def part_page(shelf: Shelf, part: PartKind) -> Page:
    """Return what a place on the fly is, which styles have it and which rules look at it."""
    styles = tuple(
        Row(style.name, f"weight {own.weight:g}. {own.says}", own.source)
        for style in shelf.trade.styles.values()
        if (own := style.part(part.id)) is not None
    )
    rows = [
        Row("also called", ", ".join(part.also)),
        Row("made of", f"what serves as {_any_of(part.functions)}" if part.functions else ""),
    ]
    return Page(
        f"Part {part.name}",
        part.says,
        (
            Section("", _stated(rows)),
            Section("Styles that have it", styles),
            _rules("Rules", [one for one in shelf.rulebook.rules if part.id in one.parts]),
        ),
        part.source,
        shelf.places.of_row("parts.tsv", part.id),
    )


def _any_of(words: Iterable[str]) -> str:
    return " or ".join(sorted(words))


def _rules(title: str, rules: Iterable[Rule]) -> Section:
    return Section(title, tuple(Row(rule.id, rule.says) for rule in rules))


def _stated(rows: Iterable[Row]) -> tuple[Row, ...]:
    return tuple(row for row in rows if row.says)


def colour_page(shelf: Shelf, colour: Colour) -> Page:
    """Return a colour: its shades, family and marking, and the nearest others."""
    names = {one.id: one.name for one in shelf.trade.colours.values()}
    marking = shelf.trade.markings.get(colour.marking)
    rows = [
        Row("also called", ", ".join(colour.also)),
        Row("family", colour.family),
        Row("marking", f"{marking.name}: {marking.says}" if marking else ""),
        Row("made up of", ", ".join(names.get(one, one) for one in colour.components)),
        Row("on the screen", ", ".join(colour.hexes), colour.hex_source),
        Row("note", colour.note),
    ]
    near = tuple(
        Row(other.name, f"ΔE {apart:.1f}, {other.hexes[0]}")
        for apart, other in _nearest_colours(shelf, colour)
    )
    return Page(
        f"Colour {colour.name}",
        "",
        (
            Section("", _stated(rows)),
            Section("Nearest of the same marking (CIEDE2000 of the main shade)", near),
        ),
        colour.source,
        shelf.places.of_row("colours.tsv", colour.id),
    )


def _nearest_colours(shelf: Shelf, colour: Colour) -> list[tuple[float, Colour]]:
    if not colour.hexes:
        return []
    apart = [
        (delta_e(colour.hexes[0], other.hexes[0]), other)
        for other in shelf.trade.colours.values()
        if other.id != colour.id and other.hexes and other.marking == colour.marking
    ]
    return sorted(apart, key=lambda pair: (pair[0], pair[1].id))[:_NEAREST]


def marking_page(shelf: Shelf, marking: Marking) -> Page:
    """Return how a feather carries its colours, and the markings most like it."""
    distances = shelf.trade.marking_distances
    near = sorted(
        (distance, other)
        for (one, other), distance in distances.items()
        if one == marking.id and other != marking.id
    )
    rows = tuple(
        Row(shelf.trade.markings[other].name, f"{distance:g} apart") for distance, other in near
    )
    return Page(
        f"Marking {marking.name}",
        marking.says,
        (Section("Nearest markings (0 the same, 1 wholly different)", rows),),
        marking.source,
        shelf.places.of_row("markings.tsv", marking.id),
    )


def class_page(shelf: Shelf, told: Told) -> Page:
    """Return a class of stuff and the materials in it."""
    found = [one for one in shelf.trade.materials.values() if one.kind == told.id]
    rows = tuple(
        Row(one.name, f"serves as {', '.join(sorted(one.functions))}")
        for one in sorted(found, key=lambda one: one.name)
    )
    says = told.says[:1].upper() + told.says[1:]
    return Page(f"Class {told.id}", says, (Section("Materials", rows),), told.source, told.place)


def material_page(shelf: Shelf, material: Material) -> Page:
    """Return what a material is, can be on a fly and how it behaves; stand-ins, law and care."""
    return Page(
        f"Material {material.name}",
        "",
        (
            Section("", _stated(_material_rows(shelf, material))),
            Section("Published stand-ins, best first", tuple(_stand_ins(shelf, material))),
            Section("Law, as far as the tables know", tuple(_law(shelf, material))),
        ),
        material.source,
        shelf.places.of_row("materials/*.tsv", material.id)
        or shelf.places.of_row("like.tsv", material.id),
    )


def _material_rows(shelf: Shelf, material: Material) -> Iterator[Row]:
    colours = [
        "any, dyed" if one == "any" else shelf.trade.colours[one].name for one in material.colours
    ]
    yield Row("also called", ", ".join(material.also))
    yield Row("class", material.kind)
    yield Row("comes from", material.comes_from)
    yield Row("serves as", ", ".join(sorted(material.functions)))
    for name, words in _GRADES.items():
        grade: int | None = getattr(material, name)
        yield Row(name, "" if grade is None else f"{grade} of 4, {words[grade]}")
    yield Row("in water", material.water)
    yield Row("texture", material.texture)
    if material.hollow is not None:
        yield Row("hollow", "yes, it flares under thread" if material.hollow else "no")
    if material.fibre_mm:
        yield Row("fibre", "{:g} to {:g} mm".format(*material.fibre_mm))
    yield Row("one strand", f"{material.thickness_mm:g} mm" if material.thickness_mm else "")
    density = material.density_g_cm3
    yield Row("density", f"{density:g} g/cm3" if density else "")
    yield Row("colours", ", ".join(colours))
    yield Row("note", material.note)
    yield Row("caution", material.caution)


def _stand_ins(shelf: Shelf, material: Material) -> Iterator[Row]:
    for one in material.substitutes:
        yield Row(shelf.trade.materials[one.material].name, one.difference)


def _law(shelf: Shelf, material: Material) -> Iterator[Row]:
    tables = shelf.law.tables
    rows = sorted(
        tables.rows_of(material), key=lambda one: list(tables.jurisdictions).index(one.place)
    )
    for statute in rows:
        place = tables.jurisdictions[statute.place]
        told = statute_words(shelf, statute, tables.taxa_of(statute, material))
        says = f"{told}. Ask {place.authority}."
        yield Row(place.name, says, written_words(statute))


def statute_words(shelf: Shelf, statute: Statute, subjects: Iterable[str]) -> str:
    """Return of what, and from where, a statute speaks, and what it says."""
    taxa = shelf.law.tables.taxa
    of = ", ".join(taxa[one].name if one in taxa else one for one in subjects)
    origin = "" if statute.origin == "any" else f", {statute.origin}"
    subject = f"{of}{origin}: " if of else ""
    return f"{statute.status}: {subject}{says_words(statute)}"


def statute_page(shelf: Shelf, statute: Statute) -> Page:
    """Return one statute: where it holds, of what, and whom to ask."""
    place = shelf.law.jurisdictions[statute.place]
    stuff = (
        one.name for one in shelf.trade.materials.values()
        if shelf.law.tables.speaks_of(statute, one)
    )  # fmt: skip
    until = statute.until.isoformat() if statute.until else ""
    rows = (
        Row("holds in", place.name),
        Row("says", statute_words(shelf, statute, statute.taxa)),
        Row("of", ", ".join(stuff)),
        Row("when", statute.when),
        Row("written", written_words(statute)),
        Row("address", statute.address if statute.seen == "memory" else ""),
        Row("until", until),
        Row("ask", place.authority),
    )
    says = "What the tables know of a law; no legal advice."
    stands = shelf.places.of_row("law/statutes.tsv", statute.id)
    return Page(f"Law {statute.id}", says, (Section("", _stated(rows)),), "", stands)
