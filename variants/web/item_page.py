"""One item of the box: used, bought, corrected; and a new one put in. Nothing is done twice.

A correction carries what its sender saw, and only the cells that differ from it are written. Where
the item is another one by now, nothing is written, and the page comes back with both: what stands
in the box, and what was typed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from http import HTTPStatus

from starlette.responses import Response

from variants.box import ConflictError
from variants.model import plain
from variants.reading import COLUMNS, InputError
from variants.text import nearest
from variants.web.box_page import DONE, item_link, open_store, stuff_words
from variants.web.context import Context, get, post, see_other
from variants.web.errors import RequestError, not_found, offer_near

#: What a form calls the cells of a row.
CELL = "cell."
#: And what each of them held when the form was made.
WAS = "was."
#: Columns that few items need; they stand folded away.
RARE = ("thickness", "gape", "shank", "side", "price", "price_for", "blend")
HELP = {
    "item": "your own name for it",
    "material": "a name of the trade",
    "colour": "a name of the trade, #rrggbb, or lab(L, a, b) as measured",
    "sizes": "of a hook its own; of a cape those it suits, such as 12-16",
    "length": "of the barbs as measured, such as 6-8 mm",
    "thickness": "such as 70 denier or 0.1 mm",
    "gape": "of a hook you measured, such as 4.6 mm",
    "shank": "of a hook you measured, such as 9.2 mm",
    "side": "left, right or pair",
    "amount": "such as 25 feathers, 3 m, 0.5 g, 2 pinches",
    "price": "what was paid",
    "price_for": "for how much, such as 100 hooks",
    "blend": "parts by weight of a dubbing you mixed",
    "place": "where it lies",
    "note": "",
}


def item(context: Context) -> Response:
    """Show one item with its forms."""
    fields = context.fields("name", "done")
    name, done = fields.get("name", ""), DONE.get(fields.get("done", ""), "")
    _known(context, name)
    return _item_page(context, name, done=done)


def _known(context: Context, name: str) -> None:
    """Refuse an item that the box does not hold, with the nearest names of those it does."""
    snapshot = context.sources.box
    names = {plain(one.id): one.id for one in snapshot.box.items} if snapshot else {}
    if snapshot is None or plain(name) in names:
        return  # what is wrong with no box is told where it is opened
    near = [names[one] for one in nearest(plain(name), names, most=3)]
    remedy = offer_near(near) or "Look through the box."
    raise not_found(f"There is no item “{name[:100]}” in the box.", remedy)


def _item_page(
    context: Context,
    name: str,
    *,
    status: int = 200,
    trouble: Sequence[str] = (),
    typed: Mapping[str, str] | None = None,
    amount: str = "",
    is_conflict: bool = False,
    done: str = "",
) -> Response:
    """Return the page of an item; ``typed`` keeps what a refused form held."""
    row = open_store(context).row(name)
    own = [column for column in row if column not in COLUMNS]
    cells = {column: row.get(column, "") for column in (*COLUMNS, *own)}
    return context.page(
        "item.html",
        status=status,
        name=row["item"],
        stuff=_stuff_of(context, row),
        cells=cells,
        typed=cells if typed is None else {**cells, **typed},
        rare=[name for name in RARE if not cells[name] and not (typed or {}).get(name)],
        help=HELP,
        seen=seen_of(row),
        form_token=context.state.form_tokens.issue(),
        trouble=trouble,
        amount=amount,
        is_conflict=is_conflict,
        done=done,
        materials=_materials(context),
        colours=_colours(context),
    )


def _stuff_of(context: Context, row: Mapping[str, str]) -> str:
    """Return what an item is, in the trade's words."""
    snapshot = context.sources.box
    found = snapshot.box.item(row["item"]) if snapshot else None
    return stuff_words(found) if found else row.get("material", "")


def new(context: Context) -> Response:
    """Show the form of a new item."""
    context.fields()
    return _new_page(context, {})


def _new_page(
    context: Context, typed: Mapping[str, str], trouble: Sequence[str] = (), status: int = 200
) -> Response:
    open_store(context)
    return context.page(
        "new_item.html",
        status=status,
        typed={column: typed.get(column, "") for column in COLUMNS},
        rare=[name for name in RARE if not typed.get(name)],
        help=HELP,
        form_token=context.state.form_tokens.issue(),
        trouble=trouble,
        materials=_materials(context),
        colours=_colours(context),
    )


def _materials(context: Context) -> list[str]:
    return sorted(one.name for one in context.sources.trade.rulebook.trade.materials.values())


def _colours(context: Context) -> list[str]:
    return sorted(one.name for one in context.sources.trade.rulebook.trade.colours.values())


def seen_of(row: Mapping[str, str]) -> str:
    """Return a digest of an item's cells: another item by now, another digest."""
    told = "\n".join(f"{column}={cell!r}" for column, cell in sorted(row.items()) if cell)
    return hashlib.sha256(told.encode()).hexdigest()[:24]


