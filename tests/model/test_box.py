"""Things owned: how many are left, and when none is."""

from __future__ import annotations

import pytest

from tests.build import box, item


@pytest.mark.parametrize(
    ("amount", "count", "is_gone"),
    [
        ("12 feathers", 12, False),
        ("3 pairs", 3, False),
        ("0 feathers", 0, True),
        ("3 m", None, False),
        ("0 m", None, True),
        (None, None, False),
    ],
)
def test_what_is_left(amount: str | None, count: int | None, is_gone: bool) -> None:
    one = item("cape", "hen-neck", amount=amount)
    assert one.count == count
    assert one.is_gone is is_gone


def test_an_item_is_found_by_its_id() -> None:
    capes = box(item("one", "hen-neck"), item("two", "cock-neck"))
    found = capes.item("two")
    assert found is not None
    assert found.material.id == "cock-neck"
    assert capes.item("three") is None
