"""The page of one variant: every part with what was asked, used and tested, and each source."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.responses import Response

from variants.design import adapted_counts
from variants.explain import Judgement, PartReason, explain
from variants.explain.wording import departure_words, part_name, source_items
from variants.model import Candidate, Term
from variants.reading import COUNTS
from variants.views.proposal import cautions
from variants.web.answers import Answer
from variants.web.context import Context, get
from variants.web.design_page import law_told
from variants.web.measures import tested_words
from variants.web.pictures import describe, picture_link
from variants.web.question import MOST, Question, whole
from variants.web.write_off import flies_in_box


@dataclass(frozen=True, slots=True)
class ToldTerm:
    """One term of the departure."""

    cost: str
    what: str
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class ToldRule:
    """A rule and what it found."""

    id: str
    verdict: str
    says: str
    numbers: str
    source: str


@dataclass(frozen=True, slots=True)
class ToldPart:
    """One part explained; it is other than written where it is changed or counted otherwise."""

    id: str
    name: str
    way: str
    is_changed: bool
    is_other: bool
    cost: str
    asked: str
    used: str
    from_box: str
    without: list[tuple[str, str]]
    counts: str
    terms: list[ToldTerm]
    rules: list[ToldRule]


def variant(context: Context) -> Response:
    """Show variant ``n`` of a question with all its reasons."""
    question, own = context.question_and("n")
    number = whole("n", own.get("n", ""), 1, MOST) or 1
    answer = context.answers.answer(question)
    found = answer.variant(number)
    snapshot = context.sources.box
    told = explain(answer.design, found)
    parts = [told_part(answer, one, context.units) for one in told.parts]
    return context.page(
        "variant.html",
        dressing=answer.subject.dressing,
        rank=found.rank,
        departs=departure_words(found.departure),
        links=_links(question, answer, number),
        base_picture=picture_link(answer, None),
        base_alt=describe(answer, None),
        picture=picture_link(answer, number),
        alt=describe(answer, found),
        cautions=cautions([found]),
        law=law_told(answer, [found]),
        question=question,
        asked=urlencode(question.pairs()),
        gives=flies_in_box(answer, found),
        box_version=snapshot.version if snapshot else "",
        form_token=context.state.form_tokens.issue(),
        differing=[one for one in parts if one.is_other],
        written=[one for one in parts if not one.is_other],
        waived=[rule.says for rule in told.waived],
    )


def _links(question: Question, answer: Answer, number: int) -> dict[str, str]:
    is_last = number >= len(answer.variants)
    return {
        "design": question.link("/design"),
        "sheet": question.link("/sheet", n=number),
        "pdf": question.link("/sheet.pdf", n=number),
        "before": question.link("/variant", n=number - 1) if number > 1 else "",
        "after": "" if is_last else question.link("/variant", n=number + 1),
    }


def told_part(answer: Answer, reason: PartReason, units: str) -> ToldPart:
    """Return one part of an explanation as the page tells it."""
    parts = answer.design.rulebook.trade.parts
    cost = sum(term.cost for term in reason.terms)
    cost += sum(one.finding.cost for one in reason.judgements)
    used = reason.used
    counts = [
        f"{name.replace('_', ' ')} {used.attributes[name]}"
        for name in COUNTS
        if used.attributes.get(name) is not None
    ]
    return ToldPart(
        reason.part,
        part_name(parts, reason.part),
        used.way.value,
        used.is_changed,
        used.is_changed or bool(adapted_counts(used)),
        departure_words(cost) if cost else "",
        reason.asked.words,
        used.words,
        source_items(used),
        _without(answer.question, used),
        adapted_counts(used) or ", ".join(counts),
        [_told_term(one) for one in reason.terms],
        [_told_rule(one, units) for one in reason.judgements],
    )


def _without(question: Question, used: Candidate) -> list[tuple[str, str]]:
    """Return the items that a part comes from, each with the question that goes without it."""
    found = dict.fromkeys(items[0].id for items in used.items if items)
    return [
        (name, question.changed(missing=tuple(sorted({*question.missing, name}))).link("/design"))
        for name in found
        if name not in question.keep
    ]


def _told_term(term: Term) -> ToldTerm:
    return ToldTerm(departure_words(term.cost), term.what, term.says, term.source)


def _told_rule(judgement: Judgement, units: str) -> ToldRule:
    rule, cost = judgement.rule, judgement.finding.cost
    kept = "must, kept" if rule.is_hard and not cost else "kept"
    return ToldRule(
        rule.id,
        f"+{departure_words(cost)}" if cost else kept,
        rule.says,
        "; ".join(tested_words(number, units) for number in judgement.finding.numbers),
        rule.source,
    )


ROUTES = [get("/variant", variant, is_work=True)]