def _cells(form: Mapping[str, str], prefix: str = CELL) -> dict[str, str]:
    return {
        name.removeprefix(prefix): " ".join(value.split())
        for name, value in form.items()
        if name.startswith(prefix)
    }


def _changed(form: Mapping[str, str]) -> dict[str, str]:
    """Return the cells that the sender changed."""
    was = _cells(form, WAS)
    return {column: cell for column, cell in _cells(form).items() if cell != was.get(column)}


def done_once(
    context: Context, form: Mapping[str, str], link: str, act: Callable[[], Response]
) -> Response:
    """Do what a form asks, unless the very same form was done already."""
    mark = form.get("form_token", "")
    if not mark:
        raise RequestError(HTTPStatus.BAD_REQUEST, "The form is not whole.", "Load it again.")
    if not context.state.form_tokens.use(mark):
        return see_other(link)
    try:
        return act()
    except BaseException:
        context.state.form_tokens.restore(mark)
        raise


def add(context: Context, form: Mapping[str, str]) -> Response:
    """Put a new item into the box."""
    cells = _cells(form)
    name = cells.get("item", "")

    def act() -> Response:
        open_store(context).add(cells)
        return see_other(item_link(name, "add"))

    try:
        return done_once(context, form, item_link(name, "again"), act)
    except InputError as problem:
        return _new_page(context, cells, _lines(problem), HTTPStatus.UNPROCESSABLE_ENTITY)


def use(context: Context, form: Mapping[str, str]) -> Response:
    """Take from an item."""
    return _by_amount(context, form, "use")


def buy(context: Context, form: Mapping[str, str]) -> Response:
    """Add to an item what was bought."""
    return _by_amount(context, form, "buy")


def _by_amount(context: Context, form: Mapping[str, str], what: str) -> Response:
    name, amount = form.get("name", ""), form.get("amount", "").strip()[:60]
    note = form.get("note", "").strip()[:200]

    def act() -> Response:
        store = open_store(context)
        if what == "use":
            store.use(name, amount, note=note)
        else:
            store.buy(name, amount, note=note)
        return see_other(item_link(name, what))

    try:
        return done_once(context, form, item_link(name, "again"), act)
    except InputError as problem:
        status = HTTPStatus.UNPROCESSABLE_ENTITY
        return _item_page(context, name, status=status, trouble=_lines(problem), amount=amount)


def correct(context: Context, form: Mapping[str, str]) -> Response:
    """Set an item's cells right, unless it is another item by now than its sender saw."""
    name, cells = form.get("name", ""), _changed(form)
    store = open_store(context)
    snapshot = store.read()
    row = store.row(name)
    try:
        if seen_of(row) != form.get("seen", ""):
            raise _changed_since(row)
        # The version closes the gap between looking and writing.
        store.correct(name, cells, version=snapshot.version)
    except ConflictError as problem:
        return _item_page(
            context, name, status=HTTPStatus.CONFLICT, trouble=_lines(problem), typed=cells,
            is_conflict=True,
        )  # fmt: skip
    except InputError as problem:
        status = HTTPStatus.UNPROCESSABLE_ENTITY
        return _item_page(context, name, status=status, trouble=_lines(problem), typed=cells)
    return see_other(item_link(cells.get("item") or name, "correct"))


def _changed_since(row: Mapping[str, str]) -> ConflictError:
    from variants.model import Origin
    from variants.reading import Fault

    problem = "the item was changed elsewhere since you opened it; nothing was written"
    remedy = "look at both below, then send it again"
    return ConflictError([Fault(Origin(row["item"]), problem, remedy)])


def undo(context: Context, form: Mapping[str, str]) -> Response:
    """Take an entry of the journal back."""
    number = form.get("number", "")
    if not (number.isascii() and number.isdecimal() and len(number) < 10):
        raise RequestError(HTTPStatus.BAD_REQUEST, "Name the entry to take back.", "")

    def act() -> Response:
        open_store(context).undo(int(number))
        return see_other("/box/journal?done=undo")

    return done_once(context, {**form, "form_token": f"{form.get('form_token', '')} {number}"},
                 "/box/journal?done=again", act)  # fmt: skip


def _lines(problem: InputError) -> list[str]:
    """Return what is wrong, a line each, without the path of the box: there is but one."""
    told = []
    for fault in problem.faults:
        where = f"{fault.origin.field}: " if fault.origin.field else ""
        line = f"{where}{fault.problem}."
        line += f" {fault.remedy[:1].upper()}{fault.remedy[1:]}." if fault.remedy else ""
        told.append(f"{line} {offer_near(fault.near)}".rstrip())
    return told


ROUTES = [
    get("/box/item", item),
    get("/box/new", new),
    post("/box/add", add),
    post("/box/use", use),
    post("/box/buy", buy),
    post("/box/correct", correct),
    post("/box/undo", undo),
]
