"""Flies that were tied: how many of a variant the box gives, and what they take written off it."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from urllib.parse import parse_qsl

from starlette.responses import Response

from variants.amounts import Use, cost_of, flies_from, uses_of
from variants.amounts.bench import Tied, taken_by_item
from variants.geometry import fly_geometry
from variants.model import Variant
from variants.reading.batches import Wanted
from variants.web.answers import Answer
from variants.web.box_page import keeper_of
from variants.web.item_page import done_once
from variants.web.question import MOST, Question, whole
from variants.web.refusals import RefusedError
from variants.web.visit import Visit, acts, see_other

MOST_TIED = 1_000


def flies_in_box(answer: Answer, variant: Variant) -> int | None:
    """Return how many flies of a variant the box gives; None where nothing of it is counted."""
    return flies_from(_uses(answer, variant))


def _uses(answer: Answer, variant: Variant) -> tuple[Use, ...]:
    layout = answer.trade.layout
    geometry = fly_geometry(answer.design, layout, variant)
    return uses_of(geometry, variant.chosen, layout)


def tied(visit: Visit, form: Mapping[str, str]) -> Response:
    """Write off the box what so many flies of a variant take; all of it, or nothing."""
    question = Question.read(parse_qsl(form.get("question", "")))
    number = whole("n", form.get("n", ""), 1, MOST) or 1
    flies = whole("flies", form.get("flies", ""), 1, MOST_TIED)
    if flies is None:
        raise RefusedError(HTTPStatus.BAD_REQUEST, "How many flies were tied?", "Write a number.")
    answer = visit.answers.answer(question)
    variant = answer.variant(number)
    uses = _uses(answer, variant)
    size = variant.chosen["hook"].attributes.get("size") if "hook" in variant.chosen else None
    wanted = Wanted(answer.subject.dressing, size if isinstance(size, int) else answer.size, flies)
    taken = taken_by_item([Tied(wanted, answer.design, variant, uses, flies, cost_of(uses))])
    if not taken:
        raise RefusedError(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            "Nothing of this variant is counted in the box, so there is nothing to write off.",
            "Note amounts in the box first.",
        )
    name = f"{flies} × {answer.subject.dressing.name}, size {wanted.size}"

    def act() -> Response:
        # The version is that of the page: what was shown is what is written off.
        keeper_of(visit).take(taken, name, version=form.get("version", ""))
        return see_other("/box/journal?done=tied")

    return done_once(visit, form, "/box/journal?done=again", act)


ROUTES = [acts("/box/tied", tied, is_work=True)]
