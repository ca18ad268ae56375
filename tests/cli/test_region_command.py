"""`flykin region` as a tyer runs it: the target, the front, the chart, the explanation, the law."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree as ET

from click.testing import CliRunner, Result

from tests.real import EXAMPLES
from variants.cli.region import command

DUN = str(EXAMPLES / "dressings" / "ferrymans-dun.toml")
BURN = str(EXAMPLES / "regions" / "skirl-burn.toml")
BOX = ["--box", str(EXAMPLES / "box.csv")]


def asked(*more: str, region: str = BURN) -> Result:
    return CliRunner().invoke(command, [DUN, "--region", region, *more])


def test_without_a_box_it_is_told_what_to_aim_for() -> None:
    done = asked("--natural", "slate dun")
    assert done.exit_code == 0
    assert "slate dun (mayflies), adult, Mar to May, 7 to 9 mm" in done.stdout
    assert "hook 15, shank 7.8 mm" in done.stdout
    assert "no legal advice" in " ".join(done.stdout.split())


def test_each_variant_has_two_numbers_and_the_answer_says_what_is_proven() -> None:
    done = asked(*BOX)
    assert done.exit_code == 0
    assert " No  Departure  Distance  What differs" in done.stdout
    assert "The whole front, proven" in done.stdout
    assert "* Tie No 4 first" in done.stdout
    assert all(len(line) <= 80 for line in done.stdout.splitlines())


def test_a_month_leaves_only_its_naturals() -> None:
    assert "slate dun" in asked("--month", "March").stdout
    done = asked("--month", "January")
    assert done.exit_code == 2
    assert "no natural of Skirl Burn is on in January" in done.stderr
    done = asked("--month", "Febuary")
    assert "did you mean 'february'" in done.stderr


def test_an_unknown_natural_is_told_with_the_nearest() -> None:
    done = asked("--natural", "slate dunn")
    assert done.exit_code == 2
    assert "did you mean 'slate dun'" in done.stderr


def test_an_explanation_gives_numbers_rules_and_sources() -> None:
    done = asked(*BOX, "--explain", "1")
    assert done.exit_code == 0
    assert "Distance to the target" in done.stdout
    assert "source: common practice; CIEDE2000" in done.stdout
    assert "HOOK" in done.stdout
    assert asked(*BOX, "--explain", "99").exit_code == 2


def test_json_holds_the_whole_front_with_its_terms_and_the_law() -> None:
    told = json.loads(asked(*BOX, "--json").stdout)
    assert told["version"] == 1
    for one in told["front"]:
        terms = [term["cost"] for terms in one["distance_terms"].values() for term in terms]
        assert abs(sum(terms) - one["distance"]) < 1e-9
    assert sum(one["first"] for one in told["front"]) == 1
    assert "dry fly hook" not in told["law"]["unknown"]
    assert "no legal advice" in told["law"]["advice"]


def test_the_chart_is_drawn_with_every_variant_told_in_words(tmp_path: Path) -> None:
    out = tmp_path / "front.svg"
    assert asked(*BOX, "--chart", str(out)).exit_code == 0
    root = ET.fromstring(out.read_text(encoding="utf-8"))
    space = "{http://www.w3.org/2000/svg}"
    front = json.loads(asked(*BOX, "--json").stdout)["front"]
    described = root.findtext(f"{space}desc") or ""
    assert described.count("variant") == len(front)
    circles = root.findall(f".//{space}circle")
    assert len(circles) == len(front) + 2  # the dressing as written, and the ring round the first
    assert asked(*BOX, "--chart", str(tmp_path / "front.gif")).exit_code == 2


def test_where_nothing_is_kin_enough_the_answer_says_so_and_the_exit_code_too() -> None:
    done = asked(*BOX, "--kin", "0.01")
    assert done.exit_code == 1
    told = " ".join(done.stdout.split())
    assert "No variant departs 0.01 or less" in told
    closest = re.search(r"The closest departs (\S+); see --kin\.", told)
    assert closest is not None
    # It is kin where it is let in, and only there.
    assert asked(*BOX, "--kin", f"{float(closest[1]) + 0.005:.3f}").exit_code == 0
    assert asked(*BOX, "--kin", f"{float(closest[1]) - 0.006:.3f}").exit_code == 1


def family(*more: str) -> Result:
    regions = EXAMPLES / "regions"
    named = [word for name in ("lower-wendle", "skirl-burn", "merrel-tarn")
             for word in ("--region", str(regions / f"{name}.toml"))]  # fmt: skip
    return CliRunner().invoke(command, [DUN, *named, *BOX, *more])


def test_several_waters_make_a_family_with_flies_for_more_than_one(tmp_path: Path) -> None:
    graph, picture = tmp_path / "family.json", tmp_path / "family.svg"
    done = family("--graph", str(graph), "--picture", str(picture))
    assert done.exit_code == 0
    assert "for 3 waters" in done.stdout
    assert "One fly for several waters" in done.stdout
    assert "How they descend" in done.stdout
    assert done.stdout.count("no legal advice") == 1
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    assert {"base"} < {node["id"] for node in json.loads(graph.read_text())["nodes"]}
    assert picture.read_text(encoding="utf-8").count('data-part="hook"') == 4


def test_the_family_as_json_holds_every_water_and_every_common_fly() -> None:
    told = json.loads(family("--json").stdout)
    assert len(told["waters"]) == 3
    for ancestor in told["ancestors"]:
        assert len(ancestor["variants"]) == len(ancestor["waters"]) > 1


def test_what_is_for_one_water_is_refused_for_several() -> None:
    assert family("--explain", "1").exit_code == 2


def test_when_the_time_is_up_no_part_of_a_front_is_shown_for_the_whole() -> None:
    done = asked(*BOX, "--within", "1ms")
    assert (done.exit_code, done.stdout) == (130, "")
    assert "before the front was proven" in done.stderr
