"""Variants in groups: those that a tyer would take for the same fly stand together.

Variants of a design come in, in proven order; groups go out, in the order of their first ones. No
variant is lost: what is much like an earlier one stands behind it, as an "or".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from variants.design import DesignProblem, Watch
from variants.design.search import SearchResult, search_needed
from variants.model import Candidate, Variant

#: So many variants are asked for each group, before there are seen to be too few.
_FOR_A_GROUP = 4
#: Beyond so many groups' worth a listing ends with what there is.
_MOST_ROUNDS = 3


@dataclass(frozen=True, slots=True)
class VariantGroup:
    """A variant, and those after it that look much the same."""

    first: Variant
    others: tuple[Variant, ...] = ()


def group_variants(design: DesignProblem, variants: Iterable[Variant]) -> tuple[VariantGroup, ...]:
    """Gather variants into groups.

    Notes
    -----
    Two are much the same when every part in which they differ is a slight one, by the convention,
    or is filled in both with stuff that stands as near as one answer's names in `instead` do.
    """
    groups: list[VariantGroup] = []
    for variant in variants:
        for place, group in enumerate(groups):
            if _is_alike(design, group.first, variant):
                groups[place] = replace(group, others=(*group.others, variant))
                break
        else:
            groups.append(VariantGroup(variant))
    return tuple(groups)


def search_groups(
    design: DesignProblem, best: int, watch: Watch | None = None
) -> tuple[SearchResult, int | None]:
    """Search for the variants, none with a needless change, that make so many groups.

    Returns
    -------
    SearchResult, int or None
        As `search_needed` returns them; `group_variants` makes the groups. The last group may want
        others: the list ends where one more group would begin, or where so many variants have been
        looked at. Where the box gives the dressing as written that is all: nothing needs to change.
    """
    nearest, _ = search_needed(design, 1, watch=watch)
    if nearest.is_finished and nearest.so_far and not nearest.so_far[0].changed:
        return nearest, None
    asked = best
    for _ in range(_MOST_ROUNDS):
        result, looked_through = search_needed(design, asked, watch=watch)
        groups = group_variants(design, result.so_far)
        is_all = len(result.so_far) < asked or looked_through is not None
        if len(groups) > best or is_all or not result.is_finished:
            break
        asked = _FOR_A_GROUP * asked
    else:
        looked_through = len(result.so_far)
    if len(groups) <= best:
        return result, looked_through
    kept = tuple(one for one in result.so_far if one.rank < groups[best].first.rank)
    bound = groups[best].first.departure
    proven = min(result.proven, len(kept))
    return replace(result, so_far=kept, proven=proven, bound=bound), None


def _is_alike(design: DesignProblem, one: Variant, other: Variant) -> bool:
    return all(
        _looks_like(design, part, used, other.chosen[part])
        for part, used in one.chosen.items()
        if used.identity != other.chosen[part].identity
    )


def _looks_like(design: DesignProblem, part: str, used: Candidate, other: Candidate) -> bool:
    if not used.is_changed and not other.is_changed:
        return True  # in another size that the dressing names, or what else its author allows
    style = design.rulebook.trade.styles[design.request.base.style]
    kind = style.part(part)
    if kind is not None and kind.weight <= design.rulebook.conventions.slight_part:
        return True
    if not len(used.ingredients) == len(other.ingredients) == 1:
        return False
    if used.attributes.get("size") != other.attributes.get("size"):
        return False
    likeness = design.rulebook.likeness
    terms = likeness.ingredient(used.ingredients[0], other.ingredients[0], part, style.id)
    return sum([term.cost for term in terms]) <= likeness.tables.scales["alike"]
