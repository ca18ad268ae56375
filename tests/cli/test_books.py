"""Books of plain words: what of them serves, and that nothing is left out in silence."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.test_flykin import flykin

MINE = """name = "Mill Race"
style = "winged wet"
sizes = "12"
[part.hook]
material = "wet fly hook"
[part.body]
material = "silk floss"
colour = "yellow"
"""
BOOK = "Reed Cutter\nBody: yellow floss\n\nSluice\nBody: black floss\nHackle: brown\n"


def kin(tmp_path: Path, book: str) -> tuple[str, str]:
    mine, words = tmp_path / "mine.toml", tmp_path / "book.txt"
    mine.write_text(MINE, encoding="utf-8")
    words.write_text(book, encoding="utf-8")
    done = flykin("kin", str(mine), "--book", str(words))
    assert done.returncode == 0, done.stderr
    return done.stdout, done.stderr


def test_plain_words_without_a_style_are_read_as_the_dressings_own(tmp_path: Path) -> None:
    out, told = kin(tmp_path, BOOK)
    assert "same  Reed Cutter" in out
    assert "Sluice: differs in body and hackle" in out
    assert told == ""


def test_what_a_book_leaves_out_is_told_with_its_place(tmp_path: Path) -> None:
    out, told = kin(tmp_path, f"{BOOK}\nStill Pool\nBody: none\n")
    assert "Still Pool" not in out
    assert "1 of 3 dressings left out, the first at line 8" in told


def test_what_is_not_wholly_understood_is_told(tmp_path: Path) -> None:
    _out, told = kin(tmp_path, BOOK.replace("brown", "thrubbled brown"))
    assert "1 of 2 dressings not wholly understood" in told


def test_a_text_that_can_not_be_read_names_standard_input_as_other_commands_do() -> None:
    done = flykin("read", "-", text="foo \x1b bar\n")
    assert done.returncode == 2
    assert done.stderr.startswith("(standard input):1: ")


JOTTED = "Hook: wet 12-14\nSilk: yellow\nBody: yellow floss, ribbed gold wire\nHackle: ginger hen\n"


def test_a_dressing_jotted_down_is_asked_about_as_it_is(tmp_path: Path) -> None:
    words = tmp_path / "ferry-lane.txt"
    words.write_text(JOTTED, encoding="utf-8")
    done = flykin("propose", str(words), "--box", "examples/box.csv", "--best", "1")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("ferry-lane, soft hackle, size")
    assert "plain words, confidence" in done.stderr


def test_several_dressings_or_none_in_plain_words_are_refused(tmp_path: Path) -> None:
    words = tmp_path / "some.txt"
    for text, why in ((BOOK, "holds 2 dressings"), ("Grey Thing\nBody: grey fur\n", "style")):
        words.write_text(text, encoding="utf-8")
        done = flykin("propose", str(words), "--box", "examples/box.csv")
        assert done.returncode == 2
        assert why in done.stderr
        assert done.stdout == ""


DARK = (
    "Weir Runner\nStyle: winged wet\nHook: wet fly 10-14\nBody: orange brown wool\n"
    "Rib: thrubble wire\nHackle: brown hen\n"
)


def test_nothing_is_proven_of_a_fly_of_which_a_word_is_not_understood(tmp_path: Path) -> None:
    words = tmp_path / "weir.txt"
    words.write_text(DARK, encoding="utf-8")
    done = flykin("propose", str(words), "--box", "examples/box.csv")
    assert done.stderr.startswith(f"{words}: NOT UNDERSTOOD line 5, rib: “thrubble”")
    assert "Nothing is proven of the fly as written while “thrubble” is not understood" in (
        " ".join(done.stdout.split())
    )
    assert "in proven order" not in done.stdout
    answer = json.loads(flykin("propose", str(words), "--box", "examples/box.csv", "--json").stdout)
    assert (answer["proven"], answer["unread"], answer["complete"]) == (0, ["thrubble"], False)


def test_the_json_of_read_asks_what_is_doubtful_with_the_likeliest_first(tmp_path: Path) -> None:
    words = tmp_path / "weir.txt"
    words.write_text(DARK.replace("10-14", "1/0 to 2"), encoding="utf-8")
    (read,) = json.loads(flykin("read", str(words), "--json").stdout)["dressings"]
    assert read["sizes"] == ["1/0", 1, 2]
    asked = {one["words"]: one for one in read["questions"]}
    assert asked["thrubble"]["field"] == "rib"
    for one in read["questions"]:
        sure = [may["sure"] for may in one["may_be"] if "sure" in may]
        assert sure == sorted(sure, reverse=True)
    assert all("others" in one for part in read["parts"] for one in part["choices"][0])
