"""Ways out when a dressing can't be tied: each one tried by solving again, least effort first.

A design problem without a variant comes in; repairs come out: another hook size, a part left out or
let change, a limit of the request eased, something bought, a rule gone against. Nothing is offered
that was not seen to work.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import lru_cache

from variants.explain.all_conflicts import AllConflicts
from variants.explain.to_buy import HOOK, Purchase, item_of, purchases_for
from variants.model import Box, Variant
from variants.problem import (
    ChangesConstraint,
    DesignProblem,
    Lot,
    Request,
    RuleConstraint,
    Stock,
    build_problem,
    stock_of,
)
from variants.rulebook import Lawful
from variants.search import search

#: So many hook sizes are offered, the nearest ones that work.
MOST_SIZES = 2


class Effort(IntEnum):
    """How much a repair asks of the tyer, least first."""

    SIZE = 1
    PART = 2
    LIMIT = 3
    PURCHASE = 4
    RULE = 5


@dataclass(frozen=True, slots=True)
class Repair:
    """One way out, and the closest variant that it gives.

    Attributes
    ----------
    effort : Effort
    says : str
        What to do, in trade words.
    purchases : tuple of Purchase
    design : DesignProblem
        As repaired.
    variant : Variant
    """

    effort: Effort
    says: str
    purchases: tuple[Purchase, ...]
    design: DesignProblem
    variant: Variant


def repairs(design: DesignProblem, why: AllConflicts) -> list[Repair]:
    """Return the ways out of a problem without a variant, least effort first.

    Parameters
    ----------
    design : DesignProblem
    why : AllConflicts
        Its conflicts, as `all_conflicts` finds them.

    Notes
    -----
    Repairs of one effort go by the departure of the variant that they give.
    """
    found = [
        *_other_sizes(design),
        *_parts_let_go(design),
        *_limits_eased(design),
        *_bought(design, why),
        *_rules_gone_against(design, why),
    ]
    return sorted(found, key=lambda one: (one.effort, one.variant.departure, one.says))


def _tried(
    design: DesignProblem,
    request: Request,
    effort: Effort,
    says: str,
    purchases: tuple[Purchase, ...] = (),
) -> Repair | None:
    """Return the repair when the changed request has a variant."""
    stock = _stocks(design, request, purchases)
    again = build_problem(request, design.rulebook, stock)
    if request.max_changes is not None and len(_must_change(again)) > request.max_changes:
        return None
    best = search(again, 1).variants
    return Repair(effort, says, purchases, again, best[0]) if best else None


@lru_cache(maxsize=8)
def _sorted_box(box: _Held, missing: frozenset[str]) -> Stock:
    return stock_of(box.box, missing)


class _Held:
    """A box by its identity: comparing two by their items would take as long as sorting them."""

    def __init__(self, box: Box) -> None:
        self.box = box

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Held) and self.box is other.box

    def __hash__(self) -> int:
        return id(self.box)


def _stocks(design: DesignProblem, request: Request, purchases: tuple[Purchase, ...]) -> Stock:
    """Return the box sorted, with the purchases in it; the box itself is sorted once."""
    known = _sorted_box(_Held(design.request.box), request.missing_stuff)
    if not purchases:
        return known
    lots = [
        Lot(one.ingredient, (item_of(one, number),), None) for number, one in enumerate(purchases)
    ]
    return Stock(tuple(sorted((*known.lots, *lots), key=lambda lot: lot.key)))


def _other_sizes(design: DesignProblem) -> list[Repair]:
    request = design.request
    if request.base.part(HOOK) is None:
        return []
    asked = request.sizes or request.base.sizes
    owned = {
        size
        for item in request.box.items
        if HOOK in item.material.functions and not item.is_gone
        for size in item.sizes or ()
    }
    nearest = sorted(
        owned - set(asked), key=lambda size: (min(abs(size - one) for one in asked), size)
    )
    found: list[Repair] = []
    for size in nearest:
        says = f"tie it on a hook size {size}"
        repair = _tried(design, replace(request, sizes=(size,)), Effort.SIZE, says)
        if repair is not None:
            found.append(repair)
        if len(found) == MOST_SIZES:
            break
    return found


def _parts_let_go(design: DesignProblem) -> Iterator[Repair]:
    """Yield what comes of leaving out a part, where the fly can, or of letting it change."""
    request = design.request
    style = design.rulebook.trade.styles[request.base.style]
    for part in request.base.parts:
        kind = style.part(part.id)
        if part.id in request.keep:
            eased = replace(request, keep=request.keep - {part.id})
            repair = _tried(design, eased, Effort.PART, f"let the {part.id} change")
            if repair is not None:
                yield repair
        if kind is None or not kind.optional or not (part.signature or part.id in request.keep):
            continue
        rest = tuple(other for other in request.base.parts if other.id != part.id)
        without = replace(
            request, base=replace(request.base, parts=rest), keep=request.keep - {part.id}
        )
        repair = _tried(design, without, Effort.PART, f"leave out the {part.id}")
        if repair is not None:
            yield repair


def _limits_eased(design: DesignProblem) -> Iterator[Repair]:
    request = design.request
    if request.max_changes is not None:
        free = _tried(design, replace(request, max_changes=None), Effort.LIMIT, "")
        if free is not None:
            yield _fewest_changes(design, free)
    for name in sorted(request.missing):
        eased = replace(request, missing=request.missing - {name})
        repair = _tried(design, eased, Effort.LIMIT, f"use the {name} after all")
        if repair is not None:
            yield repair


def _fewest_changes(design: DesignProblem, free: Repair) -> Repair:
    """Return the repair with the smallest limit on changes that still has a variant."""
    request = design.request
    low, best = max((request.max_changes or 0) + 1, len(_must_change(free.design))), free
    high = len(free.variant.changed)
    while low <= high:
        middle = (low + high) // 2
        repair = _tried(design, replace(request, max_changes=middle), Effort.LIMIT, "")
        if repair is None:
            low = middle + 1
        else:
            best, high = repair, middle - 1
    return replace(best, says=f"let {len(best.variant.changed)} parts change")


def _bought(design: DesignProblem, why: AllConflicts) -> Iterator[Repair]:
    """Yield the purchases that help: one thing where one is enough, else all that is wanting."""
    request = design.request
    parts = _concerned(design, why)
    found = False
    if len(why.empty_parts) <= 1:
        for part in why.empty_parts or parts:
            repair = _with(design, (part,))
            if repair is not None:
                found = True
                yield repair
    if not found:
        wanting = tuple(
            part.id for part in request.base.parts if part.id in {*parts, *why.empty_parts}
        )
        repair = _fewest_bought(design, wanting)
        if repair is not None:
            yield repair


def _fewest_bought(design: DesignProblem, wanting: Sequence[str]) -> Repair | None:
    """Return what comes of buying for some parts, none of which could be spared."""
    best = _with(design, wanting)
    if best is None:
        return None
    for part in reversed(wanting):
        rest = [other for other in wanting if other != part]
        fewer = _with(design, rest) if rest else None
        if fewer is not None:
            wanting, best = rest, fewer
    return best


def _concerned(design: DesignProblem, why: AllConflicts) -> list[str]:
    """Return the parts that a purchase could help, in the order of the dressing.

    A limit on changes speaks of every part; only those help that are changed for want of stuff.
    """
    parts: set[str] = set()
    for one in {id(one): one for conflict in why.conflicts for one in conflict}.values():
        if isinstance(one, ChangesConstraint):
            parts |= {part for part in one.parts if not design.has_as_written(part)}
        else:
            parts |= set(one.parts)
    return [part.id for part in design.request.base.parts if part.id in parts]


def _must_change(design: DesignProblem) -> list[str]:
    """Return the parts that the box can't fill as written."""
    return [part for part in design.domains if not design.has_as_written(part)]


