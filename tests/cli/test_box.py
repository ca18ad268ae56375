"""`box` as a tyer uses it: each command on the screen, and what it leaves in the file."""

from __future__ import annotations

import json
import shutil
from itertools import product
from pathlib import Path

import pytest

from tests.breadth import most_are_slow
from tests.cli.test_flykin import BOX, flykin
from tests.real import EXAMPLES, rulebook
from variants.reading import read_box

SHED = str(EXAMPLES / "lists" / "shed.csv")


@pytest.fixture
def box(tmp_path: Path) -> str:
    path = tmp_path / "box.csv"
    shutil.copyfile(BOX, path)
    return str(path)


def test_find_answers_what_and_where() -> None:
    done = flykin("box", "find", "gray", "duck", "--for", "wing", "--box", BOX)
    assert done.returncode == 0
    assert "duck slips slate pairs" in done.stdout
    assert "wing envelope" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    nothing = flykin("box", "find", "unobtainium", "--box", BOX)
    assert nothing.returncode == 1
    assert nothing.stdout == "Nothing in the box is like “unobtainium”.\n"
    assert flykin("box", "find", "--box", BOX).returncode == 2


def test_find_by_a_measured_colour_as_json() -> None:
    done = flykin(
        "box", "find", "--colour", "lab(43, -7, 26)", "--within", "12", "--box", BOX, "--json"
    )
    answer = json.loads(done.stdout)
    assert answer["version"] == 1
    assert answer["items"]
    assert all(one["apart"] <= 12 for one in answer["items"])


def test_list_filters_and_sorts() -> None:
    done = flykin("box", "list", "--family", "hair", "--sort", "place", "--box", BOX, "--json")
    items = json.loads(done.stdout)["items"]
    kinds = {rulebook().trade.materials[one["material"]].kind for one in items}
    assert kinds == {"hair"}
    places = [one["place"] for one in items]
    assert places == sorted(places)
    gone = json.loads(flykin("box", "list", "--gone", "--box", BOX, "--json").stdout)["items"]
    assert gone
    assert all(one["amount"].startswith("0 ") for one in gone)
    assert flykin("box", "list", "--family", "hairs", "--box", BOX).returncode == 2
    whole = flykin("box", "list", "--box", BOX)
    assert whole.stdout.splitlines()[-1].startswith("195 items")
    assert max(map(len, whole.stdout.splitlines())) <= 80


def test_add_use_buy_correct_undo_and_the_history_of_it(box: str) -> None:
    added = flykin(
        "box", "add", "olive", "seal's", "fur", "--amount", "1 packet", "--place", "shelf",
        "--set", "from whom=the club", "--box", box,
    )  # fmt: skip
    assert added.returncode == 0, added.stderr
    assert "“1 packet” is taken as 1 g" in added.stdout
    assert "'flykin box undo' takes it back" in added.stdout
    assert flykin("box", "use", "olive seal's fur", "2", "pinches", "--box", box).returncode == 0
    assert flykin("box", "buy", "dry hooks 14", "2", "packets", "--price", "6.50",
                  "--box", box).returncode == 0  # fmt: skip
    corrected = flykin("box", "correct", "cock neck ginger", "--amount", "1/4 neck", "--place", "",
                       "--rename", "old ginger", "--box", box)  # fmt: skip
    assert corrected.returncode == 0, corrected.stderr
    items = {item.id: item for item in read_box(box, rulebook().trade).items}
    assert str(items["olive seal's fur"].amount) == "0.9 gram"
    assert items["dry hooks 14"].count == 102
    assert items["old ginger"].count == 50
    assert items["old ginger"].place == ""
    assert "the club" in Path(box).read_text("utf-8")
    told = flykin("box", "history", "--box", box).stdout
    assert [line.split()[3] for line in told.splitlines() if line[:1].isdigit()] == [
        "correct", "buy", "use", "add", "begun",
    ]  # fmt: skip
    through_names = flykin("box", "history", "old ginger", "--box", box).stdout
    assert "cock neck ginger" in through_names
    for _ in range(4):
        assert flykin("box", "undo", "--box", box).returncode == 0
    # The column of one's own stays; nothing else does.
    before, after = (read_box(one, rulebook().trade) for one in (BOX, box))
    assert before.items == after.items
    assert flykin("box", "undo", "--box", box).returncode == 2
    assert flykin("check", "--box", box).returncode == 0


def test_the_like_is_pointed_out(box: str) -> None:
    done = flykin("box", "add", "third packet", "--material", "dry fly hook", "--sizes", "12",
                  "--box", box)  # fmt: skip
    assert "The box holds the like: “dry hooks 12”, hook tin;" in done.stdout


def test_what_is_missing_is_asked_for_until_it_is_right(box: str) -> None:
    answers = [
        "hen caep",
        "1",
        "blu dun",
        "blue dun",
        "12-1x",
        "6,5-9 mm",
        "half a neck",
        "tin",
        "",
    ]
    done = flykin("box", "add", "--ask", "--box", box, text="\n".join(answers) + "\n")
    assert done.returncode == 0, done.stderr
    assert "'blu dun' is no colour" in done.stderr
    item = read_box(box, rulebook().trade).items[-1]
    assert (item.id, item.material.id) == ("hen neck hackle blue dun", "hen-neck")
    assert (item.length_mm, item.count, item.place) == ((6.5, 9.0), 100, "tin")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["use", "cock neck gingr", "2"], "did you mean 'cock neck ginger'"),
        (["use", "cock neck ginger", "2", "g"], "can't be set against '46 feathers'"),
        (["use", "cock neck ginger", "900"], "is more than"),
        (["add", "x", "--material", "hen caep"], "did you mean 'hen cape'"),
        (
            ["add", "dry hooks 12", "--material", "dry fly hook", "--sizes", "12"],
            "there is an item",
        ),
        (["add", "x", "--material", "dry fly hook"], "the hook's size is missing"),
        (["correct", "cock neck ginger", "--set", "place"], "COLUMN=TEXT"),
        (["correct", "cock neck ginger"], "Say what is to be set right"),
        (["undo", "7"], "there is no entry 7"),
        (["list", "--family", "fir"], "write one of"),
        (["list", "--family", "rooster"], "did you mean 'rooster hackle'"),
        (["imprt", "x"], "Did you mean 'import'"),
    ],
)
def test_a_mistake_gets_one_clear_answer_and_changes_nothing(
    box: str, words: list[str], said: str
) -> None:
    done = flykin("box", words[0], *words[1:], "--box", box)
    assert done.returncode == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert Path(box).read_bytes() == Path(BOX).read_bytes()


