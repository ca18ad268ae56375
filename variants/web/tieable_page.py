"""What can be tied over the whole book: worked through in the background, filtered as one likes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus

from starlette.responses import Response

from variants.design import stock_of
from variants.explain.wording import departure_words, join_words, part_name, pluralize
from variants.rulebook import WATERS
from variants.survey import Block, BoxStanding, Outlook, Wishes, assess_dressing
from variants.web.answers import known_place
from variants.web.context import Context, get, own_path, post, see_other
from variants.web.design_page import WATER_WORDS
from variants.web.errors import RequestError
from variants.web.jobs import Job
from variants.web.question import LARGEST_HOOK, SMALLEST_HOOK, Question, choice, whole
from variants.web.text_search import find

FIELDS = ("water", "on", "size", "changes", "style", "find", "standing")
STANDINGS = {
    "written": "as written",
    "substituted": "with substitutions",
    "far": "too far off",
    "blocked": "not at all",
}
_OF = {
    "written": BoxStanding.AS_WRITTEN,
    "substituted": BoxStanding.SUBSTITUTED,
    "far": BoxStanding.TOO_FAR,
    "blocked": BoxStanding.BLOCKED,
}
#: So many lines of one kind are shown; a filter shows the others.
_MOST_LINES = 300


@dataclass(frozen=True, slots=True)
class Line:
    """One dressing of the answer."""

    name: str
    style: str
    size: int | None
    departs: str
    swaps: list[tuple[str, str, str]]
    blocks: list[str]
    link: str
    whynot: str


@dataclass(frozen=True, slots=True)
class Group:
    """The dressings of one standing."""

    id: str
    title: str
    lines: list[Line]
    hidden: int


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the whole book."""

    wishes: Wishes
    on: str

    @classmethod
    def read(cls, context: Context, fields: Mapping[str, str]) -> Asked:
        """Return the wishes of a link."""
        trade = context.sources.trade
        on = known_place(fields.get("on", "").strip(), trade)
        size = whole("size", fields.get("size", ""), LARGEST_HOOK, SMALLEST_HOOK)
        water = choice("water", fields.get("water", ""), WATERS)
        if on and water is None:
            water = trade.places[on].water.speed
        changes = whole("changes", fields.get("changes", ""), 0, 40)
        return cls(Wishes((size,) if size else (), water, max_changes=changes), on)

    def question(self, key: str, fields: Mapping[str, str]) -> Question:
        """Return the same question about one dressing."""
        return Question(
            key,
            size=self.wishes.sizes[0] if self.wishes.sizes else None,
            water=fields.get("water") or None,
            on=self.on,
            changes=self.wishes.max_changes,
        )


def tieable(context: Context) -> Response:
    """Show what the box makes of every dressing of the book, as far as it is worked out."""
    fields = {name: value for name, value in context.fields(*FIELDS).items() if value}
    asked = Asked.read(context, fields)
    standing = choice("standing", fields.get("standing", ""), STANDINGS)
    books, snapshot, trade = context.sources.books, context.sources.box, context.sources.trade
    job: Job[tuple[str, Outlook]] | None = None
    if snapshot is not None and books.dressings:
        box, rulebook = snapshot.box, trade.rulebook_on(asked.on)

        def work(job: Job[tuple[str, Outlook]]) -> None:
            stock, ceiling = stock_of(box, frozenset()), asked.wishes.ceiling(rulebook)
            for done, (key, dressing) in enumerate(books.dressings.items()):
                job.step(done, len(books.dressings))
                request = asked.wishes.request(dressing, box)
                job.parts.append((key, assess_dressing(request, "box", rulebook, stock, ceiling)))
            job.step(len(books.dressings), len(books.dressings))

        key = "tieable", asked, snapshot.version, books.serial, trade.serial
        job = context.state.jobs.get(key, work)
    found, is_exact = _fitting(list(job.parts) if job else [], fields, standing)
    return context.page(
        "tieable.html",
        job=job,
        fields={name: fields.get(name, "") for name in FIELDS},
        book=len(books.dressings),
        is_near=not is_exact,
        groups=_groups(context, found, fields, asked),
        total=_total([one for _, one in found]),
        styles=list(trade.rulebook.trade.styles.values()),
        standings=STANDINGS.items(),
        waters=[(water, WATER_WORDS[water]) for water in WATERS],
        places=[(key, place.name) for key, place in trade.places.items()],
    )


def _total(outlooks: list[Outlook]) -> str:
    counts = {name: sum(one.standing is _OF[name] for one in outlooks) for name in STANDINGS}
    told = [f"{n} {STANDINGS[name]}" for name, n in counts.items() if n or name != "far"]
    return f"{pluralize(len(outlooks), 'dressing')}: {', '.join(told)}"


def _fitting(
    found: list[tuple[str, Outlook]], fields: Mapping[str, str], standing: str | None
) -> tuple[list[tuple[str, Outlook]], bool]:
    """Return what fits the style, the standing and the name, and whether that is to the letter."""
    style = fields.get("style", "")
    return find(
        fields.get("find", "")[:200],
        (
            ((key, one), one.dressing)
            for key, one in found
            if (not style or one.style == style)
            and (standing is None or one.standing is _OF[standing])
        ),
    )


def _groups(
    context: Context, found: list[tuple[str, Outlook]], fields: Mapping[str, str], asked: Asked
) -> list[Group]:
    groups = []
    for name, title in STANDINGS.items():
        own = [(key, one) for key, one in found if one.standing is _OF[name]]
        own.sort(key=lambda pair: pair[1].departure or 0)
        lines = [_line(context, one, asked.question(key, fields)) for key, one in own[:_MOST_LINES]]
        if lines:
            groups.append(Group(name, title, lines, len(own) - len(lines)))
    return groups


def _line(context: Context, one: Outlook, question: Question) -> Line:
    trade = context.sources.trade.rulebook.trade
    return Line(
        one.dressing,
        trade.styles[one.style].name,
        one.size,
        "" if one.departure is None else departure_words(one.departure),
        [(part_name(trade.parts, swap.part), swap.asked, swap.used) for swap in one.swaps],
        [_block_words(context, block) for block in one.blocks],
        question.link("/design"),
        question.link("/whynot"),
    )


def _block_words(context: Context, block: Block) -> str:
    parts = context.sources.trade.rulebook.trade.parts
    if not block.parts:
        return block.says
    return f"{join_words(part_name(parts, part) for part in block.parts)}: {block.says}"


def stop(context: Context, form: Mapping[str, str]) -> Response:
    """Stop work that goes on; what is found by then stays."""
    if not context.state.jobs.stop(form.get("job", "")):
        raise RequestError(HTTPStatus.NOT_FOUND, "There is no such work any more.", "")
    return see_other(own_path(form.get("back", "/")))


def again(context: Context, form: Mapping[str, str]) -> Response:
    """Begin stopped work anew."""
    context.state.jobs.forget(form.get("job", ""))
    return see_other(own_path(form.get("back", "/")))


ROUTES = [get("/tieable", tieable), post("/stop", stop), post("/again", again)]
