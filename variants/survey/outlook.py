"""One dressing and one box: whether it can be tied, with which changes, or what stands in the way.

A request goes in; an *outlook* comes out, made of plain words and numbers so that it travels
between processes and machines.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from variants.design import (
    ChangesConstraint,
    DesignProblem,
    FlyConstraint,
    Request,
    RuleConstraint,
    Stock,
    build_problem,
)
from variants.design.search import search
from variants.explain import Conflict, find_conflict
from variants.model import Variant
from variants.rulebook import Rulebook


class BoxStanding(Enum):
    """How a dressing stands with a box; the value is the word shown to the tyer."""

    AS_WRITTEN = "as written"
    SUBSTITUTED = "with substitutions"
    TOO_FAR = "too far off"
    BLOCKED = "blocked"


@dataclass(frozen=True, slots=True)
class Swap:
    """A part that differs: what the dressing asks, and what is used."""

    part: str
    asked: str
    used: str


@dataclass(frozen=True, slots=True)
class Block:
    """What keeps a dressing from being tied.

    Attributes
    ----------
    parts : tuple of str
        Ids of the parts concerned.
    rule : str
        Id of the rule; empty where the box simply holds nothing for the part.
    says : str
    """

    parts: tuple[str, ...]
    rule: str
    says: str


@dataclass(frozen=True, slots=True)
class Outlook:
    """What a box makes of a dressing.

    Attributes
    ----------
    dressing, style, box : str
        The dressing's name and style; the name under which the box was given.
    standing : Standing
    size : int or None
        Hook size of the closest variant.
    departure : int or None
        Thousandths, of the closest variant: the least there is.
    swaps : tuple of Swap
        Where the closest variant differs.
    blocks : tuple of Block
        Of a blocked dressing: what can't be kept together, each of them needed.
    """

    dressing: str
    style: str
    box: str
    standing: BoxStanding
    size: int | None = None
    departure: int | None = None
    swaps: tuple[Swap, ...] = ()
    blocks: tuple[Block, ...] = ()


def assess_dressing(
    request: Request, box_name: str, rulebook: Rulebook, stock: Stock, ceiling: int
) -> Outlook:
    """Return what a box makes of a dressing: its closest variant, or why there is none.

    Parameters
    ----------
    request : Request
    box_name : str
    rulebook : Rulebook
    stock : Stock
        The request's box, sorted once for many dressings.
    ceiling : int
        Thousandths; what departs more is too far off to be tied for it.
    """
    design = build_problem(request, rulebook, stock)
    found = search(design, best=1).variants
    base = request.base
    if not found:
        conflict = find_conflict(design)
        assert conflict is not None  # the search has proven that there is no variant
        return Outlook(
            base.name,
            base.style,
            box_name,
            BoxStanding.BLOCKED,
            blocks=_find_blocks(design, conflict),
        )
    best = found[0]
    swaps = _find_swaps(design, best)
    standing = BoxStanding.SUBSTITUTED if swaps else BoxStanding.AS_WRITTEN
    if best.departure > ceiling:
        standing = BoxStanding.TOO_FAR
    return Outlook(
        base.name,
        base.style,
        box_name,
        standing,
        _size(best),
        best.departure,
        swaps,
    )


def _find_swaps(design: DesignProblem, variant: Variant) -> tuple[Swap, ...]:
    return tuple(
        Swap(part, design.base[part].words, variant.chosen[part].words) for part in variant.changed
    )


def _size(variant: Variant) -> int | None:
    hook = variant.chosen.get("hook")
    size = hook.attributes.get("size") if hook else None
    return size if isinstance(size, int) else None


def _find_blocks(design: DesignProblem, conflict: Conflict) -> tuple[Block, ...]:
    nothing = tuple(
        Block((part,), "", "nothing in the box can be this part") for part in conflict.empty_parts
    )
    return (*nothing, *(_make_block(one.constraint) for one in conflict.obstacles))


def _make_block(constraint: FlyConstraint) -> Block:
    if isinstance(constraint, RuleConstraint):
        return Block(constraint.parts, constraint.rule.id, constraint.rule.says)
    if isinstance(constraint, ChangesConstraint):
        return Block((), "", f"at most {constraint.at_most} parts may change, as asked")
    return Block(constraint.parts, "", "too little is left for these parts")
