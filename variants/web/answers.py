"""Questions to answers, each worked out once while nothing that it rests on has changed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import count

from variants.design import (
    DesignProblem,
    Domain,
    TimeUpError,
    UnknownWordError,
    Watch,
    build_problem,
    request_from_words,
)
from variants.design.search import SearchResult, search_within
from variants.explain import (
    AllConflicts,
    Repair,
    VariantGroup,
    find_all_conflicts,
    find_repairs,
    group_variants,
    search_groups,
)
from variants.model import Box, Dressing, Variant
from variants.reading import SizesError, parse_sizes
from variants.reading.words import Reading, read_plain
from variants.text import shown
from variants.web.cache import Cache
from variants.web.errors import bad_field, near_hint, not_found, offer_near, timed_out
from variants.web.question import Question
from variants.web.sources import Sources, Trade

#: A page answers within this time with what is found by then, and says what is proven of it.
TIME_LIMIT_S = 4.0
#: What is in the way of a fly is told whole or not at all; after this time, not at all.
WHYNOT_TIME_LIMIT_S = 30.0
#: What is remembered: of answers so many candidates (2 kB each, and an answer counts as 500 at
#: least), of pictures so many letters, and so many readings and obstacles.
_MOST_CANDIDATES, _LEAST_CANDIDATES, _MOST_LETTERS = 40_000, 500, 20_000_000
_KEPT_READINGS, _KEPT_WHYS = 64, 16


@dataclass(frozen=True)
class Subject:
    """The dressing that a question is about.

    Attributes
    ----------
    dressing : Dressing
    reading : Reading or None
        How it was read, when it was pasted in plain words.
    """

    dressing: Dressing
    reading: Reading | None = None


@dataclass(frozen=True)
class Answer:
    """The variants of a question.

    Attributes
    ----------
    question : Question
    subject : Subject
    design : DesignProblem
    result : SearchResult or None
        None where there is no box to tie from.
    looked_through : int or None
        As `search_needed` tells it.
    trade : Trade
    serial : int
        Tells it from every other answer of this run.
    """

    question: Question
    subject: Subject
    design: DesignProblem
    result: SearchResult | None
    looked_through: int | None
    trade: Trade
    serial: int

    @property
    def variants(self) -> tuple[Variant, ...]:
        """The variants found."""
        return self.result.so_far if self.result else ()

    @cached_property
    def lines(self) -> tuple[VariantGroup, ...]:
        """The variants, those that look much the same in one line, unless each is asked for."""
        if self.question.listing != "needed":
            return tuple(map(VariantGroup, self.variants))
        return group_variants(self.design, self.variants)

    def variant(self, number: int) -> Variant:
        """Return a variant by its number; refuse one that there is not."""
        if not 1 <= number <= len(self.variants):
            there = f"There are {len(self.variants)} variants of this question."
            raise not_found(f"There is no variant {number}.", there)
        return self.variants[number - 1]

    @cached_property
    def size(self) -> int:
        """The hook size to speak of where no variant says another."""
        return self.question.size or self.design.request.base.size


class Answers:
    """Answers questions about dressings on a bench."""

    def __init__(self, sources: Sources) -> None:
        self.sources = sources
        self._answers: Cache[Answer] = Cache(_MOST_CANDIDATES, _candidates)
        self._pictures: Cache[str] = Cache(_MOST_LETTERS, len)
        self._readings: Cache[Reading] = Cache(_KEPT_READINGS)
        self._whys: Cache[tuple[AllConflicts, list[Repair]]] = Cache(_KEPT_WHYS)
        self._serials = count(1)

    def subject(self, question: Question) -> Subject:
        """Return the dressing of a question.

        Raises
        ------
        RequestError
            When there is none of that key, or the pasted words can't be read as one.
        """
        if question.text:
            return self._pasted(question)
        found = self.sources.books.dressings.get(question.dressing)
        if found is None:
            hint = near_hint(question.dressing, self.sources.books.dressings)
            problem = f"No dressing {shown(question.dressing)} is in the book."
            raise not_found(problem, hint or "Choose one of the list, or paste one.")
        return Subject(found)

    def answer(self, question: Question) -> Answer:
        """Return the variants of a question, or that there are none."""
        trade, snapshot = self.sources.trade, self.sources.box
        subject = self.subject(question)
        # The answer holds its dressing, so that no other one can come to lie in its place.
        key = question, trade.serial, snapshot.version if snapshot else "", id(subject.dressing)
        box = snapshot.box if snapshot else None
        return self._answers.get(
            key, lambda: _compute(question, subject, trade, box, next(self._serials))
        )

    def as_written(self, question: Question) -> Answer:
        """Return the dressing of a question with nothing proposed, for its picture."""
        trade, subject = self.sources.trade, self.subject(question)
        plain = Question(size=question.size, water=question.water, on=question.on)
        key = plain, trade.serial, "as written", id(subject.dressing)
        return self._answers.get(
            key, lambda: _compute(plain, subject, trade, None, next(self._serials))
        )

    def why(self, answer: Answer) -> tuple[AllConflicts, list[Repair]]:
        """Return all that is in the way of an answer without variants, and every way out."""
        return self._whys.get(answer.serial, lambda: _why(answer))

    def picture(self, answer: Answer, number: int | None) -> str:
        """Return the drawing of a variant, or of the dressing as written, as SVG."""
        variant = None if number is None else answer.variant(number)
        return self._pictures.get((answer.serial, number), lambda: _drawn(answer, variant))

    def _pasted(self, question: Question) -> Subject:
        trade = self.sources.trade
        key = question.text, question.style, question.sizes, trade.serial
        reading = self._readings.get(key, lambda: _read(question, trade))
        if reading.dressing is None:
            raise UnreadableError(reading)
        return Subject(reading.dressing, reading)


class UnreadableError(Exception):
    """Pasted words that are no whole dressing; carries what was read of them."""

    def __init__(self, reading: Reading) -> None:
        super().__init__(reading.name)
        self.reading = reading


def _read(question: Question, trade: Trade) -> Reading:
    styles = trade.rulebook.trade.styles
    if question.style and question.style not in styles:
        raise bad_field("style", f"{shown(question.style)} is no style", "Choose one of the list.")
    try:
        sizes = parse_sizes(question.sizes) if question.sizes else ()
    except SizesError as problem:
        raise bad_field("sizes", str(problem), "") from None
    readings = read_plain(
        question.text,
        trade.glossary,
        style=question.style or None,
        sizes=sizes,
        file="the pasted text",
    )
    if len(readings) != 1:
        raise bad_field(
            "text", f"these are {len(readings)} dressings", "Paste one; or put them into the book."
        )
    return readings[0]


def _compute(
    question: Question, subject: Subject, trade: Trade, box: Box | None, serial: int
) -> Answer:
    base, rulebook = subject.dressing, trade.rulebook_on(known_place(question.on, trade))
    place = trade.places.get(question.on)
    try:
        request = request_from_words(
            base,
            box or Box(()),
            rulebook.trade,
            sizes=(question.size,) if question.size else (),
            water=question.water or (place.water.speed if place else None),
            missing=question.missing,
            keep=question.keep,
            max_changes=question.changes,
        )
    except UnknownWordError as problem:
        raise bad_field(problem.field, problem.problem, offer_near(problem.near)) from None
    ids = {"missing": tuple(sorted(request.missing)), "keep": tuple(sorted(request.keep))}
    question = question.changed(**ids)
    watch = Watch(TIME_LIMIT_S)
    try:
        design = build_problem(request, rulebook, watch=watch)
    except TimeUpError:
        raise timed_out() from None
    result: SearchResult | None = None
    looked_through: int | None = None
    if box is not None:
        if question.listing == "needed":
            result, looked_through = search_groups(design, question.show, watch)
        else:
            result = search_within(design, question.show, question.listing == "different", watch)
    return Answer(question, subject, design, result, looked_through, trade, serial)


def _candidates(answer: Answer) -> int:
    """Return what an answer weighs in memory, told in candidates that have been made."""
    domains = answer.design.domains.values()
    made = sum(one.made_so_far if isinstance(one, Domain) else len(one) for one in domains)
    return max(_LEAST_CANDIDATES, made)


def known_place(key: str, trade: Trade) -> str:
    """Return the key of a place of the regions, or an empty one; refuse another."""
    if key and key not in trade.places:
        hint = near_hint(key, trade.places)
        raise bad_field("on", f"{shown(key)} is no water of the regions here", hint)
    return key


def _why(answer: Answer) -> tuple[AllConflicts, list[Repair]]:
    watch = Watch(WHYNOT_TIME_LIMIT_S)
    try:
        why = find_all_conflicts(answer.design, watch)
        return why, find_repairs(answer.design, why, watch)
    except TimeUpError:
        raise timed_out() from None


def _drawn(answer: Answer, variant: Variant | None) -> str:
    from variants.pictures import draw_fly

    return draw_fly(answer.design, answer.trade.layout, variant, stated=variant is None).svg
