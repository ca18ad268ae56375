"""Over the whole book: what can be tied, what to buy; and what is in the way of one dressing."""

from __future__ import annotations

import re
from threading import Event
from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.cli.test_flykin import BOX as BOX_FILE
from tests.cli.test_flykin import flykin
from tests.web.pages import ADDRESS, BOOK, csrf_token_of, finished, visitor, words_of
from variants.web import tieable_page


@pytest.fixture(scope="module")
def client() -> TestClient:
    return visitor()


def test_what_can_be_tied_is_what_the_command_says(client: TestClient) -> None:
    told = finished(client, "/tieable")
    command = flykin("tieable", "examples/dressings", "--box", BOX_FILE).stdout
    counts = re.search(r"8 dressings: \d as written, \d with substitutions, 0 blocked\.", command)
    assert counts is not None
    assert counts[0].replace("blocked", "not at all") in told
    hackle = re.search(r"hackle snipe covert → [a-z-]+ [a-z-]+", " ".join(command.split()))
    assert hackle is not None
    assert hackle[0] in told


def test_the_answer_is_filtered_by_standing_style_and_name(client: TestClient) -> None:
    finished(client, "/tieable")
    written = words_of(client.get("/tieable?standing=written").text)
    assert "Tollgate Amber" in written
    assert "Merrel Snipe" not in written
    counts = re.search(r"(\d) dressings: (\d) as written, 0 with substitutions, 0 not", written)
    assert counts is not None
    assert counts[1] == counts[2] != "8"
    styled = words_of(client.get("/tieable?style=soft-hackle&find=MIDGE").text)
    assert "Sluice Midge" in styled
    assert "Bellringer" not in styled
    assert "1 dressing: " in styled
    assert "No dressing fits" in words_of(client.get("/tieable?find=zzz").text)


def test_what_is_blocked_leads_to_why_and_what_would_help(client: TestClient) -> None:
    told = finished(client, "/tieable?changes=1")
    assert "Not at all Merrel Snipe" in told
    why = words_of(client.get("/whynot?dressing=merrel-snipe&changes=1").text)
    assert "At most 1 part may change, as you asked." in why
    command = flykin(
        "whynot", "examples/dressings/merrel-snipe.toml", "--box", BOX_FILE, "--max-changes", "1"
    ).stdout
    ways = re.findall(r"- (let 2 parts change|buy [a-z ]+) \((departs \S+),", command)
    assert len(ways) >= 2
    assert all(f"{says} {departs}" in why for says, departs in ways)


def test_a_way_out_links_to_the_question_that_it_answers(client: TestClient) -> None:
    page = client.get("/whynot?dressing=merrel-snipe&changes=1").text
    assert 'href="/design?dressing=merrel-snipe&amp;changes=2"' in page
    assert "Variant 1" in words_of(client.get("/design?dressing=merrel-snipe&changes=2").text)


def test_where_nothing_is_in_the_way_the_page_says_so(client: TestClient) -> None:
    assert "Nothing is in the way" in words_of(client.get("/whynot?dressing=bellringer").text)


def test_what_to_buy_is_what_the_command_says(client: TestClient) -> None:
    told = finished(client, "/buy")
    command = flykin("buy", "examples/dressings", "--box", BOX_FILE, "--best", "1").stdout
    first = re.search(r"0 +0 +(0\.\d\d) +([a-z ]+)", command)
    assert first is not None
    seen = " ".join(told.replace("Merrel Snipe", "").split())
    assert f"{first[2].strip()} 0 0 {first[1]}" in seen


def test_pairs_asked_for_in_vain_are_told_of() -> None:
    told = finished(visitor(books=[BOOK / "merrel-snipe.toml"]), "/buy?sets=2")
    assert "One purchase" in told
    assert "no two together do more than one by one" in told


@pytest.mark.parametrize(
    ("words", "named"),
    [("ferrymans", "Ferryman's Dun"), ("FERRYMAN’S dun", "Ferryman's Dun"),
     ("belringer", "Bellringer"), ("silk flos", "Merrel Snipe")],
)  # fmt: skip
def test_a_slip_of_the_pen_still_finds_the_dressing(
    client: TestClient, words: str, named: str
) -> None:
    told = words_of(client.get("/", params={"find": words}).text)
    assert named in told
    assert ("comes near" in told) == (words == "belringer")


