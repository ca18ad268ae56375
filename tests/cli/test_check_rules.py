"""`flykin check FOLDER`: a tyer's own rules are judged, and what his tables lack is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from variants.cli import flykin
from variants.cli.check import command
from variants.reading import own_rules_folder

RULE = """\
# Mine.

[[rule]]
id = "stiff-tail"
says = "The tail is stiff, says my grandfather."
source = "common practice"
kind = "quality"
weight = 0.2
part = "tail"
must = {{ attribute = "stiffness", at_least = 3 }}
keeps = [{{ tail = {{ stiffness = {keeps} }} }}]
breaks = [{{ tail = {{ stiffness = {breaks} }} }}]
"""
COUNT = """
[[rule]]
id = "{id}"
says = "So many turns of hackle and no others."
source = "common practice"
kind = "count"
part = "hackle"
count = "turns"
medium = {turns}
keeps = [{{ hackle = {{ turns = {good} }} }}]
breaks = [{{ hackle = {{ turns = 30 }} }}]
"""
DRESSING = """\
name = "Two Hackles"
style = "two hackles"
sizes = "14"

[part.hook]
material = "dry fly hook"
[part.thread]
material = "polyester tying thread"
colour = "black"
[part.body]
material = "rabbit fur"
colour = "olive"
[part.hackle]
material = "cock neck hackle, dry grade"
colour = "ginger"
[part.neck-hackle]
material = "cock neck hackle, dry grade"
colour = "ginger"
turns = 3
"""


PART = "id\tname\ttying_order\tfunctions\tsays\tsource\n"


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def check(folder: Path) -> Result:
    return CliRunner().invoke(command, [str(folder)])


def test_a_rule_whose_flies_show_what_it_says_is_good(tmp_path: Path) -> None:
    write(tmp_path / "trade" / "mine.toml", RULE.format(keeps=4, breaks=1))
    done = check(tmp_path)
    assert done.exit_code == 0
    assert done.stdout.count("\n") == 1


def test_a_rule_whose_flies_are_swapped_is_refused_with_each_of_them(tmp_path: Path) -> None:
    write(tmp_path / "trade" / "mine.toml", RULE.format(keeps=1, breaks=4))
    done = check(tmp_path)
    assert done.exit_code == 2
    assert "mine.toml:3: rule: stiff-tail: the fly 1 under keeps breaks the rule" in done.stderr
    assert "the fly 1 under breaks keeps the rule" in done.stderr


def test_a_fly_that_the_rule_says_nothing_of_shows_nothing(tmp_path: Path) -> None:
    text = RULE.format(keeps=4, breaks=1).replace("breaks = [{ tail", "breaks = [{ body")
    write(tmp_path / "trade" / "mine.toml", text)
    assert "the fly 1 under breaks is one that the rule says nothing of" in check(tmp_path).stderr


def test_counts_that_no_fly_keeps_together_are_told(tmp_path: Path) -> None:
    two = (
        COUNT.format(id="two", turns=[2, 3], good=2),
        COUNT.format(id="more", turns=[5, 6], good=5),
    )
    write(tmp_path / "trade" / "mine.toml", "# Mine.\n" + "".join(two))
    done = check(tmp_path)
    assert done.exit_code == 2
    assert "can't be kept together with" in done.stderr
    assert "hackle turns" in done.stderr
    meet = COUNT.format(id="two", turns=[2, 5], good=2), two[1]
    write(tmp_path / "trade" / "mine.toml", "# Mine.\n" + "".join(meet))
    assert check(tmp_path).exit_code == 0


def test_a_rule_without_flies_is_told(tmp_path: Path) -> None:
    text = RULE.format(keeps=4, breaks=1).split("keeps =")[0]
    write(tmp_path / "trade" / "mine.toml", text)
    done = check(tmp_path)
    assert done.exit_code == 0
    assert "the rule stiff-tail: no flies under keeps and breaks" in done.stdout


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder with a part and a style of its own, and no table beside them."""
    folder, ours = tmp_path / "own", own_rules_folder()
    header, *rows = (
        line
        for line in (ours / "parts.tsv").read_text(encoding="utf-8").splitlines()
        if not line.startswith("#")
    )
    cells = next(row for row in rows if row.startswith("hackle\t")).split("\t")
    cells[:3] = ["neck-hackle", "neck hackle", ""]
    write(folder / "parts.tsv", f"{header}\n" + "\t".join(cells) + "\n")
    style = (ours / "styles" / "dry-upright.toml").read_text(encoding="utf-8")
    lines = [line for line in style.splitlines() if not line.startswith("also")]
    text = (
        "\n".join(lines).replace("dry-upright", "two-hackles").replace("dry upright", "two hackles")
    )
    part = '\n[[part]]\npart = "neck-hackle"\nweight = 0.5\noptional = true\nsays = "More."\n'
    write(folder / "styles" / "two-hackles.toml", f'{text}\n{part}source = "common practice"\n')
    write(tmp_path / "two.toml", DRESSING)
    return folder


