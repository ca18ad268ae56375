"""The first page: the book to choose a dressing from, and a place to paste one."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.responses import Response

from variants.explain.wording import join_words, pluralize
from variants.model import HOOK, THREAD, Dressing, Trade
from variants.web.context import Context, get
from variants.web.errors import fault_lines
from variants.web.question import Question
from variants.web.text_search import find

#: So many dressings stand on one leaf.
LEAF = 48


@dataclass(frozen=True, slots=True)
class Entry:
    """One dressing of the list."""

    name: str
    style: str
    sizes: str
    made_of: str
    link: str
    picture: str


def front(context: Context) -> Response:
    """Show the book, or what of it fits the words looked for."""
    fields = context.fields("find", "style", "leaf", "text", "sizes")
    books, trade = context.sources.books, context.sources.trade.rulebook.trade
    words, style = fields.get("find", "")[:200].strip(), fields.get("style", "")
    found, is_exact = find(
        words,
        (
            ((key, dressing), _told(dressing, trade))
            for key, dressing in books.dressings.items()
            if not style or dressing.style == style
        ),
    )
    leaves = max(1, -(-len(found) // LEAF))
    leaf = int(text) if (text := fields.get("leaf", "1")).isascii() and text.isdecimal() else 1
    leaf = min(max(leaf, 1), leaves)
    shown = found[(leaf - 1) * LEAF : leaf * LEAF]
    return context.page(
        "front.html",
        entries=[_entry(key, dressing, trade) for key, dressing in shown],
        found=len(found),
        whole=len(books.dressings),
        is_near=not is_exact,
        words=words,
        style=style,
        styles=list(trade.styles.values()),
        own_styles=[one for one in trade.styles.values() if one.id in _styles(books.dressings)],
        leaf=leaf,
        leaves=leaves,
        books=join_words([str(one) for one in context.sources.book_paths])
        if context.sources.book_paths
        else "",
        unreadable=[
            line for one in books.unreadable if one.problem for line in fault_lines(one.problem)
        ],
        left_out=pluralize(sum(one.left_out for one in books.files), "dressing"),
        is_left_out=any(one.left_out for one in books.files),
        text=fields.get("text", ""),
        sizes=fields.get("sizes", ""),
    )


def _styles(dressings: dict[str, Dressing]) -> set[str]:
    return {one.style for one in dressings.values()}


def _told(dressing: Dressing, trade: Trade) -> str:
    """Return what may be looked for of a dressing: its name, style and materials."""
    return f"{dressing.name} {trade.styles[dressing.style].name} {_made_of(dressing)}"


def _made_of(dressing: Dressing) -> str:
    return ", ".join(
        " with ".join(one.words for one in part.ingredients)
        for part in dressing.parts
        if part.id not in (HOOK, THREAD)
    )


def _entry(key: str, dressing: Dressing, trade: Trade) -> Entry:
    question = Question(key)
    first, last = dressing.sizes[0], dressing.sizes[-1]
    return Entry(
        dressing.name,
        trade.styles[dressing.style].name,
        str(first) if first == last else f"{first} to {last}",
        _made_of(dressing),
        question.link("/design"),
        question.link("/picture.svg"),
    )


ROUTES = [get("/", front)]
