"""Choosing and pasting a dressing, its variants in a list, one of them with its reasons."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from starlette.testclient import TestClient

from tests.cli.test_flykin import BOX as BOX_FILE
from tests.cli.test_flykin import DUN, flykin
from tests.real import EXAMPLES
from tests.web.pages import BOOK, visitor, words_of
from variants.web.cache import Cache

ASKED = "/design?dressing=ferrymans-dun&missing=body"
HOSTILE = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>"


@pytest.fixture(scope="module")
def client() -> TestClient:
    return visitor()


def test_the_first_page_shows_the_whole_book_and_finds_in_it(client: TestClient) -> None:
    told = words_of(client.get("/").text)
    assert "8 dressings" in told
    assert "Ferryman's Dun" in told
    found = words_of(client.get("/", params={"find": "OTTER fur"}).text)
    assert "1 dressing of 8" in found
    assert "Bellringer" not in found
    assert "None of 8 dressings fits" in words_of(client.get("/", params={"find": "zzz"}).text)


def test_the_page_lists_what_the_command_proposes(client: TestClient) -> None:
    told = words_of(client.get(ASKED).text)
    command = " ".join(
        flykin("propose", DUN, "--box", BOX_FILE, "--missing", "body").stdout.split()
    )
    first = "otter fur → beaver fur"
    assert first in command
    assert first in told
    (departs,) = re.findall(r"What differs 1 (\S+)", command)
    assert f"Variant 1 departs {departs}" in told
    assert "or in size 12 (No 2)" in command
    assert "or No 2" in told
    assert "in proven order: nothing closer exists." in told
    assert "check with the local authority" in told


def test_every_view_has_one_link_that_can_be_kept(client: TestClient) -> None:
    form = (
        "/design?part.wing=keep&water=&list=needed&part.body=missing&dressing=ferrymans-dun&size="
    )
    led = client.get(form)
    assert led.status_code == 303
    assert led.headers["location"] == "/design?dressing=ferrymans-dun&missing=body&keep=wing"
    assert client.get(led.headers["location"]).status_code == 200


def test_pictures_are_drawings_and_may_be_kept(client: TestClient) -> None:
    page = ET.fromstring(client.get("/picture.svg?dressing=ferrymans-dun&missing=body&n=2").content)
    assert page.tag.endswith("svg")
    assert "variant 2" in "".join(page.itertext())
    kept = client.get("/picture.svg?dressing=ferrymans-dun&mark=abc")
    assert "immutable" in kept.headers["cache-control"]


def test_a_variant_tells_reasons_numbers_rules_and_sources(client: TestClient) -> None:
    told = words_of(client.get("/variant?dressing=ferrymans-dun&missing=body&n=2").text)
    assert "asked otter fur" in told
    assert "“beaver underfur”, fur shelf, 1.2 g left" in told
    assert re.search(r"hackle length: \d\.\d mm \(allowed [\d.]+ to [\d.]+\)", told)
    assert "dry-hackle-length" in told
    assert "Source: Southern Wisconsin Chapter of Trout Unlimited" in told


def test_what_can_not_be_found_in_the_drawer_is_asked_without(client: TestClient) -> None:
    page = client.get("/variant?dressing=ferrymans-dun&missing=body&n=1").text
    link = "/design?dressing=ferrymans-dun&amp;missing=beaver+underfur&amp;missing=body"
    assert f'href="{link}"' in page
    told = words_of(client.get(link.replace("&amp;", "&")).text)
    assert "Missing besides: beaver underfur." in told
    assert "beaver fur" not in told


def test_a_variant_that_is_not_there_is_told_so(client: TestClient) -> None:
    answer = client.get("/variant?dressing=bellringer&n=59")
    assert answer.status_code == 404
    assert "There is no variant 59" in words_of(answer.text)


def test_no_variant_says_what_is_in_the_way(client: TestClient) -> None:
    told = words_of(client.get("/design?dressing=sluice-midge&size=20").text)
    assert "No variant can be tied from this box" in told
    assert "hook in size 20" in told


def test_what_can_be_tied_as_written_is_said_to_be(client: TestClient) -> None:
    told = words_of(client.get("/design?dressing=tollgate-amber").text)
    assert "The box can tie it as written." in told


def test_words_that_mean_nothing_here_are_refused_with_the_nearest(client: TestClient) -> None:
    answer = client.get("/design?dressing=ferrymans-dum")
    assert answer.status_code == 404
    assert "Did you mean 'ferrymans-dun'" in words_of(answer.text)
    answer = client.get("/design?dressing=ferrymans-dun&keep=bodi")
    assert answer.status_code == 400
    assert "Did you mean 'body'" in words_of(answer.text)


def test_a_pasted_dressing_is_read_and_its_doubts_are_told(client: TestClient) -> None:
    text = (EXAMPLES / "plain" / "weir-keeper.txt").read_text(encoding="utf-8")
    answer = client.get("/design", params={"text": text}, follow_redirects=True)
    told = words_of(answer.text)
    assert "Weir Keeper" in told
    assert "NOT UNDERSTOOD line 9, head: “thrubbled”" in told
    assert "Variant 1" in told


def test_what_can_not_be_read_comes_back_with_the_words_to_put_right(client: TestClient) -> None:
    answer = client.get("/design?text=Trial%0ABody:+peacock+herl", follow_redirects=True)
    assert answer.status_code == 422
    told = words_of(answer.text)
    assert "the style is not stated" in told
    assert "Body: peacock herl" in told


def test_markup_in_words_stays_words(client: TestClient, tmp_path: Path) -> None:
    text = f"{HOSTILE}\nStyle: nymph\nHook: nymph hook, size 12\nBody: peacock herl {HOSTILE}\n"
    shown = client.get("/design", params={"text": text}, follow_redirects=True).text
    assert "<script>alert" not in shown
    assert "<img src=x" not in shown
    box = tmp_path / "box.csv"
    rows = (EXAMPLES / "box.csv").read_text(encoding="utf-8")
    box.write_text(rows.replace("beaver underfur", HOSTILE.replace('"', "")), encoding="utf-8")
    book = tmp_path / "dressings"
    book.mkdir()
    dun = (BOOK / "ferrymans-dun.toml").read_text(encoding="utf-8")
    named = dun.replace('"Ferryman\'s Dun"', "'''" + HOSTILE.replace("'", "") + "'''")
    (book / "dun.toml").write_text(named, encoding="utf-8")
    own = visitor(box, [book])
    links = ("/", "/design?dressing=dun&missing=body", "/variant?dressing=dun&missing=body&n=1",
             "/picture.svg?dressing=dun")  # fmt: skip
    for link in links:
        answer = own.get(link)
        assert answer.status_code == 200, link
        assert "<script>alert" not in answer.text
        assert "<img src=x" not in answer.text
    assert "&lt;script&gt;alert(1)" in own.get("/").text


def test_a_changed_box_and_book_are_seen_at_once_and_a_spoilt_one_is_told(tmp_path: Path) -> None:
    box, book = tmp_path / "box.csv", tmp_path / "dressings"
    book.mkdir()
    rows = (EXAMPLES / "box.csv").read_text(encoding="utf-8")
    box.write_text(rows, encoding="utf-8")
    dun = (BOOK / "ferrymans-dun.toml").read_text(encoding="utf-8")
    (book / "dun.toml").write_text(dun, encoding="utf-8")
    client = visitor(box, [book])
    asked = "/design?dressing=dun&missing=body"
    assert "beaver fur" in words_of(client.get(asked).text)
    box.write_text(rows.replace("1.2 g", "0 g"), encoding="utf-8")
    assert "beaver fur" not in words_of(client.get(asked).text)
    box.write_text(rows.replace("beaver-dubbing", "bever"), encoding="utf-8")
    unreadable = client.get(asked)
    assert unreadable.status_code == 422
    assert "did you mean" in words_of(unreadable.text)
    (book / "other.toml").write_text("name = 1\n", encoding="utf-8")
    told = words_of(client.get("/").text)
    assert "1 dressing" in told
    assert "other.toml" in told


def test_without_a_box_dressings_are_shown_and_nothing_is_proposed() -> None:
    told = words_of(visitor(box=None).get("/design?dressing=bellringer").text)
    assert "Bellringer" in told
    assert "--box BOX" in told


def test_a_value_that_many_ask_for_at_once_is_made_once() -> None:
    from concurrent.futures import ThreadPoolExecutor
    from threading import Barrier

    made: list[int] = []
    together = Barrier(8)
    kept: Cache[int] = Cache(4)

    def ask(_: int) -> int:
        together.wait()
        return kept.get("key", lambda: made.append(1) or 7)  # type: ignore[func-returns-value]

    with ThreadPoolExecutor(8) as pool:
        assert list(pool.map(ask, range(8))) == [7] * 8
    assert len(made) == 1


def test_the_page_understands_every_name_that_the_command_does(client: TestClient) -> None:
    for name in ("otter fur", "otter"):
        link = f"/design?dressing=ferrymans-dun&missing={name}"
        answer = client.get(link, follow_redirects=True)
        assert answer.status_code == 200
        assert "beaver fur" in words_of(answer.text)
    refused = client.get("/design?dressing=ferrymans-dun&missing=oter+fur")
    assert refused.status_code == 400
    assert "Did you mean 'otter fur'?" in words_of(refused.text)
