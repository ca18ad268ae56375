"""Candidates for the hook: models and sizes, with their dimensions."""

from __future__ import annotations

from variants.design.departure import weighted
from variants.design.request import Request
from variants.design.serving import serving
from variants.design.stock import Lot, Stock
from variants.model import (
    STANDARD_HOOK,
    Candidate,
    Ingredient,
    Item,
    Part,
    StylePart,
    Term,
    Value,
    Way,
)
from variants.rulebook import THOUSANDTHS, Rulebook, hook_attributes, material_attributes

#: Bends on which a fly is built otherwise than on a straight shank.
OWN_BUILD = frozenset({"curved", "jig"})


def as_written_hook(part: Part, request: Request, rulebook: Rulebook) -> Candidate:
    """Return the dressing's hook in the size asked for, whether or not the box holds it."""
    ingredient = Ingredient(part.ingredients[0].material)
    size = request.base.size
    if request.sizes and size not in request.sizes:
        size = min(request.sizes, key=lambda other: (abs(other - size), other))
    attributes = _attributes(ingredient, size, None, rulebook)
    return Candidate(
        part.id, Way.AS_WRITTEN, (ingredient,), (), attributes or {}, (), ingredient.key
    )


def hook_candidates(
    part: Part,
    style_part: StylePart,
    stock: Stock,
    request: Request,
    rulebook: Rulebook,
) -> list[Candidate]:
    """Return a candidate for each lot of hooks and each of its sizes that may be tied."""
    found: list[Candidate] = []
    usual, style = request.base.size, request.base.style
    hooks = serving(stock, part, style, rulebook.likeness)
    for lot in (lot for own in hooks for stuff in own for lot in stuff.lots):
        for size in lot.item.sizes or ():
            if not _is_allowed(size, request):
                continue
            attributes = _attributes(lot.ingredient, size, lot.item, rulebook)
            if attributes is None:
                continue
            terms = min(
                (_terms(way, style_part, lot, size, request, rulebook) for way in part.ways),
                key=lambda one: sum([term.cost for term in one]),
            )
            named = {way.ingredients[0].material.id for way in part.ways}
            is_written = lot.ingredient.material.id in named and not _steps_away(size, request)
            found.append(
                Candidate(
                    part.id,
                    Way.AS_WRITTEN if is_written else Way.SUBSTITUTE,
                    (Ingredient(lot.ingredient.material),),
                    (lot.items,),
                    attributes,
                    terms,
                    # Of sizes that cost alike, the one nearest to the usual one comes first.
                    (*lot.ingredient.key, f"{abs(size - usual):02} {size:02}", lot.item.id),
                )
            )
    return found


def _is_allowed(size: int, request: Request) -> bool:
    return size in (request.sizes or request.base.sizes)


def _steps_away(size: int, request: Request) -> int:
    """Return how many sizes lie between this one and the nearest that the dressing names."""
    return min(abs(size - named) for named in request.base.sizes)


def _attributes(
    ingredient: Ingredient, size: int, item: Item | None, rulebook: Rulebook
) -> dict[str, Value] | None:
    hook = rulebook.hook(ingredient.material, size, item)
    if hook is None:
        return None
    model = rulebook.trade.hook_models.get(ingredient.material.id, STANDARD_HOOK)
    return {
        **material_attributes(ingredient.material),
        **hook_attributes(hook),
        "barbed": model.is_barbed,
        "bend": model.bend,
        "points": model.points,
        "shanks": model.shanks,
        "tied": 0,
    }


def _terms(
    part: Part,
    style_part: StylePart,
    lot: Lot,
    size: int,
    request: Request,
    rulebook: Rulebook,
) -> tuple[Term, ...]:
    conventions = rulebook.conventions
    wanted, found = part.ingredients[0].material, lot.ingredient.material
    steps = _steps_away(size, request)
    terms = list(rulebook.likeness.material(wanted, found, part.id, request.base.style))
    if steps:
        cost = round(conventions.size_step * steps / 2 * THOUSANDTHS)
        nearest = min(request.base.sizes, key=lambda named: abs(size - named))
        terms.append(Term("size", cost, f"size {size} for {nearest}", "conventions: size_step"))
    terms += _model_terms(wanted.id, found.id, rulebook)
    return weighted(terms, style_part.weight)


def _model_terms(wanted: str, found: str, rulebook: Rulebook) -> list[Term]:
    """Return what another model of hook costs: its shank, its wire, its bend."""
    models, conventions = rulebook.trade.hook_models, rulebook.conventions
    here, there = models.get(found, STANDARD_HOOK), models.get(wanted, STANDARD_HOOK)
    longer, stouter = here.length_x - there.length_x, here.wire_x - there.wire_x
    terms = []
    if longer:
        says = f"shank {abs(longer)}X {'longer' if longer > 0 else 'shorter'}"
        terms.append(_model_term("shank", conventions.shank_like * abs(longer), says))
    if stouter:
        says = f"wire {abs(stouter)}X {'stouter' if stouter > 0 else 'finer'}"
        terms.append(_model_term("wire", conventions.wire_like * abs(stouter), says))
    if here.bend != there.bend and {here.bend, there.bend} & OWN_BUILD:
        terms.append(_model_term("bend", conventions.bend_like, f"{here.bend} bend"))
    return terms


def _model_term(what: str, cost: float, says: str) -> Term:
    return Term(what, round(cost * THOUSANDTHS), says, f"conventions: {what}_like")
