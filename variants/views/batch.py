"""A batch on a terminal and as JSON: the bench order, what runs out, what to buy, what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from variants.box import format_amount
from variants.box.rounding import round_to_measurable, to_decimal
from variants.explain.changes import find_changes
from variants.explain.wording import departure_words, item_words, part_name, pluralize
from variants.geometry import Shortage, Tied, WriteOff
from variants.model import Item, Trade
from variants.reading.batches import Batch
from variants.survey.batches import BatchPlan, Shortfall, Store
from variants.survey.class_kit import lay_out_kit
from variants.survey.shopping import ToBuy
from variants.text import printable
from variants.views.columns import wrap
from variants.views.shopping import (
    cost_lines,
    kit_json,
    kit_lines,
    shopping_json,
    shopping_lines,
)

VERSION = 1
#: So many stores are told, the emptiest ones.
_STORES = 6


def batch_lines(
    batch: Batch,
    plan: BatchPlan,
    trade: Trade,
    items: int,
    bought: Sequence[ToBuy] = (),
    students: int = 0,
) -> list[str]:
    """Return the plan.

    Parameters
    ----------
    batch : Batch
        For the whole class, where there is one.
    plan : BatchPlan
    trade : Trade
    items : int
        How many the box holds.
    bought : sequence of ToBuy
        The shopping list.
    students : int
        How many tie it; 0 for no class.
    """
    wanted = sum(one.count for one in batch.flies)
    tied = sum(one.count for one in plan.tied)
    name = printable(batch.name)
    if students:
        name += f", a class of {students}"
    told = f"{name}: {tied} of {_flies(wanted)} from {pluralize(items, 'item')}"
    lines = wrap(f"{told}, departing {departure_words(plan.allocation.departure)} in all")
    if plan.allocation.method == "steps":
        told = "Shared out step by step, since there are too many ways to try: not proven the best."
        lines += wrap(told)
    if plan.tied:
        lines += ["", "At the bench, in this order"]
        lines += [line for one in plan.tied for line in _tied_lines(one)]
    if students and plan.tied:
        lines += ["", "Laid out for the class"]
        lines += kit_lines(lay_out_kit(plan.tied), students, trade)
    if plan.stores:
        lines += ["", "What it takes, the emptiest first"]
        lines += [line for store in plan.stores[:_STORES] for line in _store_lines(store)]
    if plan.short:
        lines += ["", "Not tied, and what it wants"]
        lines += [line for one in plan.short for line in _short_lines(one, trade)]
    if bought:
        lines += ["", "To buy for them", *shopping_lines(bought)]
    parts = [one for each in plan.tied for one in each.cost.unpriced]
    unpriced = sorted({part_name(trade.parts, one) for one in parts})
    cost = sum(one.cost.total * one.count for one in plan.tied)
    told_cost = cost_lines(cost, unpriced, bought, students)
    return [*lines, "", *told_cost] if told_cost else lines


def _flies(count: int) -> str:
    return "1 fly" if count == 1 else f"{count} flies"


def _tied_lines(one: Tied) -> list[str]:
    name = f"{printable(one.wanted.dressing.name)}, size {one.wanted.size}"
    told = "; ".join(
        f"{change.part} {change.words}" for change in find_changes(one.design, one.variant)
    )
    return wrap(f"{one.count:>4}  {name}: {told or 'as written'}", subsequent_indent=" " * 8)


def _store_lines(store: Store) -> list[str]:
    taken, left = (_told(one, store.items[0]) for one in (store.taken, store.left))
    told = f"takes {taken}, {left} left: {item_words(store.items)}"
    return wrap(told, initial_indent="  ", subsequent_indent=" " * 6)


def _told(number: float, item: Item) -> str:
    """Return so much of an item, as can be measured."""
    if item.amount is None:
        return f"{number:.3g}"
    units = item.amount.units
    unit = f"{units}" if item.amount.check("[piece]") else f"{units:~}"
    return format_amount(round_to_measurable(to_decimal(max(0.0, number)), unit), unit)


def _short_lines(short: Shortfall, trade: Trade) -> list[str]:
    name = f"{printable(short.wanted.dressing.name)}, size {short.wanted.size}"
    told = f"{short.count} of {name}: see whynot for what is in the way"
    if short.needs:
        needs = [
            f"{part_name(trade.parts, use.part)}, {printable(use.ingredient.words)}"
            for use, _ in short.needs
        ]
        told = f"{short.count} of {name}: {'; '.join(needs)}"
    return wrap(told, initial_indent="  ", subsequent_indent=" " * 6)


def write_off_lines(plan: BatchPlan, found: WriteOff, trade: Trade) -> list[str]:
    """Return what is to be known before a batch is written off: what is short, what goes empty."""
    tied, short = (sum(one.count for one in flies) for flies in (plan.tied, plan.short))
    lines = []
    if plan.short:
        lines += wrap(f"The box gives {tied} of the {_flies(tied + short)}. Short for the rest:")
        lines += [line for one in plan.short for line in _short_lines(one, trade)]
    lines += [line for one in found.shortages for line in shortage_lines(one, trade)]
    if found.emptied:
        names = ", ".join(f"“{printable(item.id)}”" for item in found.emptied)
        lines += wrap(f"Nothing is left then of {names}.", subsequent_indent="  ")
    return lines


def shortage_lines(one: Shortage, trade: Trade) -> list[str]:
    """Return what `shortage_words` says, in lines of a terminal."""
    words = shortage_words(one, trade)
    return wrap(words, initial_indent="  ", subsequent_indent=" " * 6)


def shortage_words(one: Shortage, trade: Trade) -> str:
    """Return how much is wanted of a lot that runs short, and how much of it there is."""
    parts = " and ".join(part_name(trade.parts, part) for part in one.parts)
    needed, left = (_told(each, one.items[0]) for each in (one.needed, one.left))
    told = f"takes {needed}, and there is {left}: {item_words(one.items)}"
    return f"{parts}: {told}"


def batch_json(
    batch: Batch, plan: BatchPlan, bought: Sequence[ToBuy] = (), students: int = 0
) -> dict[str, Any]:
    """Return the plan in its documented JSON shape."""
    return {
        "version": VERSION,
        "name": batch.name,
        "students": students,
        "laid_out": kit_json(lay_out_kit(plan.tied), students or 1),
        "to_buy": shopping_json(bought),
        "method": plan.allocation.method,
        "departure": plan.allocation.departure / 1000,
        "tied": [
            {
                "dressing": one.wanted.dressing.name,
                "size": one.wanted.size,
                "count": one.count,
                "departure": one.variant.departure / 1000,
                "changed": list(one.variant.changed),
                "cost": one.cost.total,
                "unpriced": list(one.cost.unpriced),
            }
            for one in plan.tied
        ],
        "short": [
            {
                "dressing": one.wanted.dressing.name,
                "size": one.wanted.size,
                "count": one.count,
                "needs": [
                    {
                        "part": use.part,
                        "material": use.ingredient.material.id,
                        "colour": use.ingredient.colour.id if use.ingredient.colour else None,
                        "amount": amount,
                    }
                    for use, amount in one.needs
                ],
            }
            for one in plan.short
        ],
        "stores": [
            {
                "items": [item.id for item in store.items],
                "taken": store.taken,
                "left": store.left,
            }
            for store in plan.stores
        ],
    }
