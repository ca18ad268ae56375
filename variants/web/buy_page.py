"""What to buy: the purchases that open most of the book, worked out in the background."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.responses import Response

from variants.explain.wording import departure_words
from variants.rulebook import WATERS
from variants.survey.purchases import Gain, Purchases, find_purchases
from variants.views.purchases import proof_words
from variants.web.context import Context, get
from variants.web.design_page import WATER_WORDS
from variants.web.jobs import Job
from variants.web.question import whole
from variants.web.tieable_page import Asked

FIELDS = ("water", "on", "size", "sets")
_SHOWN = 20


@dataclass(frozen=True, slots=True)
class Row:
    """One purchase, or several that work together."""

    what: list[str]
    cautions: list[str]
    opens: int
    as_written: int
    saves: str
    names: list[str]


def buy(context: Context) -> Response:
    """Show which purchases bring most of the book nearer."""
    fields = {name: value for name, value in context.fields(*FIELDS).items() if value}
    asked = Asked.read(context, fields)
    sets = whole("sets", fields.get("sets", ""), 1, 3) or 1
    books, snapshot, trade = context.sources.books, context.sources.box, context.sources.trade
    job: Job[Purchases] | None = None
    if snapshot is not None and books.dressings:
        box, rulebook = snapshot.box, trade.rulebook_on(asked.on)

        def work(job: Job[Purchases]) -> None:
            book = list(books.dressings.values())
            found = find_purchases(
                book, box, rulebook, asked.wishes, largest_set=sets, progress=job.step
            )
            job.parts.append(found)

        key = "buy", asked, sets, snapshot.version, books.serial, trade.serial
        job = context.state.jobs.get(key, work)
    found = job.parts[0] if job and job.parts else None
    return context.page(
        "buy.html",
        job=job,
        fields={name: fields.get(name, "") for name in FIELDS},
        book=len(books.dressings),
        single=[_row(one) for one in found.single[:_SHOWN]] if found else [],
        sets=[_row(one) for one in found.sets[:_SHOWN]] if found else [],
        is_found=found is not None,
        proof=proof_words(found) if found else "",
        waters=[(water, WATER_WORDS[water]) for water in WATERS],
        places=[(key, place.name) for key, place in trade.places.items()],
    )


def _row(gain: Gain) -> Row:
    cautions = {
        f"{one.ingredient.material.name}: {one.ingredient.material.caution}"
        for one in gain.offers
        if one.ingredient.material.caution
    }
    return Row(
        [
            f"{one.words} (stands for {one.stands_for})" if one.stands_for else one.words
            for one in gain.offers
        ],
        sorted(cautions),
        len(gain.opened),
        len(gain.as_written),
        departure_words(gain.saved),
        list(dict.fromkeys([*gain.opened, *gain.as_written])),
    )


ROUTES = [get("/buy", buy)]