def test_a_list_is_looked_at_then_taken_in(tmp_path: Path) -> None:
    box = str(tmp_path / "box.csv")
    dry = flykin("box", "import", SHED, "--box", box, "--dry-run")
    assert dry.returncode == 0
    assert "kept as a column of your own" in dry.stdout
    assert max(map(len, dry.stdout.splitlines())) <= 80
    assert not Path(box).exists()
    assert flykin("box", "import", SHED, "--box", box, text="n\n").returncode == 130
    assert not Path(box).exists()
    assert flykin("box", "import", SHED, "--box", box, "--yes").returncode == 0
    assert len(read_box(box, rulebook().trade).items) == 6
    assert "the miller" in Path(box).read_text("utf-8")
    again = flykin("box", "import", SHED, "--box", box, "--yes")
    assert again.returncode == 2
    assert "in the box already" in again.stderr
    assert flykin("box", "undo", "--box", box).returncode == 0
    assert read_box(box, rulebook().trade).items == ()


def test_rows_that_are_not_understood_keep_all_out_or_are_left_out(tmp_path: Path) -> None:
    box, shed = str(tmp_path / "box.csv"), tmp_path / "list.csv"
    shed.write_text("item,material\na,hen cape\nb,hen caep\n", encoding="utf-8")
    done = flykin("box", "import", str(shed), "--box", box, "--yes")
    assert done.returncode == 2
    assert "Nothing is written" in done.stderr
    assert not Path(box).exists()
    assert flykin("box", "import", str(shed), "--box", box, "--yes", "--leave-out").returncode == 0
    assert [item.id for item in read_box(box, rulebook().trade).items] == ["a"]


def test_rows_that_the_box_holds_by_another_name_are_pointed_out(box: str, tmp_path: Path) -> None:
    shed = tmp_path / "list.csv"
    shed.write_text("item,material,size\nmine,dry fly hook,10\n", encoding="utf-8")
    done = flykin("box", "import", str(shed), "--box", box, "--dry-run")
    assert "In the box by another name, it seems\n  line 2: “dry hooks 10”\n" in done.stdout


def test_a_list_may_set_the_box_right(box: str, tmp_path: Path) -> None:
    shed = tmp_path / "list.csv"
    shed.write_text("item,material,qty\ncock neck ginger,cock cape,12 feathers\n", encoding="utf-8")
    refused = flykin("box", "import", str(shed), "--box", box, "--yes")
    assert refused.returncode == 2
    assert "tells otherwise" in refused.stderr
    assert flykin("box", "import", str(shed), "--box", box, "--yes", "--correct").returncode == 0
    item = read_box(box, rulebook().trade).item("cock neck ginger")
    assert item is not None
    assert item.count == 12
    assert item.place == "cape drawer 1"


@pytest.mark.parametrize(
    ("separator", "name"),
    most_are_slow(product(["semicolon", "comma", "tab"], ["out.csv", "out.xlsx"]), 2),
)
def test_what_goes_out_comes_back(box: str, tmp_path: Path, name: str, separator: str) -> None:
    assert flykin("box", "add", "=1+1", "--material", "hen cape", "--set", "mine=@x",
                  "--box", box).returncode == 0  # fmt: skip
    out = str(tmp_path / name)
    done = flykin("box", "export", out, "--separator", separator, "--box", box)
    assert done.returncode == 0, done.stderr
    held, back = read_box(box, rulebook().trade), read_box(out, rulebook().trade)
    assert held.items == back.items
    assert flykin("box", "export", out, "--box", box).returncode == 2
    assert flykin("box", "export", box, "--box", box, "--force").returncode == 2
    raw = Path(out).read_bytes()
    if name.endswith(".csv"):
        assert b"'=1+1" in raw
        assert b"'@x" in raw
    again = str(tmp_path / "again.csv")
    assert flykin("box", "import", out, "--box", again, "--yes").returncode == 0
    assert read_box(again, rulebook().trade).item("=1+1") is not None


def test_the_box_may_be_named_once(box: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLYKIN_BOX", box)
    assert flykin("box", "use", "cock neck ginger", "1").returncode == 0


def test_check_tells_of_an_edit_by_hand(box: str) -> None:
    assert flykin("box", "use", "cock neck ginger", "1", "--box", box).returncode == 0
    path = Path(box)
    path.write_text(path.read_text("utf-8").replace("45 feathers", "40 feathers"), encoding="utf-8")
    done = flykin("check", "--box", box)
    assert done.returncode == 1
    assert "“cock neck ginger”: amount 45 feathers → 40 feathers" in done.stdout
    assert "Edited by hand" in flykin("box", "history", "--box", box).stdout
    assert flykin("box", "use", "cock neck ginger", "1", "--box", box).returncode == 0
    assert flykin("check", "--box", box).returncode == 0
    assert flykin("check", "--rebuild").returncode == 2