def _with(design: DesignProblem, parts: Sequence[str]) -> Repair | None:
    request = design.request
    purchases = tuple(one for part in parts for one in purchases_for(design, part))
    if not purchases:
        return None
    items = [item_of(one, number) for number, one in enumerate(purchases)]
    box = Box((*request.box.items, *items))
    # What is called missing can't be bought either, but the part may be filled from the shop.
    missing = frozenset(name for name in request.missing if request.base.part(name) is None)
    says = "buy " + " and ".join(dict.fromkeys(one.ingredient.words for one in purchases))
    return _tried(
        design, replace(request, box=box, missing=missing), Effort.PURCHASE, says, purchases
    )


def _rules_gone_against(design: DesignProblem, why: AllConflicts) -> Iterator[Repair]:
    """Yield single rules that stand in the way: going against one is the tyer's own affair.

    Law is not: nobody is told to go against it.
    """
    if why.empty_parts:
        return
    for removal in why.removals:
        if len(removal) != 1 or not isinstance(removal[0], RuleConstraint):
            continue
        rule = removal[0].rule
        if isinstance(rule, Lawful):
            continue
        constraints = tuple(one for one in design.constraints if one is not removal[0])
        eased = replace(design, constraints=constraints)
        best = search(eased, 1).variants
        if best:
            says = f"go against the rule: {rule.says} [{rule.id}]"
            yield Repair(Effort.RULE, says, (), eased, best[0])
