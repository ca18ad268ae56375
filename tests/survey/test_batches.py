"""A batch: as good as trying all, bench order against every order, and written off truly."""

from __future__ import annotations

import shutil
from dataclasses import replace
from itertools import pairwise, permutations
from pathlib import Path

import pytest

from tests.real import EXAMPLES, box, example, example_box, fly, rulebook
from variants.box import BoxStore, read_journal
from variants.box.rounding import measuring_step
from variants.design.search import search
from variants.geometry import load_layout
from variants.geometry.bench import _change as change
from variants.geometry.bench import bench_order, find_write_off
from variants.geometry.cost import cost_of
from variants.reading import InputError, read_box
from variants.reading.batches import BatchFly, read_batch
from variants.survey.batches import plan_batch

LAYOUT = load_layout()
BATCH = read_batch(EXAMPLES / "batch.toml", rulebook().trade)


def test_the_valley_s_batch_ties_all_that_is_wanted() -> None:
    plan = plan_batch(BATCH.flies, example_box(), rulebook(), LAYOUT)
    assert plan.allocation.tied == sum(one.count for one in BATCH.flies)
    assert not plan.short
    for one in plan.tied:
        best = search(one.design, 1).variants[0]
        assert one.variant.departure >= best.departure - 0 or one.design.request.missing


def test_what_is_scarce_goes_where_it_saves_most() -> None:
    """Three feathers for two dressings: one has a near stand-in, the other a far one."""
    parts = {
        "hook": "dry fly hook",
        "thread": "polyester tying thread, black",
        "body": "peacock herl",
        "hackle": "rooster-neck-dry, ginger",
    }
    rows = [
        "hooks,dry fly hook,,14,,50 hooks",
        "thread,polyester tying thread,black,,,300 m",
        "herl,peacock herl,,,,",
        "ginger,rooster-neck-dry,ginger,14,,3 feathers",
        "light,rooster-neck-dry,light ginger,14,,40 feathers",
    ]
    plain = fly(parts)
    strict = fly({**parts, "hackle": "rooster-neck-dry, ginger | signature = true"})
    wanted = [
        BatchFly(replace(plain, name="plain"), 14, 3),
        BatchFly(replace(strict, name="s"), 14, 3),
    ]
    plan = plan_batch(wanted, box(rows), rulebook(), LAYOUT)
    assert plan.allocation.tied == 6
    used = {
        (one.wanted.dressing.name, one.variant.chosen["hackle"].items[0][0].id): one.count
        for one in plan.tied
    }
    assert sum(count for (_, item), count in used.items() if item == "ginger") == 3


def test_what_cannot_be_tied_is_told_with_what_it_wants() -> None:
    wanted = [BatchFly(example("packhorse-badger"), 12, 500)]
    plan = plan_batch(wanted, example_box(), rulebook(), LAYOUT)
    (short,) = plan.short
    assert short.count + sum(one.count for one in plan.tied) == 500
    assert short.needs
    assert all(amount > 0 for _, amount in short.needs)


def test_bench_order_changes_least() -> None:
    flies = [BatchFly(example(name), size, 2)
             for name, size in (("ferrymans-dun", 14), ("bellringer", 12), ("tollgate-amber", 14),
                                ("packhorse-badger", 12), ("sluice-midge", 18))]  # fmt: skip
    tied = plan_batch(flies, example_box(), rulebook(), LAYOUT).tied

    def changes(order: object) -> int:
        seq = list(order)  # type: ignore[call-overload]
        return sum(change(a, b) for a, b in pairwise(seq))

    assert changes(bench_order(tied)) == min(map(changes, permutations(tied)))


def test_what_is_taken_is_written_off_and_the_box_still_reads(tmp_path: Path) -> None:
    path = tmp_path / "box.csv"
    shutil.copyfile(EXAMPLES / "box.csv", path)
    before = {item.id: item.amount for item in read_box(path, rulebook().trade).items}
    plan = plan_batch(BATCH.flies, read_box(path, rulebook().trade), rulebook(), LAYOUT)
    taken = find_write_off(plan.tied).takes
    BoxStore(path, rulebook().trade).take(taken, "batch")
    for item in read_box(path, rulebook().trade).items:
        was = before[item.id]
        if was is None or item.amount is None:
            continue
        gone = float((was - item.amount).magnitude)
        step = float(
            measuring_step(f"{was.units:~}" if not was.check("[piece]") else f"{was.units}")
        )
        assert gone == pytest.approx(taken.get(item.id, 0.0), abs=step / 2 + 1e-9)
    assert [entry.what for entry in read_journal(path)] == ["begun", "batch"]


def test_what_runs_short_and_what_goes_empty_is_told_before_it_is_written_off() -> None:
    """500 flies where there is stuff for one plan's worth: both spools would go, and it is said."""
    plan = plan_batch(BATCH.flies[:1], example_box(), rulebook(), LAYOUT)
    few, many = plan.tied[0], replace(plan.tied[0], count=5000)
    assert find_write_off([few]).shortages == ()
    found = find_write_off([many])
    short = {part: one for one in found.shortages for part in one.parts}
    assert {"hook", "thread", "wing"} <= set(short)
    for one in found.shortages:
        stock = sum(float(item.amount.magnitude) for item in one.items if item.amount is not None)
        each = sum(use.of(one.items[0]) or 0.0 for use in many.uses if use.items == one.items)
        assert one.left == pytest.approx(stock)
        assert one.needed == pytest.approx(5000 * each)
        assert set(one.items) <= set(found.emptied)
        assert sum(found.takes[item.id] for item in one.items) == pytest.approx(stock)


def test_a_fly_costs_its_share_of_what_was_bought() -> None:
    """A furnace cape of 40 feathers at 24.00: one hackle is 0.60, and a tail a tenth of one."""
    plan = plan_batch(BATCH.flies[:1], example_box(), rulebook(), LAYOUT)
    uses = plan.tied[0].uses
    hackle = [use for use in uses if use.part == "hackle"]
    assert cost_of(hackle).total == pytest.approx(24.0 / 40)
    tail = [use for use in uses if use.part == "tail"]
    assert cost_of(tail).total == pytest.approx(24.0 / 40 * 6 / 60)
    assert cost_of([replace(hackle[0], items=())]).unpriced == ("hackle",)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no fly is wanted"),
        ("fly = 3\n", "no fly is wanted"),
        ('[[fly]]\ndressing = "none.toml"\ncount = 2\n', "none.toml"),
        ('[[fly]]\ndressing = "none.toml"\n', "count"),
        ('[[fly]]\ndressing = "/etc/hostname"\ncount = 2\n', "no dressing beside the batch"),
        ('[[fly]]\ndressing = "../../../../../../dev/zero"\ncount = 2\n', "no dressing beside"),
        ("[[fly]]\ncount = 2\n", "dressing"),
        ('[[fly]]\ndressing = "x.toml"\ncount = 0\n', "count"),
        ('[[fly]]\ndressing = "x.toml"\ncount = 2\nsise = 4\n', "size"),
    ],
)
def test_a_batch_file_that_will_not_do_is_refused(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "batch.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=said):
        read_batch(path, rulebook().trade)
