"""A batch on a terminal and as JSON: the bench order, what runs out, what to buy, what it costs."""

from __future__ import annotations

from typing import Any

from variants.amounts.batches import BatchPlan, Short, Store
from variants.amounts.bench import Tied
from variants.model import Trade
from variants.reading.batches import Batch
from variants.views.amounts import amount_words
from variants.views.columns import wrap
from variants.views.proposal import changes
from variants.views.words import counted, departure, item_words, part_name, printable

WIDTH = 80
VERSION = 1
#: So many stores are told, the emptiest ones.
_STORES = 6


def batch_lines(batch: Batch, plan: BatchPlan, trade: Trade, items: int) -> list[str]:
    """Return the plan."""
    wanted = sum(one.count for one in batch.flies)
    tied = sum(one.count for one in plan.tied)
    told = f"{printable(batch.name)}: {tied} of {_flies(wanted)} from {counted(items, 'item')}"
    lines = wrap(f"{told}, departing {departure(plan.allocation.departure)} in all", WIDTH)
    if plan.allocation.method == "steps":
        told = "Shared out step by step, since there are too many ways to try: not proven the best."
        lines += wrap(told, WIDTH)
    if plan.tied:
        lines += ["", "At the bench, in this order"]
        lines += [line for one in plan.tied for line in _tied_lines(one)]
    if plan.stores:
        lines += ["", "What it takes, the emptiest first"]
        lines += [line for store in plan.stores[:_STORES] for line in _store_lines(store)]
    if plan.short:
        lines += ["", "Not tied, and what it wants"]
        lines += [line for one in plan.short for line in _short_lines(one, trade)]
    lines += _cost_lines(plan)
    return lines


def _flies(count: int) -> str:
    return "1 fly" if count == 1 else f"{count} flies"


def _tied_lines(one: Tied) -> list[str]:
    name = f"{printable(one.wanted.dressing.name)}, size {one.wanted.size}"
    told = "; ".join(f"{change.part} {change.words}" for change in changes(one.design, one.variant))
    return wrap(f"{one.count:>4}  {name}: {told or 'as written'}", WIDTH, subsequent_indent=" " * 8)


def _store_lines(store: Store) -> list[str]:
    first = store.items[0]
    unit = f"{first.amount.units:~}" if first.amount is not None else ""
    if first.amount is not None and first.amount.check("[piece]"):
        unit = f"{first.amount.units}s"
    told = f"takes {store.taken:.3g} {unit}, {store.left:.3g} left: {item_words(store.items)}"
    return wrap(told, WIDTH, initial_indent="  ", subsequent_indent=" " * 6)


def _short_lines(short: Short, trade: Trade) -> list[str]:
    name = f"{printable(short.wanted.dressing.name)}, size {short.wanted.size}"
    if not short.needs:
        told = f"{short.count} of {name}: see whynot for what is in the way"
    else:
        needs = [
            f"{part_name(trade.parts, use.part)}: {printable(use.ingredient.words)},"
            f" {amount_words(use, short.count)}"
            for use, _ in short.needs
        ]
        told = f"{short.count} of {name}: buy {'; '.join(needs)}"
    return wrap(told, WIDTH, initial_indent="  ", subsequent_indent=" " * 6)


def _cost_lines(plan: BatchPlan) -> list[str]:
    total = sum(one.cost.total * one.count for one in plan.tied)
    if not total:
        return []
    unpriced = sorted({part for one in plan.tied for part in one.cost.unpriced})
    told = f"It costs {total:.2f}"
    if unpriced:
        told += f", without the {', '.join(unpriced)} of some, whose price is not noted"
    return ["", *wrap(f"{told}.", WIDTH)]


def batch_json(batch: Batch, plan: BatchPlan) -> dict[str, Any]:
    """Return the plan in its documented JSON shape."""
    return {
        "version": VERSION,
        "name": batch.name,
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
