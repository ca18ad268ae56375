"""Ways out when a dressing can't be tied: each one tried by solving again, least effort first.

A design problem without a variant comes in; repairs come out: another hook size, a part left out or
let change, a limit of the request eased, something bought, a rule gone against. Nothing is offered
that was not seen to work.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import islice

from variants.design import ChangesConstraint, DesignProblem, Request, RuleConstraint, Watch
from variants.design.search import search
from variants.explain.all_conflicts import AllConflicts
from variants.explain.relaxations import Relaxation, find_minimal_relaxation
from variants.explain.repair import Effort, Repair, must_change, try_repair
from variants.explain.to_buy import find_purchases_for, item_of
from variants.model import HOOK, Box
from variants.rulebook import Lawful

#: So many hook sizes are offered, the nearest ones that work.
MOST_SIZES = 2


def find_repairs(
    design: DesignProblem,
    why: AllConflicts,
    watch: Watch | None = None,
    ceiling: int | None = None,
) -> list[Repair]:
    """Return the ways out of a problem without a variant, least effort first.

    Parameters
    ----------
    design : DesignProblem
    why : AllConflicts
        Its conflicts, as `find_all_conflicts` finds them.
    watch : Watch, optional
    ceiling : int, optional
        Thousandths; what departs more is another fly and no way out. By default what the
        conventions say.

    Raises
    ------
    TimeUpError
        When the watch says so.

    Notes
    -----
    Repairs of one effort go by the departure of the variant that they give. Where nothing helps by
    itself, several things are done together, none of which could be spared.
    """
    watch = watch or Watch()
    found = [
        *_try_other_sizes(design, watch),
        *_try_releasing_parts(design, watch),
        *_try_easing_limits(design, watch),
        *_try_buying(design, why, watch),
        *_try_waiving_rules(design, why, watch),
    ]
    if not found:
        found = [*_try_together(design, why, watch)]
    if ceiling is None:
        ceiling = design.rulebook.conventions.ceiling
    found = [one for one in found if one.variant.departure <= ceiling]
    return sorted(found, key=lambda one: (one.effort, one.variant.departure, one.says))


def _try_other_sizes(design: DesignProblem, watch: Watch) -> list[Repair]:
    request = design.request
    if request.base.part(HOOK) is None:
        return []
    asked = request.sizes or request.base.sizes
    found: list[Repair] = []
    for size in _other_sizes_owned(request, asked):
        says = f"tie it on a hook size {size}"
        repair = try_repair(design, replace(request, sizes=(size,)), Effort.SIZE, says)
        if repair is not None:
            found.append(repair)
        if len(found) == MOST_SIZES:
            break
    return found


def _other_sizes_owned(request: Request, asked: Sequence[int]) -> list[int]:
    """Return the hook sizes in the box beside those asked for, the nearest first."""
    owned = {
        size
        for item in request.box.items
        if HOOK in item.material.functions and not item.is_gone
        for size in item.sizes or ()
    }
    return sorted(
        owned - set(asked), key=lambda size: (min(abs(size - one) for one in asked), size)
    )


def _try_releasing_parts(design: DesignProblem, watch: Watch) -> Iterator[Repair]:
    """Yield what comes of leaving out a part, where the fly can, or of letting it change."""
    request = design.request
    style = design.rulebook.trade.styles[request.base.style]
    for part in request.base.parts:
        kind = style.part(part.id)
        if part.id in request.keep:
            eased = replace(request, keep=request.keep - {part.id})
            repair = try_repair(
                design, eased, Effort.PART, f"let the {part.id} change", watch=watch
            )
            if repair is not None:
                yield repair
        if kind is None or not kind.optional or part.signature or part.id not in request.keep:
            continue
        rest = tuple(other for other in request.base.parts if other.id != part.id)
        without = replace(
            request, base=replace(request.base, parts=rest), keep=request.keep - {part.id}
        )
        repair = try_repair(design, without, Effort.PART, f"leave out the {part.id}", watch=watch)
        if repair is not None:
            yield repair


def _try_easing_limits(design: DesignProblem, watch: Watch) -> Iterator[Repair]:
    request = design.request
    if request.max_changes is not None:
        free = try_repair(design, replace(request, max_changes=None), Effort.LIMIT, "", watch=watch)
        if free is not None:
            yield _fewest_changes(design, free, watch)
    for name in sorted(request.missing):
        eased = replace(request, missing=request.missing - {name})
        repair = try_repair(design, eased, Effort.LIMIT, f"use the {name} after all", watch=watch)
        if repair is not None:
            yield repair


def _fewest_changes(design: DesignProblem, free: Repair, watch: Watch) -> Repair:
    """Return the repair with the smallest limit on changes that still has a variant."""
    request = design.request
    low, best = max((request.max_changes or 0) + 1, len(must_change(free.design))), free
    high = len(free.variant.changed)
    while low <= high:
        middle = (low + high) // 2
        repair = try_repair(
            design, replace(request, max_changes=middle), Effort.LIMIT, "", watch=watch
        )
        if repair is None:
            low = middle + 1
        else:
            best, high = repair, middle - 1
    count = len(best.variant.changed)
    return replace(best, says=f"let {count} part{'s' if count > 1 else ''} change")


def _try_buying(design: DesignProblem, why: AllConflicts, watch: Watch) -> Iterator[Repair]:
    """Yield the purchases that help: one thing where one is enough, else all that is wanting."""
    request = design.request
    parts = _parts_concerned(design, why)
    found = False
    if len(why.empty_parts) <= 1:
        for part in why.empty_parts or parts:
            repair = _buy_for(design, (part,), watch)
            if repair is not None:
                found = True
                yield repair
    if not found:
        wanting = tuple(
            part.id for part in request.base.parts if part.id in {*parts, *why.empty_parts}
        )
        repair = _buy_fewest(design, wanting, watch)
        if repair is not None:
            yield repair


def _buy_fewest(design: DesignProblem, wanting: Sequence[str], watch: Watch) -> Repair | None:
    """Return what comes of buying for some parts, none of which could be spared."""
    best = _buy_for(design, wanting, watch)
    if best is None:
        return None
    for part in reversed(wanting):
        rest = [other for other in wanting if other != part]
        fewer = _buy_for(design, rest, watch) if rest else None
        if fewer is not None:
            wanting, best = rest, fewer
    return best


def _parts_concerned(design: DesignProblem, why: AllConflicts) -> list[str]:
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


def _buy_for(design: DesignProblem, parts: Sequence[str], watch: Watch) -> Repair | None:
    request = design.request
    purchases = tuple(one for part in parts for one in find_purchases_for(design, part))
    if not purchases:
        return None
    items = [item_of(one, number) for number, one in enumerate(purchases)]
    box = Box((*request.box.items, *items))
    says = "buy " + " and ".join(dict.fromkeys(one.ingredient.words for one in purchases))
    return try_repair(
        design, replace(request, box=box), Effort.PURCHASE, says, purchases, watch=watch
    )


def _try_waiving_rules(design: DesignProblem, why: AllConflicts, watch: Watch) -> Iterator[Repair]:
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
        best = search(eased, 1, watch=watch).variants
        if best:
            says = f"go against the rule: {rule.says} [{rule.id}]"
            yield Repair(Effort.RULE, says, (), eased, best[0])


def _try_together(design: DesignProblem, why: AllConflicts, watch: Watch) -> Iterator[Repair]:
    """Yield what comes of several things done together."""
    relaxations = list(_list_relaxations(design, why))

    def try_these(some: Sequence[Relaxation]) -> Repair | None:
        request = design.request
        for relaxation in some:
            request = relaxation.relax(request)
        bought = tuple(one for relaxation in some for one in relaxation.purchases)
        items = [item_of(one, number) for number, one in enumerate(bought)]
        request = replace(request, box=Box((*request.box.items, *items)))
        says = " and ".join(relaxation.says for relaxation in some)
        return try_repair(design, request, Effort.TOGETHER, says, bought, watch=watch)

    found = find_minimal_relaxation(relaxations, try_these)
    if found is None:
        return
    kept, repair = found
    if kept[0].effort != Effort.SIZE:
        yield repair
        return
    others = _other_sizes_owned(design.request, design.request.sizes or design.request.base.sizes)
    each = (try_these([_on_size(size), *kept[1:]]) for size in others)
    yield from islice((one for one in each if one is not None), 1)


def _list_relaxations(design: DesignProblem, why: AllConflicts) -> Iterator[Relaxation]:
    """Yield all that could be done, least effort first."""
    request = design.request
    others = _other_sizes_owned(request, request.sizes or request.base.sizes)
    if HOOK in design.base and others:
        yield _on_size(*others)
    for part in sorted(request.keep):
        yield Relaxation(Effort.PART, f"let the {part} change", partial(_release, part=part))
    if request.max_changes is not None:
        says = "let any number of parts change"
        yield Relaxation(Effort.LIMIT, says, lambda one: replace(one, max_changes=None))
    for name in sorted(request.missing):
        yield Relaxation(Effort.LIMIT, f"use the {name} after all", partial(_allow, name=name))
    for part in dict.fromkeys((*why.empty_parts, *_parts_concerned(design, why))):
        bought = tuple(find_purchases_for(design, part))
        if bought:
            says = " and ".join(f"buy {one.ingredient.words}" for one in bought)
            yield Relaxation(Effort.PURCHASE, says, lambda one: one, bought)


def _on_size(*sizes: int) -> Relaxation:
    says = f"tie it on a hook size {sizes[0]}"
    return Relaxation(Effort.SIZE, says, lambda one: replace(one, sizes=sizes))


def _release(request: Request, part: str) -> Request:
    return replace(request, keep=request.keep - {part})


def _allow(request: Request, name: str) -> Request:
    return replace(request, missing=request.missing - {name})