def test_long_work_shows_its_progress_can_be_stopped_and_begun_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    may_go_on, has_begun = Event(), Event()
    real = tieable_page.assess_dressing

    def slow(*told: Any) -> Any:
        has_begun.set()
        assert may_go_on.wait(60)
        return real(*told)

    monkeypatch.setattr(tieable_page, "assess_dressing", slow)
    client = visitor()
    client.get("/tieable")
    assert has_begun.wait(60)
    page = client.get("/tieable").text
    assert "0 of 8 dressings" in words_of(page)
    assert 'data-follow="found"' in page
    assert '<noscript><meta http-equiv="refresh"' in page
    job = re.search(r'name="job" value="([^"]+)"', page)
    assert job is not None
    fields = {"csrf_token": csrf_token_of(client), "job": job[1], "back": "/tieable"}
    assert client.post("/stop", data=fields, headers={"origin": ADDRESS}).status_code == 303
    may_go_on.set()
    told = finished(client, "/tieable")
    assert "1 dressing: " in told
    assert "Stopped at 1 of 8 dressings." in told
    assert client.post("/again", data=fields, headers={"origin": ADDRESS}).status_code == 303
    assert "8 dressings: " in finished(client, "/tieable")


def test_stopping_wants_known_work_and_leads_back(client: TestClient) -> None:
    fields = {"csrf_token": csrf_token_of(client), "job": "unknown", "back": "/tieable"}
    answer = client.post("/stop", data=fields, headers={"origin": ADDRESS})
    assert answer.status_code == 404
    again = client.post("/again", data=fields, headers={"origin": ADDRESS})
    assert again.headers["location"] == "/tieable"


@pytest.mark.parametrize(
    "query", ["size=large", "water=wet", "changes=-1", "on=nowhere", "standing=upright", "mind=a"]
)
def test_wishes_that_mean_nothing_are_refused(client: TestClient, query: str) -> None:
    assert client.get(f"/tieable?{query}").status_code == 400


def test_without_box_or_book_the_pages_say_how_to_get_one() -> None:
    assert "--box BOX" in words_of(visitor(box=None).get("/tieable").text)
    bare = visitor(books=())
    assert "--book FOLDER" in words_of(bare.get("/buy").text)
    assert "--book FOLDER" in words_of(bare.get("/").text)


def test_the_derivation_is_a_tree_of_links_one_step_each(client: TestClient) -> None:
    link = "/derivation?dressing=ferrymans-dun&missing=body&list=different"
    page = client.get(link).text
    told = words_of(page)
    assert "body otter fur → beaver fur" in told
    assert (
        'href="/variant?dressing=ferrymans-dun&amp;missing=body&amp;list=different&amp;n=6"' in page
    )
    drawn = client.get(link.replace("/derivation", "/derivation/drawing"))
    policy = drawn.headers["content-security-policy"]
    assert "unsafe" not in policy
    assert policy.count("sha256-") == 2


def test_the_sheet_of_a_variant_can_be_printed_and_counts_a_class_kit(client: TestClient) -> None:
    link = "/sheet?dressing=ferrymans-dun&missing=body&n=1&students=6&each=2"
    sheet = client.get(link)
    told = words_of(sheet.text)
    assert "At the vice" in told
    assert "Kit for 6 at the table, 2 flies each" in told
    assert "unsafe" not in sheet.headers["content-security-policy"]


def test_the_sheet_comes_as_pdf(client: TestClient) -> None:
    pytest.importorskip("typst")
    pdf = client.get("/sheet.pdf?dressing=bellringer&paper=letter")
    assert pdf.headers["content-type"] == "application/pdf"
    assert pdf.content.startswith(b"%PDF-")
    assert client.get("/sheet.pdf?dressing=bellringer&paper=wall").status_code == 400


def test_a_place_brings_its_water_its_rules_and_its_law(client: TestClient) -> None:
    page = client.get("/design?dressing=packhorse-badger&on=skirl-burn").text
    told = words_of(page)
    assert "What holds on this water" in told
    assert "turns 6 → 8" in told
    answer = client.get("/design?dressing=packhorse-badger&on=skirl-bourn")
    assert answer.status_code == 400
    assert "Did you mean 'skirl-burn'" in words_of(answer.text)
