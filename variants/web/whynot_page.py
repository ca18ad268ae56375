"""Why a dressing can't be tied, all of it, and every way out, each tried and seen to work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from starlette.responses import Response

from variants.design import DesignProblem
from variants.explain import AllConflicts, Effort, Obstacle, Repair, nearest_miss
from variants.explain.wording import departure_words, pluralize
from variants.views.reasons import empty_words
from variants.views.whynot import EFFORTS, MOST_SHOWN, purchase_words, too_far_words
from variants.web.answers import Answer
from variants.web.conflict_text import ObstacleText, obstacle_text
from variants.web.context import Context, get, see_other
from variants.web.errors import timed_out


@dataclass(frozen=True, slots=True)
class WayOut:
    """One repair, with the link of the question that it answers where there is one."""

    says: str
    far: str
    purchases: list[str]
    link: str


@dataclass(frozen=True, slots=True)
class Efforts:
    """The ways out of one kind of effort."""

    title: str
    ways: list[WayOut]


def whynot(context: Context) -> Response:
    """Show what is in the way of a question and what would help."""
    question = context.question
    answer = context.answers.answer(question)
    if answer.result is None:
        return see_other(question.link("/design"))
    if not answer.result.is_finished and not answer.result.proven:
        raise timed_out()  # neither that a variant exists nor that none does is known
    if answer.variants:
        nearest, ceiling = answer.variants[0], answer.design.rulebook.conventions.ceiling
        is_far = nearest.departure > ceiling
        return context.page(
            "whynot.html",
            dressing=answer.subject.dressing,
            closest=departure_words(nearest.departure),
            too_far=too_far_words(answer.design, nearest, ceiling) if is_far else "",
            empty=[],
            conflicts=[],
            more=0,
            is_complete=True,
            efforts=[],
            design_link=question.link("/design"),
        )
    why, ways = context.answers.why(answer)
    return context.page(
        "whynot.html",
        dressing=answer.subject.dressing,
        closest="",
        too_far="",
        empty=[empty_words(answer.design, part) for part in why.empty_parts],
        conflicts=_conflicts(answer.design, why, context.units),
        more=max(0, len(why.conflicts) - MOST_SHOWN),
        is_complete=why.is_complete,
        efforts=_efforts(answer, ways),
        design_link=question.link("/design"),
    )


def _conflicts(design: DesignProblem, why: AllConflicts, units: str) -> list[list[ObstacleText]]:
    return [
        [obstacle_text(design, Obstacle(one, nearest_miss(design, one)), units) for one in conflict]
        for conflict in why.conflicts[:MOST_SHOWN]
    ]


def _efforts(answer: Answer, ways: Sequence[Repair]) -> list[Efforts]:
    told = []
    for effort in Effort:
        own = [_way_out(answer, one) for one in ways if one.effort is effort]
        if own:
            told.append(Efforts(EFFORTS[effort], own))
    return told


def _way_out(answer: Answer, repair: Repair) -> WayOut:
    far = f"departs {departure_words(repair.variant.departure)}"
    if repair.variant.changed:
        far += f", {pluralize(len(repair.variant.changed), 'part')} changed"
    purchases = [purchase_words(answer.design, one) for one in repair.purchases]
    return WayOut(repair.says, far, purchases, _link(answer, repair))


def _link(answer: Answer, repair: Repair) -> str:
    """Return the link of the question that a repair asks instead; empty where none says it."""
    asked, before = repair.design.request, answer.design.request
    is_a_wish = asked.base is before.base and not repair.purchases
    if not is_a_wish or repair.effort is Effort.RULE:
        return ""
    return answer.question.changed(
        size=asked.sizes[0] if asked.sizes else None,
        missing=tuple(sorted(asked.missing)),
        keep=tuple(sorted(asked.keep)),
        changes=asked.max_changes,
    ).link("/design")


ROUTES = [get("/whynot", whynot, is_work=True)]
