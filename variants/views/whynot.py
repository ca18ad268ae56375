"""Why a dressing can't be tied, and what would help: on a terminal and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from variants.design import ChangesConstraint, DesignProblem, FlyConstraint, RuleConstraint
from variants.explain import AllConflicts, Effort, Obstacle, Purchase, Repair, nearest_miss
from variants.explain.changes import find_changes
from variants.explain.wording import departure_words, part_name, pluralize
from variants.geometry.targets import find_span, gauge_size, will_do
from variants.model import HOOK, Variant
from variants.text import printable
from variants.views.as_json import number_json
from variants.views.columns import wrap
from variants.views.reasons import empty_words, obstacle_lines

VERSION = 1
#: So many conflicts are shown in full; the others are counted.
MOST_SHOWN = 6
#: What each kind of way out is called.
EFFORTS = {
    Effort.SIZE: "Another hook size",
    Effort.PART: "Another part",
    Effort.LIMIT: "What you asked",
    Effort.PURCHASE: "Buy",
    Effort.RULE: "Against a rule, at your own judgement",
    Effort.TOGETHER: "Several things at once, for no single one is enough",
}


def tieable_lines(design: DesignProblem, variant: Variant, ceiling: int) -> list[str]:
    """Return the answer where there is a variant, near enough or too far off."""
    name = printable(design.request.base.name)
    if variant.departure > ceiling:
        lines = wrap(too_far_words(design, variant, ceiling))
        for change in find_changes(design, variant):
            lines += wrap(f"- {change.part}: {change.words}", subsequent_indent="    ")
        return lines
    told = f"{name} can be tied: the closest variant departs {departure_words(variant.departure)}."
    return wrap(f"{told} See propose for what differs.")


def too_far_words(design: DesignProblem, variant: Variant, ceiling: int) -> str:
    """Say that the nearest that the box gives is another fly."""
    name = printable(design.request.base.name)
    return (
        f"{name} can't be tied within {departure_words(ceiling)}: the nearest departs"
        f" {departure_words(variant.departure)}, which is another fly."
    )


def whynot_lines(design: DesignProblem, why: AllConflicts, ways: Sequence[Repair]) -> list[str]:
    """Return every conflict and every way out."""
    name = printable(design.request.base.name)
    lines = wrap(f"Why {name} can't be tied from this box")
    for part in why.empty_parts:
        told = f"Nothing that is left in the box can be the {empty_words(design, part)}."
        lines += ["", *wrap(told)]
    for conflict in why.conflicts[:MOST_SHOWN]:
        lines += ["", *_conflict_lines(design, conflict)]
    more = len(why.conflicts) - MOST_SHOWN
    if more > 0:
        lines += ["", f"There are {more} more conflicts of the same kind; --json lists them."]
    if not why.is_complete:
        lines += ["", "There are more ways in which the rules get in each other's way."]
    lines += ["", *_repair_lines(design, ways)]
    return lines


def _conflict_lines(design: DesignProblem, conflict: Sequence[FlyConstraint]) -> list[str]:
    several = "These can't all be kept:" if len(conflict) > 1 else "This can't be kept:"
    lines = [several]
    for constraint in conflict:
        lines += obstacle_lines(Obstacle(constraint, nearest_miss(design, constraint)))
        if isinstance(constraint, ChangesConstraint):
            lines += _not_as_written(design)
    return lines


def _not_as_written(design: DesignProblem) -> list[str]:
    """Return which parts the box can't fill as written, each a change by itself."""
    wanting = [
        f"{part_name(design.rulebook.trade.parts, part)}, {printable(design.base[part].words)}"
        for part in design.domains
        if not design.has_as_written(part)
    ]
    told = f"as written the box has none of: {'; '.join(wanting)}" if wanting else ""
    return wrap(told, initial_indent=" " * 4, subsequent_indent=" " * 11)


