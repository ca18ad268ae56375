"""The page of one dressing: what to keep, what is missing, and its closest variants as pictures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from starlette.responses import Response

from variants.design import DesignProblem, TimeUpError, Watch
from variants.design.search import Ended
from variants.explain import VariantGroup
from variants.explain.changes import find_changes
from variants.explain.wording import departure_words, part_name, source_items, written_words
from variants.model import Part, Trade, Variant
from variants.rulebook import WATERS
from variants.views.proposal import cautions, ending_lines, or_words
from variants.views.read_report import doubts
from variants.web.answers import TIME_LIMIT_S, Answer, UnreadableError
from variants.web.conflict_text import ConflictText, conflict_text
from variants.web.context import Context, get, see_other
from variants.web.errors import timed_out
from variants.web.pictures import describe, picture_link
from variants.web.question import LISTINGS, MOST, Question

if TYPE_CHECKING:
    from pint import Quantity

#: The largest and smallest hook that the list of sizes offers besides the dressing's own.
_OFFERED = range(4, 25, 2)
#: What waters are called in a list.
WATER_WORDS = {"slow": "slow, a glide or still", "medium": "middling", "fast": "fast and broken"}


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part of the dressing with what is asked about it."""

    id: str
    name: str
    words: str
    measures: str
    choice: str
    is_signature: bool
    in_box: str


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """What differs in one part of a variant."""

    part: str
    words: str
    from_box: str


@dataclass(frozen=True, slots=True)
class Card:
    """One variant of the list."""

    rank: int
    departure: str
    changes: list[ChangeLine]
    stock: str
    link: str
    picture: str
    alt: str
    others: list[tuple[str, str]]


def design(context: Context) -> Response:
    """Show a dressing with its variants; a link in another form leads to the kept one."""
    question = context.question
    kept = question.link("/design")
    if not (question.dressing or question.text):
        return see_other("/")
    if context.request.url.query != kept.partition("?")[2]:
        return see_other(kept)
    try:
        answer = context.answers.answer(question)
    except UnreadableError as dark:
        return _unreadable(context, question, dark)
    question = answer.question
    shown = answer.design
    return context.page(
        "design.html",
        question=question,
        dressing=answer.subject.dressing,
        style=shown.rulebook.trade.styles[answer.subject.dressing.style],
        rows=part_rows(answer),
        sizes=_sizes(answer),
        waters=[(water, WATER_WORDS[water]) for water in WATERS],
        places=[(key, place.name) for key, place in answer.trade.places.items()],
        listings=LISTINGS.items(),
        report=_report(answer),
        picture=picture_link(answer, None),
        alt=describe(answer, None),
        cards=[card(answer, line) for line in answer.lines],
        ending=_ending(answer),
        cautions=cautions(answer.variants),
        law=law_told(answer, answer.variants or None),
        conflict=_conflict(answer),
        waived=[rule.says for rule in shown.waived],
        more=_more(question, answer),
        is_cut=answer.looked_through is not None,
        links=_links(question),
        is_whole=bool(answer.variants) and answer.variants[0].departure == 0,
        extra_missing=_not_parts(question, answer),
    )


def _unreadable(context: Context, question: Question, dark: UnreadableError) -> Response:
    """Show what of a pasted text was understood, and the form to put it right."""
    styles = context.sources.trade.rulebook.trade.styles.values()
    return context.page(
        "paste.html",
        status=422,
        question=question,
        report=doubts(dark.reading),
        styles=list(styles),
    )


def _report(answer: Answer) -> list[str]:
    reading = answer.subject.reading
    return [] if reading is None else doubts(reading)


def part_rows(answer: Answer) -> list[PartRow]:
    """Return the parts of the dressing in its own order."""
    trade = answer.design.rulebook.trade
    return [_part_row(answer, part, trade) for part in answer.subject.dressing.parts]


def _part_row(answer: Answer, part: Part, trade: Trade) -> PartRow:
    question = answer.question
    choice = "missing" if part.id in question.missing else ""
    choice = "keep" if part.id in question.keep else choice
    return PartRow(
        part.id,
        part_name(trade.parts, part.id),
        written_words(part),
        _measures(part),
        choice,
        part.signature,
        "" if answer.result is None else _in_box(answer.design, part.id),
    )


def _measures(part: Part) -> str:
    told = [f"{name.replace('_', ' ')} {value}" for name, value in part.counts.items()]
    if part.length is not None:
        told.append(f"length {_measure(part.length)}")
    if part.thickness is not None:
        told.append(_measure(part.thickness))
    return ", ".join(told)


