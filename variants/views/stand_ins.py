"""The answer of `instead`: what serves, the difference it makes, and what does not serve and why.

The JSON is an object with ``version`` (1), ``asked`` (material, part, style, colour), ``answers``
(each with ``material``, ``name``, ``colours``, ``distance``, ``differences``, ``caution``,
``items`` and ``likewise``, material ids), ``same`` (the same stuff by another name: ``material``,
``name``, ``colour``, ``says``, ``source``), ``shades`` (the same stuff in other colours), ``unfit``
(material, name, why) and ``may_be_left_out``.
"""

from __future__ import annotations

from typing import Any

from variants.explain import OtherName, StandIn, StandInGroup, StandIns
from variants.explain.wording import departure_words, join_words, source_items_of
from variants.model import Material, PartKind, Style
from variants.text import printable
from variants.views.columns import wrap, wrap_indented

#: How many other names of one answer are shown.
LIKEWISE = 2
_SMALL = 15
_DIFFERENCES = 4
_UNFIT = 5


def stand_in_lines(
    answer: StandIns, part: PartKind, style: Style, best: int, from_box: bool
) -> list[str]:
    """Return the answer, line by line."""
    lines = wrap_indented(_heading(answer, part, style, from_box), 0)
    if answer.held:
        lines += ["", *wrap_indented(f"In the box as asked for: {source_items_of(answer.held)}", 0)]
    if answer.same:
        names = join_words((_other_name_words(one) for one in answer.same), "or")
        lines += ["", *wrap_indented(f"The same stuff by another name: {names}.", 0)]
    lines += ["", " No  Distance  Instead"]
    for rank, one in enumerate(answer.answers[:best], start=1):
        lines += _answer_lines(rank, one, answer.asked.material)
    if not answer.answers:
        lines.append("     nothing that would serve")
    if answer.shades:
        lines += ["", "The same stuff in another colour:"]
        for shade in answer.shades[:3]:
            lines += wrap_indented(f"{departure_words(shade.distance)}  {_colour_words(shade)}", 4)
    if answer.unfit:
        lines += ["", "What does not serve here, though it is tied in at that part:"]
        for unfit in answer.unfit[:_UNFIT]:
            why = "; ".join(f"{need.says} [{need.source}]" for need in unfit.needs)
            lines += wrap_indented(f"{printable(unfit.material.name)}: {why}", 4)
    if answer.may_go is not None:
        lines += ["", *wrap_indented(f"A {style.name} may also go without the {part.name}.", 0)]
    return lines


def _other_name_words(name: OtherName) -> str:
    stuff, colour = name.material.name, name.colour.name if name.colour else ""
    return printable(stuff if colour.lower() in stuff.lower() else f"{stuff}, {colour}")


def _heading(answer: StandIns, part: PartKind, style: Style, from_box: bool) -> str:
    asked = answer.asked
    colour = f"{asked.colour.name} " if asked.colour else ""
    where = "from the box" if from_box else "from the whole table of materials"
    stuff = printable(f"{colour}{asked.material.name}")
    return (
        f"Instead of {stuff} as the {part.name} of a {style.name}, {where}. {answer.profile.says}"
    )


def _answer_lines(rank: int, answer: StandInGroup, wanted: Material) -> list[str]:
    first = answer.first
    lead = f"{rank:3}  {departure_words(first.distance):>8}  "
    lines = wrap(_stand_in_words(first), initial_indent=lead, subsequent_indent=" " * 17)
    named = dict.fromkeys(one.material.name for one in answer.likewise)
    named.pop(first.material.name, None)
    others = [printable(name) for name in list(named)[:LIKEWISE]]
    if others:
        lines += wrap_indented(f"likewise {join_words(others)}", 17)
    differences = _difference_words(first, wanted)
    if differences:
        lines += wrap_indented(differences, 17)
    if first.items:
        lines += wrap_indented(source_items_of(first.items), 17)
    if first.material.caution:
        lines += wrap_indented(f"Caution: {first.material.caution}", 17)
    return lines


def _stand_in_words(stand_in: StandIn) -> str:
    colours = _colour_words(stand_in)
    name = printable(stand_in.material.name)
    return f"{name}, {colours}" if colours and colours.lower() not in name.lower() else name


def _colour_words(stand_in: StandIn) -> str:
    return " with ".join(printable(colour.name) for colour in stand_in.colours)


def _difference_words(stand_in: StandIn, wanted: Material) -> str:
    """Return the differences that count, largest first, in trade words."""
    no_news = f"{stand_in.material.name} for {wanted.name}"
    told = [
        term.says
        for term in stand_in.terms
        if term.cost >= _SMALL and term.what != "caution" and term.says != no_news
    ]
    return "; ".join(told[:_DIFFERENCES])


def stand_in_json(answer: StandIns, best: int) -> dict[str, Any]:
    """Return the answer; see the module for the shape."""
    asked = answer.asked
    return {
        "version": 1,
        "asked": {
            "material": asked.material.id,
            "part": asked.part,
            "style": asked.style,
            "colour": asked.colour.id if asked.colour else None,
        },
        "answers": [
            {**_one_json(one.first), "likewise": [other.material.id for other in one.likewise]}
            for one in answer.answers[:best]
        ],
        "same": [
            {
                **_name_json(one.material),
                "colour": one.colour.id if one.colour else None,
                "says": one.says,
                "source": one.source,
            }
            for one in answer.same
        ],
        "shades": [_one_json(shade) for shade in answer.shades[:best]],
        "unfit": [
            {**_name_json(one.material), "why": [need.says for need in one.needs]}
            for one in answer.unfit
        ],
        "may_be_left_out": answer.may_go is not None,
    }


def _name_json(material: Material) -> dict[str, Any]:
    return {"material": material.id, "name": material.name}


def _one_json(stand_in: StandIn) -> dict[str, Any]:
    return {
        **_name_json(stand_in.material),
        "colours": [colour.id for colour in stand_in.colours],
        "distance": stand_in.distance / 1000,
        "differences": [
            {"what": term.what, "cost": term.cost / 1000, "says": term.says, "source": term.source}
            for term in stand_in.terms
        ],
        "caution": stand_in.material.caution,
        "items": [item.id for item in stand_in.items],
    }
