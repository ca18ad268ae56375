"""Flies that were tied: how many of a variant the box gives, and what they take written off it.

What the box does not give, or what would empty something, is told and asked before it is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from urllib.parse import parse_qsl

from starlette.responses import Response

from variants.geometry import (
    Tied,
    Use,
    WriteOff,
    cost_of,
    find_write_off,
    flies_from,
    fly_geometry,
    uses_of,
)
from variants.model import Variant
from variants.reading.batches import BatchFly
from variants.views.batch import shortage_words
from variants.web.answers import Answer
from variants.web.box_page import open_store
from variants.web.context import Context, post, see_other
from variants.web.errors import RequestError
from variants.web.item_page import done_once
from variants.web.question import MOST, Question, whole

MOST_TIED = 1_000
#: What the second form says, by which the reader has been told.
SURE = "told"
_FIELDS = ("form_token", "question", "n", "version", "flies")


def flies_in_box(answer: Answer, variant: Variant) -> int | None:
    """Return how many flies of a variant the box gives; None where nothing of it is counted."""
    return flies_from(_uses(answer, variant))


def _uses(answer: Answer, variant: Variant) -> tuple[Use, ...]:
    layout = answer.trade.layout
    geometry = fly_geometry(answer.design, layout, variant)
    return uses_of(geometry, variant.chosen, layout)


def write_off(context: Context, form: Mapping[str, str]) -> Response:
    """Write off the box what so many flies of a variant take; all of it, or nothing.

    Where the box gives fewer, or something goes empty, that is asked first.
    """
    question = Question.read(parse_qsl(form.get("question", "")))
    number = whole("n", form.get("n", ""), 1, MOST) or 1
    flies = whole("flies", form.get("flies", ""), 1, MOST_TIED)
    if flies is None:
        raise RequestError(HTTPStatus.BAD_REQUEST, "How many flies were tied?", "Write a number.")
    answer = context.answers.answer(question)
    variant = answer.variant(number)
    uses = _uses(answer, variant)
    size = variant.chosen["hook"].attributes.get("size") if "hook" in variant.chosen else None
    wanted = BatchFly(
        answer.subject.dressing, size if isinstance(size, int) else answer.size, flies
    )
    one = Tied(wanted, answer.design, variant, uses, flies, cost_of(uses))
    found = find_write_off([one])
    if not found.takes:
        raise RequestError(
            HTTPStatus.UNPROCESSABLE_ENTITY,
            "Nothing of this variant is counted in the box, so there is nothing to write off.",
            "Note amounts in the box first.",
        )
    # Of a box that is another one by now there is nothing to ask: it is refused.
    snapshot, version = context.sources.box, form.get("version", "")
    is_as_shown = snapshot is not None and snapshot.version == version
    if is_as_shown and found.has_to_be_asked and form.get("sure") != SURE:
        return _ask(context, form, one, found)
    name = f"{flies} × {answer.subject.dressing.name}, size {wanted.size}"

    def act() -> Response:
        # The version is that of the page: what was shown is what is written off.
        open_store(context).take(found.takes, name, version=version)
        return see_other("/box/journal?done=tied")

    return done_once(context, form, "/box/journal?done=again", act)


def _ask(context: Context, form: Mapping[str, str], one: Tied, found: WriteOff) -> Response:
    """Show what runs short or goes empty, and ask whether it is to be written all the same."""
    trade = context.sources.trade.rulebook.trade
    question = Question.read(parse_qsl(form.get("question", "")))
    return context.page(
        "confirm_write_off.html",
        dressing=one.wanted.dressing,
        flies=one.count,
        told="1 fly" if one.count == 1 else f"{one.count} flies",
        gives=flies_from(one.uses),
        shortages=[shortage_words(short, trade) for short in found.shortages],
        emptied=[item.id for item in found.emptied],
        fields=[(name, form.get(name, "")) for name in _FIELDS],
        sure=SURE,
        back=question.link("/variant", n=one.variant.rank),
    )


ROUTES = [post("/box/tied", write_off, is_work=True)]