def _measure(quantity: Quantity[float]) -> str:
    """Return a measure as a dressing writes it: ``0.12 mm``, ``1 shank``, ``70 denier``."""
    unit = f"{quantity.units:~}" if quantity.check("[length]") else str(quantity.units)
    return f"{float(quantity.magnitude):g} {unit}"


def _in_box(design: DesignProblem, part: str) -> str:
    """Say what the box gives for a part as written."""
    if not design.domains[part]:
        return "nothing in the box can be this"
    return "" if design.has_as_written(part) else "not as written in the box"


def _sizes(answer: Answer) -> list[tuple[str, str]]:
    """Return the hook sizes to choose from: the dressing's own first."""
    dressing = answer.subject.dressing
    own = ", ".join(map(str, dressing.sizes))
    told = [("", f"{own} as written{_usually(dressing.size, len(dressing.sizes))}")]
    scale = answer.design.rulebook.scale
    sizes = sorted({*(one for one in _OFFERED if one in scale), *dressing.sizes})
    if answer.question.size and answer.question.size not in sizes:
        sizes = sorted([*sizes, answer.question.size])
    return [*told, *((str(size), str(size)) for size in sizes)]


def _usually(size: int, count: int) -> str:
    return f", {size} first" if count > 1 else ""


def card(answer: Answer, line: VariantGroup) -> Card:
    """Return what the list tells of a variant, and of those that look much the same."""
    variant = line.first
    told = [
        ChangeLine(one.part, one.words, one.from_box)
        for one in find_changes(answer.design, variant)
    ]
    return Card(
        variant.rank,
        departure_words(variant.departure),
        told,
        "" if told else _stock(variant),
        answer.question.link("/variant", n=variant.rank),
        picture_link(answer, variant.rank),
        describe(answer, variant),
        [
            (or_words(answer.design, variant, one), answer.question.link("/variant", n=one.rank))
            for one in line.others
        ],
    )


def _stock(variant: Variant) -> str:
    told = [source_items(one) for one in variant.chosen.values() if one.items]
    return "; ".join(filter(None, told))


def _ending(answer: Answer) -> str:
    """Return what is proven of the variants shown."""
    if answer.result is None or answer.result.ended is Ended.NONE_EXISTS:
        return ""
    if answer.looked_through is not None:
        few = len(answer.variants)
        change = "changes no more than it must" if few == 1 else "change no more than they must"
        return f"{few} of the {answer.looked_through} closest {change}, in proven order."
    kinds = {
        "closest": "variants",
        "different": "sets of changes",
        "needed": "variants without a needless change",
    }
    kind = kinds[answer.question.listing]
    shown = len(answer.lines)
    unread = answer.subject.dressing.unread
    told = ending_lines(answer.result, answer.question.show, kind, lines=shown, unread=unread)
    return " ".join(told)


def _conflict(answer: Answer) -> ConflictText | None:
    """Return why there is no variant; nothing when there is one, or no box."""
    if answer.result is None or answer.result.ended is not Ended.NONE_EXISTS:
        return None
    from variants.explain import find_conflict

    try:
        conflict = find_conflict(answer.design, Watch(TIME_LIMIT_S))
    except TimeUpError:
        raise timed_out() from None
    assert conflict is not None  # the search has proven that there is no variant
    return conflict_text(answer.design, conflict)


def _more(question: Question, answer: Answer) -> str:
    is_all = len(answer.lines) < question.show and answer.looked_through is None
    if is_all or not answer.variants or question.show >= MOST:
        return ""
    return question.changed(show=min(MOST, 2 * question.show)).link("/design")


def _links(question: Question) -> dict[str, str]:
    return {
        "derivation": question.link("/derivation"),
        "whynot": question.link("/whynot"),
        "sheet": question.link("/sheet"),
        "afresh": Question(question.dressing, question.text, question.style, question.sizes).link(
            "/design"
        ),
        "closest": question.changed(listing="closest").link("/design"),
    }


def _not_parts(question: Question, answer: Answer) -> list[str]:
    """Return what is called missing besides parts: items and materials."""
    own = {part.id for part in answer.subject.dressing.parts}
    return [name for name in question.missing if name not in own]


def law_told(answer: Answer, variants: Iterable[Variant] | None) -> list[str]:
    """Return what law and the water's owner say of variants, where a place was named."""
    place = answer.trade.places.get(answer.question.on)
    if place is None or variants is None:
        return []
    from variants.regions import find_cautions_at
    from variants.views.law import law_sentences

    parts = [
        Part(part, candidate.ingredients)
        for variant in variants
        for part, candidate in variant.chosen.items()
    ]
    return law_sentences(place, find_cautions_at(parts, answer.trade.law, place))


ROUTES = [get("/design", design, is_work=True)]