def test_a_part_and_a_style_of_ones_own_are_told_what_no_table_says_of_them(own: Path) -> None:
    told = check(own).stdout
    assert "the part neck-hackle: geometry/places.tsv has no row" in told
    assert "the part neck-hackle: bench/steps.tsv has no row" in told
    assert "the style two-hackles: no rule in trade/ names it" in told
    assert "the style two-hackles: customary.tsv names no hook for it" in told


def run(own: Path, *words: str) -> str:
    done = CliRunner().invoke(flykin, [*words, "--rules", str(own)])
    assert done.exit_code == 0, done.output
    return done.stdout


def test_a_part_of_ones_own_is_drawn_reckoned_listed_and_told_by_its_kind(own: Path) -> None:
    two = str(own.parent / "two.toml")
    assert 'data-part="neck-hackle" data-manner="collar"' in run(own, "draw", two)
    assert "3 turns of stem" in run(own, "amounts", two)
    assert "by the stem and wind it, 3 turns" in run(own, "sheet", two)
    assert "neck hackle" in run(own, "explain", "neck hackle")


def test_rules_of_a_part_speak_of_one_that_is_like_it(tmp_path: Path) -> None:
    own = tmp_path / "own"
    row = "neck-hackle\tneck hackle\t191\thackle\ta second hackle\tcommon practice\n"
    write(own / "parts.tsv", PART + row)
    fly = DRESSING.replace("two hackles", "dry upright").replace("turns = 3", "turns = 30")
    write(tmp_path / "two.toml", fly)
    two, box = str(tmp_path / "two.toml"), "examples/box.csv"
    told = run(own, "propose", two, "--box", box, "--missing", "neck-hackle", "--explain", "1")
    assert "[dry-hackle-length:neck-hackle]" in told
    assert "neck-hackle length" in told
    assert "Rule dry-hackle-length" in run(own, "explain", "dry-hackle-length:neck-hackle")
    assert "dry-hackle-length" in run(own, "explain", "rules", "neck hackle")


def test_a_part_lies_where_its_own_row_says(own: Path) -> None:
    columns = "style\tpart\twhen\tfrom\tto\tangle\tlength\tunit\tsource\n"
    row = "two-hackles\tneck-hackle\t\t0.94\t1\t90\t1.5\tgape\tcommon practice\n"
    two = str(own.parent / "two.toml")
    before = run(own, "draw", two)
    write(own / "geometry" / "places.tsv", columns + row)
    assert run(own, "draw", two) != before


FRONT = "second-body\tsecond body\t101\tbody\tthe front half of a body in two\tcommon practice\n"
FRONT_PLACE = """\
style\tpart\twhen\tfrom\tto\tangle\tlength\tunit\tsource
any\tsecond-body\t\t0.40\t0.62\t0\t\t\tcommon practice
"""


def test_a_part_that_serves_as_a_body_is_a_second_body_of_any_style(tmp_path: Path) -> None:
    own = tmp_path / "own"
    write(own / "parts.tsv", PART + FRONT)
    write(own / "geometry" / "places.tsv", FRONT_PLACE)
    before, _front = DRESSING.replace("two hackles", "dry upright").split("[part.neck-hackle]")
    front = '[part.second-body]\nmaterial = "rabbit fur"\ncolour = "black"\n'
    write(tmp_path / "two.toml", before + front)
    two = str(tmp_path / "two.toml")
    svg = run(own, "draw", two)
    assert svg.count('data-part="body"') == svg.count('data-part="second-body"') == 1
    amounts = run(own, "amounts", two)
    assert "second body" in amounts
    assert amounts.count("mm3 packed to 0.28") == 2
    assert "second body" in run(own, "sheet", two)


LIKE = """\
id = "{id}"
name = "{name}"
says = "As tied on one river."
source = "common practice"
like = "soft-hackle"
"""


def test_a_style_of_one_file_answers_by_the_rules_of_the_style_it_is_like(tmp_path: Path) -> None:
    own = tmp_path / "own"
    write(own / "styles" / "beck.toml", LIKE.format(id="beck-spider", name="beck spider"))
    assert "the style beck-spider:" not in check(own).stdout
    mine = tmp_path / "mine.toml"
    soft = Path("examples/dressings/bellringer.toml").read_text(encoding="utf-8")
    write(tmp_path / "ours.toml", soft)
    write(mine, soft.replace('style = "soft hackle"', 'style = "beck spider"'))
    for words in (
        ("propose", "{}", "--box", "examples/box.csv", "--json"),
        ("amounts", "{}", "--box", "examples/box.csv"),
        ("sheet", "{}", "--box", "examples/box.csv", "--json"),
        ("draw", "{}"),
    ):
        answers = [
            run(own, *(word.format(path) for word in words))
            for path in (tmp_path / "ours.toml", mine)
        ]
        told = [
            one.replace("beck-spider", "soft-hackle").replace("beck spider", "soft hackle")
            for one in answers
        ]
        assert told[0].replace("ours.toml", "mine.toml") == told[1]
