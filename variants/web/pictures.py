"""The drawings: sent as SVG, linked so that they may be kept for long, and told in words."""

from __future__ import annotations

from hashlib import sha256

from starlette.responses import Response

from variants.explain.wording import part_name
from variants.model import Candidate, Variant
from variants.text import printable
from variants.web.answers import Answer
from variants.web.context import Context, get
from variants.web.question import MOST, whole

#: A drawing is opened as a page of its own, too; then nothing in it may act.
_PICTURE_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def describe(answer: Answer, variant: Variant | None) -> str:
    """Return a picture in words, for who can't see it."""
    trade = answer.design.rulebook.trade
    chosen = variant.chosen if variant else answer.design.base
    made_of = [
        f"{part_name(trade.parts, part)} {one.words}"
        for part, one in chosen.items()
        if one.ingredients
    ]
    name = printable(answer.subject.dressing.name)
    which = f"{name}, variant {variant.rank}" if variant else f"{name} as written"
    return f"Drawing of {which}: {'; '.join(made_of)}."


def picture_link(answer: Answer, number: int | None) -> str:
    """Return the link of a drawing; what it rests on stands in it, so it may be kept for long."""
    seen = f"{answer.trade.serial} {answer.subject.dressing!r} "
    seen += "".join(one.identity for one in _chosen(answer, number).values())
    mark = sha256(seen.encode()).hexdigest()[:12]
    if number is None:
        return answer.question.link("/picture.svg", mark=mark)
    return answer.question.link("/picture.svg", n=number, mark=mark)


def _chosen(answer: Answer, number: int | None) -> dict[str, Candidate]:
    return dict(answer.design.base if number is None else answer.variant(number).chosen)


def picture(context: Context) -> Response:
    """Send the drawing of the dressing as written or, with ``n``, of a variant."""
    question, own = context.question_and("n", "mark")
    number = whole("n", own.get("n", ""), 1, MOST)
    answers = context.answers
    answer = answers.as_written(question) if number is None else answers.answer(question)
    svg = context.answers.picture(answer, number)
    kept = "private, max-age=86400, immutable" if own.get("mark") else "no-cache"
    headers = {"content-security-policy": _PICTURE_POLICY, "cache-control": kept}
    return Response(svg, media_type="image/svg+xml", headers=headers)


ROUTES = [get("/picture.svg", picture, is_work=True)]