def _repair_lines(design: DesignProblem, ways: Sequence[Repair]) -> list[str]:
    if not ways:
        return wrap("No way out was found, not even by several things at once.")
    lines = ["What would help, each tried and seen to work:"]
    for effort in Effort:
        own = [one for one in ways if one.effort is effort]
        if not own:
            continue
        lines.append(f"  {EFFORTS[effort]}")
        for one in own:
            far = f"departs {departure_words(one.variant.departure)}"
            if one.variant.changed:
                far += f", {pluralize(len(one.variant.changed), 'part')} changed"
            lines += wrap(
                f"- {printable(one.says)} ({far})",
                initial_indent="    ",
                subsequent_indent="      ",
            )
            for purchase in one.purchases:
                lines += wrap(
                    purchase_words(design, purchase),
                    initial_indent="        ",
                    subsequent_indent="        ",
                )
    return lines


def purchase_words(design: DesignProblem, purchase: Purchase) -> str:
    """Return what to look for in the shop: the stuff, its size or length, and cautions."""
    name = part_name(design.rulebook.trade.parts, purchase.part)
    told = f"{name}: {printable(purchase.ingredient.words)}"
    if purchase.size is not None:
        told += f", size {purchase.size}"
    wanted = _length_wanted(design, purchase.part)
    if wanted:
        told += f", {wanted}"
    if purchase.is_stand_in:
        told += "; a stand-in for what the dressing writes"
    if purchase.ingredient.material.caution:
        told += f". Caution: {printable(purchase.ingredient.material.caution)}"
    return told


def _length_wanted(design: DesignProblem, part: str) -> str:
    """Return the fibre length that the rules ask of a part on the hook asked for."""
    hook = design.base[HOOK].attributes if HOOK in design.base else {}
    span = find_span(design.rules, part, hook)
    if span is None:
        return ""
    told = f"{span.right:.1f} mm long ({will_do(span.low, span.high)})"
    if design.rulebook.trade.part_kind(part).gauged:
        told += f", gauge size {gauge_size(design.rulebook, span.right)}"
    return told


def whynot_json(
    design: DesignProblem,
    why: AllConflicts | None,
    ways: Sequence[Repair],
    variant: Variant | None,
    ceiling: int,
) -> dict[str, Any]:
    """Return the answer in its documented JSON shape."""
    return {
        "version": VERSION,
        "dressing": design.request.base.name,
        "tieable": variant is not None and variant.departure <= ceiling,
        "at_most": ceiling / 1000,
        "departure": None if variant is None else variant.departure / 1000,
        "empty_parts": list(why.empty_parts) if why else [],
        "conflicts": [
            [_constraint_json(design, one) for one in conflict]
            for conflict in (why.conflicts if why else ())
        ],
        "complete": why.is_complete if why else True,
        "repairs": [_repair_json(one) for one in ways],
    }


def _constraint_json(design: DesignProblem, constraint: FlyConstraint) -> dict[str, Any]:
    told: dict[str, Any] = {"parts": list(constraint.parts), "rule": None, "says": ""}
    if isinstance(constraint, RuleConstraint):
        rule = constraint.rule
        told |= {"rule": rule.id, "says": rule.says, "source": rule.source}
    miss = nearest_miss(design, constraint)
    if miss is not None:
        told["nearest"] = {
            "items": [
                [item.id for items in one.items for item in items[:1]] for one in miss.chosen
            ],
            "number": number_json(miss.number),
            "missed_by": miss.missed_by,
        }
    return told


def _repair_json(repair: Repair) -> dict[str, Any]:
    return {
        "effort": repair.effort.name.lower(),
        "says": repair.says,
        "departure": repair.variant.departure / 1000,
        "changed": list(repair.variant.changed),
        "purchases": [
            {
                "part": one.part,
                "material": one.ingredient.material.id,
                "colour": one.ingredient.colour.id if one.ingredient.colour else None,
                "size": one.size,
                "stand_in": one.is_stand_in,
            }
            for one in repair.purchases
        ],
    }
