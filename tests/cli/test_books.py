"""Books of plain words: what of them serves, and that nothing is left out in silence."""

from __future__ import annotations

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
