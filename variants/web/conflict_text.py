"""What stands in the way of a fly, told for a page."""

from __future__ import annotations

from dataclasses import dataclass

from variants.design import ChangesConstraint, DesignProblem, RuleConstraint
from variants.explain import Conflict, NearMiss, Obstacle
from variants.explain.wording import join_words, part_name, pluralize, source_items
from variants.views.reasons import empty_words
from variants.web.measures import MM, tested_words


@dataclass(frozen=True, slots=True)
class ObstacleText:
    """One thing that can't be kept."""

    says: str
    rule: str = ""
    source: str = ""
    nearest: str = ""


@dataclass(frozen=True, slots=True)
class ConflictText:
    """Why there is no variant: parts that nothing can be, or what can't be kept together."""

    empty: list[str]
    obstacles: list[ObstacleText]


def conflict_text(design: DesignProblem, conflict: Conflict, units: str = MM) -> ConflictText:
    """Return a conflict as a page tells it."""
    return ConflictText(
        [empty_words(design, part) for part in conflict.empty_parts],
        [obstacle_text(design, one, units) for one in conflict.obstacles],
    )


def obstacle_text(design: DesignProblem, obstacle: Obstacle, units: str = MM) -> ObstacleText:
    """Return one obstacle with its rule, its source and what came nearest."""
    constraint = obstacle.constraint
    if isinstance(constraint, ChangesConstraint):
        most = pluralize(constraint.at_most, "part")
        wanting = [
            f"{part_name(design.rulebook.trade.parts, part)}, {design.base[part].words}"
            for part in constraint.parts
            if not design.has_as_written(part)
        ]
        told = f" As written the box has none of: {'; '.join(wanting)}." if wanting else ""
        return ObstacleText(f"At most {most} may change, as you asked.{told}")
    if not isinstance(constraint, RuleConstraint):
        parts = join_words(part_name(design.rulebook.trade.parts, one) for one in constraint.parts)
        return ObstacleText(f"Enough must be left for the {parts}.")
    rule = constraint.rule
    nearest = _nearest_words(obstacle.nearest, units) if obstacle.nearest else ""
    return ObstacleText(rule.says, rule.id, rule.source, nearest)


def _nearest_words(nearest: NearMiss, units: str) -> str:
    owned = " with ".join(source_items(one) or one.words for one in nearest.chosen)
    return f"{owned}; {tested_words(nearest.number, units)}"
