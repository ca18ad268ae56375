"""The box on the page: all that is owned, found by name, stuff or place; and its journal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlencode

from starlette.responses import Response

from variants.box import BoxStore, ItemChange, JournalEntry
from variants.explain.wording import amount_left
from variants.model import Item, Trade
from variants.views.changes import clock_words
from variants.web.context import Context, get
from variants.web.errors import not_found
from variants.web.measures import range_words
from variants.web.text_search import find

#: So many items stand on one leaf, and so many entries of the journal.
LEAF, ENTRIES = 100, 40
#: So many changes of one entry are told.
_MOST_CHANGES = 12
DONE = {
    "add": "Put into the box.",
    "use": "Taken off the box.",
    "buy": "Added to what is there.",
    "correct": "Corrected.",
    "undo": "Taken back.",
    "tied": "What the flies took is written off the box.",
    "again": "That was done already; nothing was done twice.",
}
_WHAT = {
    "add": "new item",
    "use": "used",
    "buy": "bought",
    "correct": "corrected",
    "undo": "taken back",
    "import": "imported",
    "batch": "tied",
    "begun": "the journal was begun",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One item of the list."""

    name: str
    what: str
    sizes: str
    left: str
    place: str
    is_gone: bool
    link: str


@dataclass(frozen=True, slots=True)
class ToldEntry:
    """One entry of the journal."""

    number: int
    at: str
    what: str
    note: str
    changes: list[str]
    may_be_undone: bool


def open_store(context: Context) -> BoxStore:
    """Return the store of the box; refuse where there is none."""
    return BoxStore(path_of(context), context.sources.trade.rulebook.trade)


def path_of(context: Context) -> Path:
    """Return the path of the box; refuse where there is none."""
    if context.sources.box_path is None:
        raise not_found("The page was started without a box.", "Start it with --box BOX.")
    return context.sources.box_path


def item_link(name: str, done: str = "") -> str:
    """Return the link of an item's own page."""
    return "/box/item?" + urlencode([("name", name), *([("done", done)] if done else [])])


def box(context: Context) -> Response:
    """Show what is in the box."""
    fields = context.fields("find", "part", "left", "leaf", "done")
    snapshot, trade = context.sources.box, context.sources.trade.rulebook.trade
    words, part = fields.get("find", "")[:200].strip(), fields.get("part", "")
    wanted = fields.get("left", "")
    items = snapshot.box.items if snapshot else ()
    found, is_exact = find(
        words,
        (
            (one, _told(one))
            for one in items
            if _serves(one, part, trade) and (wanted != "gone" or one.is_gone)
        ),
    )
    leaves = max(1, -(-len(found) // LEAF))
    text = fields.get("leaf", "")
    leaf = min(int(text[:6]), leaves) if text.isascii() and text.isdecimal() else 1
    leaf = max(leaf, 1)
    return context.page(
        "box.html",
        rows=[_row(one, context.units) for one in found[(leaf - 1) * LEAF : leaf * LEAF]],
        found=len(found),
        is_near=not is_exact,
        whole=len(items),
        gone=sum(one.is_gone for one in items),
        fields={name: fields.get(name, "") for name in ("find", "part", "left")},
        parts=[(one.id, one.name) for one in trade.parts.values()],
        leaf=leaf,
        leaves=leaves,
        name=str(context.sources.box_path or ""),
        done=DONE.get(fields.get("done", ""), ""),
    )


def _told(item: Item) -> str:
    """Return what may be looked for of an item: its name, stuff, place, note and sizes."""
    sizes = " ".join(f"size {size}" for size in item.sizes or ())
    return f"{item.id} {stuff_words(item)} {item.place} {item.note} {sizes}"


def _serves(item: Item, part: str, trade: Trade) -> bool:
    if not part:
        return True
    if part not in trade.parts:
        raise not_found(f"“{part[:60]}” is no part of a fly.", "Choose one of the list.")
    return bool(item.material.functions & trade.parts[part].functions)


def stuff_words(item: Item) -> str:
    """Return what an item is, in the trade's words."""
    if item.colour is None or item.colour.name.lower() in item.material.name.lower():
        return item.material.name
    return f"{item.colour.name} {item.material.name}"


def _row(item: Item, units: str) -> Row:
    return Row(
        item.id,
        stuff_words(item),
        _sizes(item, units),
        "none left" if item.is_gone else amount_left(item),
        item.place,
        item.is_gone,
        item_link(item.id),
    )


def _sizes(item: Item, units: str) -> str:
    told = []
    if item.sizes:
        first, last = item.sizes[0], item.sizes[-1]
        told.append(f"{first}" if first == last else f"{first} to {last}")
    if item.length_mm:
        told.append(range_words(*item.length_mm, units))
    if item.denier:
        told.append(f"{item.denier:g} denier")
    return ", ".join(told)


def journal(context: Context) -> Response:
    """Show what was done to the box, the last first, each to be taken back."""
    fields = context.fields("done")
    entries = open_store(context).history()
    shown = entries[::-1][:ENTRIES]
    return context.page(
        "journal.html",
        entries=[told_entry(one, entries) for one in shown],
        whole=len(entries),
        hidden=len(entries) - len(shown),
        form_token=context.state.form_tokens.issue(),
        done=DONE.get(fields.get("done", ""), ""),
    )


def told_entry(entry: JournalEntry, entries: Sequence[JournalEntry]) -> ToldEntry:
    """Return an entry of the journal as the page tells it."""
    undone = {one.undoes for one in entries if one.undoes is not None}
    what = _WHAT.get(entry.what, entry.what)
    if entry.undoes is not None:
        what = f"entry {entry.undoes} taken back"
    return ToldEntry(
        entry.number,
        clock_words(entry.at),
        what,
        entry.note,
        [_change_words(one) for one in entry.changes[:_MOST_CHANGES]],
        bool(entry.changes) and entry.number not in undone,
    )


def _change_words(change: ItemChange) -> str:
    if change.before is None:
        return f"{change.item}: new"
    if change.after is None:
        return f"{change.item}: gone"
    told = [
        f"{column} {change.before.get(column) or 'empty'} → {after or 'empty'}"
        for column, after in change.after.items()
    ]
    return f"{change.item}: {', '.join(told)}"


ROUTES = [get("/box", box), get("/box/journal", journal)]
