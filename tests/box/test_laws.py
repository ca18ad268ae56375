"""Laws of a kept box, whatever is done to it in whatever order."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.box.harm import TEXT, agrees
from tests.breadth import examples
from tests.build import SMALL
from variants.box import BoxStore, read_journal
from variants.box.audit import audit
from variants.reading import InputError

NAMES = ("cape, old", "reel", "new", "# odd", "=1+1")
names = st.sampled_from(NAMES)
amounts = st.sampled_from(["1 feather", "3 feathers", "1 m", "0.5 m", "7", "all", "1 g"])
notes = st.sampled_from(["", "x", "a, b", '"', "two\nlines", "=run", "é", "'=x", "-"])
steps = st.one_of(
    st.tuples(st.just("use"), names, amounts),
    st.tuples(st.just("buy"), names, amounts),
    st.tuples(st.just("add"), names, notes),
    st.tuples(st.just("correct"), names, notes),
    st.tuples(st.just("rename"), names, names),
    st.tuples(st.just("undo"), st.just(""), st.just("")),
    st.tuples(st.just("hand"), names, notes),
)


def do(store: BoxStore, step: tuple[str, str, str]) -> None:
    what, name, told = step
    if what == "use":
        store.use(name, told)
    elif what == "buy":
        store.buy(name, told)
    elif what == "add":
        store.add({"item": name, "material": "hen cape", "note": told, "amount": "5 feathers"})
    elif what == "correct":
        store.correct(name, {"note": told, "mine": told})
    elif what == "rename":
        store.correct(name, {"item": told})
    elif what == "undo":
        store.undo()
    else:
        text = store.path.read_text("utf-8")
        store.path.write_text(f"{text}# by hand\nhand {len(text)},hen cape,,,\n", encoding="utf-8")


@settings(max_examples=examples(40))
@given(st.lists(steps, max_size=14))
def test_box_and_journal_agree_and_what_is_refused_changes_nothing(
    done: list[tuple[str, str, str]],
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder).resolve() / "box.csv"
        path.write_text(TEXT, encoding="utf-8")
        store = BoxStore(path, SMALL)
        for step in done:
            before = path.read_bytes()
            try:
                do(store, step)
            except InputError:
                assert path.read_bytes() == before
        if read_journal(path):
            store.record_hand_edit()
            assert agrees(path)
            assert audit(path, SMALL).agrees


@settings(max_examples=examples(30))
@given(st.lists(steps.filter(lambda step: step[0] != "hand"), max_size=10))
def test_taking_all_back_brings_every_item_back(done: list[tuple[str, str, str]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder).resolve() / "box.csv"
        path.write_text(TEXT, encoding="utf-8")
        store = BoxStore(path, SMALL)
        before = store.read().box
        for step in done:
            try:
                do(store, step)
            except InputError:
                continue
        for _ in done:
            try:
                store.undo()
            except InputError:
                break
        assert store.read().box == before
