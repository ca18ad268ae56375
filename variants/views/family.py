"""One dressing on several waters, on a terminal: each water's fly, flies for several, the tree."""

from __future__ import annotations

from variants.explain.derivation import BASE
from variants.explain.wording import departure_words, join_words, pluralize
from variants.regions import Adaptation, Ancestor, Family, RegionalVariant
from variants.text import printable
from variants.views.columns import wrap
from variants.views.region import natural_words, none_lines, variant_lines
from variants.views.tree import tree_lines


def family_lines(family: Family) -> list[str]:
    """Return the whole answer but the law, line by line."""
    first = family.adaptations[0]
    request = first.design.request
    told = f"{printable(request.base.name)} for {pluralize(len(family.adaptations), 'water')}"
    items = pluralize(len(request.box.items), "item")
    lines = wrap(f"{told}, {first.target.style.name}, from {items}")
    for adaptation in family.adaptations:
        lines += ["", *_water_lines(adaptation)]
    if family.ancestors:
        lines += ["", "One fly for several waters, its turns and fibres as each asks"]
        for ancestor in family.ancestors:
            lines += _ancestor_lines(family, ancestor)
    lines += ["", "How they descend", *tree_lines(family.descent.graph, BASE), ""]
    return lines + wrap(
        "The fly of each water has the least sum of departure and distance of its whole front;"
        " one for several waters has the least sum over all of them. Both are proven.",
    )


def _water_lines(adaptation: Adaptation) -> list[str]:
    target = adaptation.target
    water = target.place.water
    lines = wrap(
        f"{target.place.name}: {water.speed}, {water.clarity}; {natural_words(target.natural)}",
        subsequent_indent="  ",
    )
    if adaptation.chosen is None:
        return [*lines, *none_lines(adaptation)]
    return [*lines, " No  Departure  Distance  What differs",
            *variant_lines(adaptation, adaptation.chosen)]  # fmt: skip


def _ancestor_lines(family: Family, ancestor: Ancestor) -> list[str]:
    lines = wrap(
        join_words(family.name(place) for place in ancestor.places),
        initial_indent="  ",
        subsequent_indent="  ",
    )
    first = ancestor.places[0]
    told = _stuff_words(family.adaptations[first], ancestor.variants[first])
    lines += wrap(told, initial_indent="    ", subsequent_indent="      ")
    for place, one in ancestor.variants.items():
        departure, apart = departure_words(one.departure), departure_words(one.distance)
        numbers = f"departs {departure}, {apart} from what is asked"
        lines += wrap(f"{family.name(place)}: {numbers}", initial_indent="    ")
    return lines


def _stuff_words(adaptation: Adaptation, one: RegionalVariant) -> str:
    """Return the stuff that differs; counts are each water's own."""
    told = []
    for part, used in one.variant.chosen.items():
        asked = adaptation.design.base[part]
        if used.identity != asked.identity:
            told.append(f"{part}: {asked.words} → {used.words}")
    return printable("; ".join(told)) or "as written"
