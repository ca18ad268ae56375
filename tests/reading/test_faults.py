"""Complaints as values: how they are shown, which come first, which names are offered."""

from __future__ import annotations

import pytest

from tests.build import complaint
from variants.model import Origin
from variants.reading import Fault, Faults, InputError
from variants.text import nearest, shown


def test_a_fault_says_where_what_and_what_would_be_right() -> None:
    fault = Fault(Origin("box.csv", 12, "sizes"), "'x' is no size", "write 14", ("14", "16"))
    assert str(fault) == (
        "box.csv:12: sizes: 'x' is no size\n  help: write 14\n  did you mean '14' or '16'?"
    )


def test_faults_come_file_by_file_in_order_of_lines() -> None:
    faults = Faults()
    for file, line in (("b", 9), ("a", 2), ("b", 3), ("a", 1)):
        faults.add(Origin(file, line), "is wrong")
    assert complaint(faults.stop_if_any).splitlines() == [
        "b:3: is wrong",
        "b:9: is wrong",
        "a:1: is wrong",
        "a:2: is wrong",
    ]


def test_no_fault_stops_nothing() -> None:
    faults = Faults()
    faults.stop_if_any()
    assert not faults


NAMES = ["hen neck", "hen pheasant tail fibres", "hackle", "hackles", "partridge hackle", "g", "mm"]


@pytest.mark.parametrize(
    ("written", "offered"),
    [
        ("hen nekc", ("hen neck",)),
        ("Hakle", ("hackle", "hackles")),
        ("partridge", ("partridge hackle",)),
        ("zebra", ()),
        ("furlongs", ()),
        ("", ()),
    ],
)
def test_only_near_names_are_offered(written: str, offered: tuple[str, ...]) -> None:
    assert nearest(written, NAMES) == offered


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("hen\x1b[2Jneck", "'hen\N{REPLACEMENT CHARACTER}[2Jneck'"),
        ("x" * 61, "'" + "x" * 60 + "…'"),
        (True, "true"),
        (3, "3"),
        (1.5, "1.5"),
        ([1, "a"], "[1, 'a']"),
        ({"a": [False]}, "{ a = [false] }"),
        pytest.param(10**5000, "0x", id="a huge number"),
        (["x" * 99] * 99, "['xxx"),
    ],
)
def test_a_value_is_shown_as_its_file_writes_it(value: object, text: str) -> None:
    assert shown(value).startswith(text)
    assert len(shown(value)) <= 63


def test_whatever_a_fault_is_made_of_it_is_shown_and_not_obeyed() -> None:
    wild = "a\x1b[2J\ufeff\u202eb"
    text = str(Fault(Origin(wild, 1, wild), f"'{wild}' is wrong", f"not {wild}", (wild,)))
    assert all(one.isprintable() or one == "\n" for one in text)
    assert text.count("\n") == 2


def test_the_thousandth_fault_ends_the_reading() -> None:
    faults = Faults()
    for line in range(1, 1000):
        faults.add(Origin("box.csv", line), "is wrong")
    with pytest.raises(InputError) as told:
        faults.add(Origin("box.csv", 1000), "is wrong")
    assert len(told.value.faults) == 1000
    assert str(told.value).endswith("and 960 more of the kind; reading stopped there")
