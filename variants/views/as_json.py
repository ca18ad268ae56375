"""The answers as JSON, in one documented and versioned shape.

``propose --json`` prints an object with

- ``version`` (1), ``ended`` (``proven``, ``stopped`` or ``interrupted``), ``proven`` (how many of
  the variants are proven, from the first), ``bound`` (nothing else departs less), ``complete``
  (whether all that exist are shown), ``unread`` (words of the dressing that were not understood:
  with any of them nothing is proven);
- ``dressing``: name, style, the sizes asked for, water;
- ``variants``: each with ``rank``, ``like`` (the rank of an earlier one that looks much the same
  and leads its line, or null), ``departure`` (a number: thousandths divided by 1000), ``changed``
  (part ids) and ``parts``: for each part ``way``, ``asked``, ``used``, ``ingredients`` (material
  and colour ids), ``items`` (for each ingredient the items that would do: id, place, left),
  ``counts``, ``terms`` and ``rules`` (id, says, source, hard, cost, numbers);
- ``waived``: ids of rules that the dressing itself overrides;
- ``law``, with ``--region``: what law says of all that the variants are made of, in the shape of
  ``region --json``;
- ``blocked``, when there is no variant: the parts that nothing can fill, or what can't be kept
  together.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from variants.design import DesignProblem, RuleConstraint
from variants.design.search import Ended, SearchResult
from variants.explain import Conflict, Judgement, PartReason, VariantGroup, explain
from variants.explain.wording import amount_left
from variants.model import Item, Term, Variant
from variants.reading import COUNTS
from variants.rulebook import Number

VERSION = 1
_ENDED = {
    Ended.PROVEN: "proven",
    Ended.NONE_EXISTS: "proven",
    Ended.STOPPED: "stopped",
    Ended.INTERRUPTED: "interrupted",
}


def proposal_json(
    design: DesignProblem,
    result: SearchResult,
    wanted: int,
    lines: Sequence[VariantGroup] | None = None,
) -> dict[str, Any]:
    """Return the answer of `propose`; ``lines`` where several variants may share one."""
    if lines is None:
        lines = tuple(map(VariantGroup, result.so_far))
    like = {other.rank: line.first.rank for line in lines for other in line.others}
    return {
        **_heading(design),
        "ended": _ENDED[result.ended],
        "proven": 0 if design.request.base.unread else result.proven,
        "unread": list(design.request.base.unread),
        "bound": None if result.bound is None else result.bound / 1000,
        "complete": not design.request.base.unread
        and result.ended is Ended.PROVEN
        and len(lines) < wanted
        and bool(result.bound is None or result.so_far[0].changed),
        "variants": [
            {**variant_json(design, variant), "like": like.get(variant.rank)}
            for variant in result.so_far
        ],
        "waived": [rule.id for rule in design.waived],
    }


def _heading(design: DesignProblem) -> dict[str, Any]:
    request = design.request
    return {
        "version": VERSION,
        "dressing": {
            "name": request.base.name,
            "style": request.base.style,
            "sizes": list(request.sizes or request.base.sizes),
            "water": request.water,
        },
    }


def variant_json(design: DesignProblem, variant: Variant) -> dict[str, Any]:
    """Return one variant with everything that explains it."""
    explanation = explain(design, variant)
    return {
        "rank": variant.rank,
        "departure": variant.departure / 1000,
        "changed": list(variant.changed),
        "parts": {reason.part: _part(reason) for reason in explanation.parts},
    }


def _part(reason: PartReason) -> dict[str, Any]:
    used = reason.used
    return {
        "way": used.way.value,
        "asked": reason.asked.words,
        "used": used.words,
        "ingredients": [
            {"material": one.material.id, "colour": one.colour.id if one.colour else None}
            for one in used.ingredients
        ],
        "items": [[_item(item) for item in items] for items in used.items],
        "counts": {name: used.attributes[name] for name in COUNTS if name in used.attributes},
        "terms": [_term(term) for term in reason.terms],
        "rules": [_judgement(judgement) for judgement in reason.judgements],
    }


def _item(item: Item) -> dict[str, Any]:
    return {"id": item.id, "place": item.place, "left": amount_left(item)}


def _term(term: Term) -> dict[str, Any]:
    return {
        "what": term.what,
        "cost": term.cost / 1000,
        "says": term.says,
        "source": term.source,
    }


def _judgement(judgement: Judgement) -> dict[str, Any]:
    rule, finding = judgement.rule, judgement.finding
    return {
        "id": rule.id,
        "says": rule.says,
        "source": rule.source,
        "hard": rule.is_hard,
        "cost": finding.cost / 1000,
        "numbers": [number_json(number) for number in finding.numbers],
    }


def number_json(number: Number) -> dict[str, Any]:
    """Return a tested number with its bounds."""
    return {
        "what": number.what,
        "value": number.value,
        "low": number.low,
        "high": number.high,
        "target": number.target,
        "unit": number.unit,
    }


def conflict_json(design: DesignProblem, conflict: Conflict) -> dict[str, Any]:
    """Return the answer when there is no variant."""
    return {
        **_heading(design),
        "ended": _ENDED[Ended.NONE_EXISTS],
        "proven": 0,
        "unread": list(design.request.base.unread),
        "bound": None,
        "complete": True,
        "variants": [],
        "blocked": {
            "empty_parts": list(conflict.empty_parts),
            "together": [
                {
                    "rule": obstacle.constraint.rule.id,
                    "says": obstacle.constraint.rule.says,
                    "source": obstacle.constraint.rule.source,
                }
                if isinstance(obstacle.constraint, RuleConstraint)
                else {
                    "limit": type(obstacle.constraint).__name__,
                    "parts": list(obstacle.constraint.parts),
                }
                for obstacle in conflict.obstacles
            ],
        },
    }
