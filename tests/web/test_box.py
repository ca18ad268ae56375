"""The box on the page: found, added to, used, corrected, taken back; nothing lost or twice."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.web.pages import ADDRESS, csrf_token_of, own_box, visitor, words_of
from variants.box import read_journal
from variants.views.changes import clock_words

CAPE = "cock neck furnace"
ITEM = "/box/item?name=cock+neck+furnace"


@pytest.fixture
def box(tmp_path: Path) -> Path:
    return own_box(tmp_path)


@pytest.fixture
def client(box: Path) -> TestClient:
    return visitor(box)


def form_of(client: TestClient, link: str, action: str) -> dict[str, str]:
    """Return the fields of a form on a page, filled as they come."""
    return fields_of(client.get(link).text, action)


def fields_of(page: str, action: str) -> dict[str, str]:
    form = re.search(rf'<form method="post" action="{action}".*?</form>', page, re.DOTALL)
    assert form is not None
    found = re.findall(r'<input[^>]* name="([^"]+)"[^>]*?(?: value="([^"]*)")?[ >]', form[0])
    return {name: unescape(value) for name, value in found}


def post(client: TestClient, path: str, fields: dict[str, str]) -> Any:
    return client.post(path, data=fields, headers={"origin": ADDRESS})


def amount_of(client: TestClient, link: str = ITEM) -> str:
    found = re.search(r"<b>([^<]+)</b> left", client.get(link).text)
    return found[1] if found else ""


def test_the_list_finds_by_name_stuff_and_place(client: TestClient) -> None:
    assert "195 items" in words_of(client.get("/box").text)
    told = words_of(client.get("/box?find=FURNACE+drawer").text)
    assert "cock neck furnace" in told
    assert "beaver" not in told
    gone = words_of(client.get("/box?left=gone").text)
    assert "none left" in gone
    hooks = words_of(client.get("/box?find=hook+size+14").text)
    assert "dry hooks 14" in hooks
    assert "dry hooks 12" not in hooks
    assert "cock neck furnace" in words_of(client.get("/box?find=furnase").text)
    assert "None of 195 items fits" in words_of(client.get("/box?find=zzz").text)
    hooks = words_of(client.get("/box?part=hook").text)
    assert "dry hooks 14" in hooks
    assert "mallard" not in hooks


def test_what_is_used_is_off_the_box_in_the_journal_and_can_be_taken_back(
    client: TestClient, box: Path
) -> None:
    before = box.read_bytes()
    fields = form_of(client, ITEM, "/box/use") | {"amount": "4 feathers", "note": "an evening"}
    done = post(client, "/box/use", fields)
    assert done.status_code == 303
    assert amount_of(client) == "25 feathers"
    last = read_journal(box)[-1]
    assert (last.what, last.note) == ("use", "an evening")
    fields = form_of(client, "/box/journal", "/box/undo")
    told = words_of(client.get("/box/journal").text)
    assert f"used {clock_words(last.at)} an evening" in told
    assert "amount 29 feathers → 25 feathers" in told
    assert post(client, "/box/undo", {**fields, "number": str(last.number)}).status_code == 303
    assert box.read_bytes() == before


def test_a_form_sent_twice_is_done_once(client: TestClient) -> None:
    fields = form_of(client, ITEM, "/box/use") | {"amount": "4 feathers"}
    post(client, "/box/use", fields)
    again = post(client, "/box/use", fields)
    assert amount_of(client) == "25 feathers"
    assert "done=again" in again.headers["location"]
    assert "nothing was done twice" in words_of(client.get(again.headers["location"]).text)


def test_a_refused_form_can_be_put_right_and_sent_again(client: TestClient) -> None:
    fields = form_of(client, ITEM, "/box/use") | {"amount": "400 feathers"}
    refused = post(client, "/box/use", fields)
    assert refused.status_code == 422
    told = words_of(refused.text)
    assert "Nothing was written" in told
    assert 'value="400 feathers"' in refused.text
    assert post(client, "/box/use", fields | {"amount": "4 feathers"}).status_code == 303
    assert amount_of(client) == "25 feathers"


def test_more_is_bought_and_a_new_item_put_in(client: TestClient, box: Path) -> None:
    fields = form_of(client, ITEM, "/box/buy") | {"amount": "11 feathers"}
    post(client, "/box/buy", fields)
    assert amount_of(client) == "40 feathers"
    fields = form_of(client, "/box/new", "/box/add") | {
        "cell.item": "Aunt's cape, grey & “odd”",
        "cell.material": "cock neck",
        "cell.colour": "medium dun",
        "cell.amount": "12 feathers",
    }
    done = post(client, "/box/add", fields)
    assert done.status_code == 303
    assert "Put into the box." in words_of(client.get(done.headers["location"]).text)
    assert "196 items" in words_of(client.get("/box").text)
    assert "Aunt's cape" in box.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        ({"cell.item": "x", "cell.material": "cock nek"}, "Did you mean"),
        ({"cell.item": "", "cell.material": "cock neck"}, "the item is missing"),
        ({"cell.item": CAPE, "cell.material": "cock neck"}, "there is an item"),
        ({"cell.item": "x", "cell.material": "cock neck", "cell.amount": "many"}, "amount"),
        ({"cell.item": "x" * 400, "cell.material": "cock neck"}, "characters long"),
    ],
)
def test_a_wrong_new_item_is_refused_and_what_was_typed_stays(
    client: TestClient, box: Path, cells: dict[str, str], told: str
) -> None:
    before = box.read_bytes()
    refused = post(client, "/box/add", form_of(client, "/box/new", "/box/add") | cells)
    assert refused.status_code == 422
    assert told in words_of(refused.text)
    assert f'value="{cells["cell.material"]}"' in refused.text
    assert box.read_bytes() == before


def test_two_tabs_that_correct_one_item_lose_nothing(client: TestClient, box: Path) -> None:
    first, second = (form_of(client, ITEM, "/box/correct") for _ in range(2))
    done = post(client, "/box/correct", first | {"cell.place": "cape drawer 3"})
    assert done.status_code == 303
    after_first = box.read_bytes()
    conflict = post(client, "/box/correct", second | {"cell.note": "a good one"})
    assert conflict.status_code == 409
    told = words_of(conflict.text)
    assert "Someone was here before you" in told
    assert "nothing was written" in told
    assert 'value="cape drawer 3"' in conflict.text
    assert 'value="a good one"' in conflict.text
    assert box.read_bytes() == after_first


def test_mine_written_over_it_leaves_the_cells_that_i_did_not_touch(
    client: TestClient, box: Path
) -> None:
    first, second = (form_of(client, ITEM, "/box/correct") for _ in range(2))
    post(client, "/box/correct", first | {"cell.place": "cape drawer 3", "cell.note": "moved"})
    conflict = post(client, "/box/correct", second | {"cell.note": "a good one"})
    assert "in the box now: moved" in words_of(conflict.text)
    assert "in the box now: cape" not in words_of(conflict.text)
    mine = fields_of(conflict.text, "/box/correct")
    assert mine["cell.note"] == "a good one"
    assert post(client, "/box/correct", mine).status_code == 303
    last = read_journal(box)[-1]
    assert [change.after for change in last.changes] == [{"note": "a good one"}]
    assert "cape drawer 3" in box.read_text(encoding="utf-8")


def test_two_tabs_that_use_one_item_both_count(client: TestClient) -> None:
    first, second = (form_of(client, ITEM, "/box/use") for _ in range(2))
    post(client, "/box/use", first | {"amount": "2 feathers"})
    post(client, "/box/use", second | {"amount": "3 feathers"})
    assert amount_of(client) == "24 feathers"


def test_what_was_done_to_the_box_by_hand_is_seen_and_not_written_over(
    client: TestClient, box: Path
) -> None:
    fields = form_of(client, ITEM, "/box/correct")
    text = box.read_text(encoding="utf-8")
    box.write_text(text.replace("29 feathers", "7 feathers"), encoding="utf-8")
    refused = post(client, "/box/correct", fields | {"cell.place": "lost"})
    assert refused.status_code == 409
    assert amount_of(client) == "7 feathers"


def test_an_item_that_is_not_there_is_told_with_the_nearest(client: TestClient) -> None:
    answer = client.get("/box/item?name=cock+nek+furnace")
    assert answer.status_code == 404
    told = words_of(answer.text)
    assert "There is no item “cock nek furnace” in the box." in told
    assert re.search("Did you mean [“'‘]cock neck furnace", told)
    assert "file" not in told.lower()


def test_a_variants_answer_follows_the_box(client: TestClient) -> None:
    asked = "/design?dressing=ferrymans-dun&missing=body"
    assert "beaver fur" in words_of(client.get(asked).text)
    link = "/box/item?name=beaver+underfur"
    fields = form_of(client, link, "/box/use") | {"amount": "all"}
    assert post(client, "/box/use", fields).status_code == 303
    assert "beaver fur" not in words_of(client.get(asked).text)


def test_flies_that_were_tied_are_written_off_as_the_page_showed_them(
    client: TestClient, box: Path
) -> None:
    before = box.read_bytes()
    link = "/variant?dressing=ferrymans-dun&missing=body&n=1"
    assert "The box gives" in words_of(client.get(link).text)
    first, late = (form_of(client, link, "/box/tied") | {"flies": "3"} for _ in range(2))
    done = post(client, "/box/tied", first)
    assert done.headers["location"] == "/box/journal?done=tied"
    last = read_journal(box)[-1]
    assert last.note == "3 × Ferryman's Dun, size 14"
    taken = {change.item: change.after for change in last.changes}
    assert taken["dry hooks 14"] == {"amount": "49 hooks"}
    assert "beaver underfur" in taken
    # The other page showed a box that is another one by now.
    refused = post(client, "/box/tied", late)
    assert refused.status_code == 409
    assert "the box has changed since it was read" in words_of(refused.text)
    fields = {"csrf_token": csrf_token_of(client), "form_token": "a", "number": str(last.number)}
    assert post(client, "/box/undo", fields).status_code == 303
    assert box.read_bytes() == before


def test_more_flies_than_the_box_gives_are_asked_about_before_anything_is_written(
    client: TestClient, box: Path
) -> None:
    link = "/variant?dressing=ferrymans-dun&n=1"
    assert "The box gives 6 flies of it" in words_of(client.get(link).text)
    before = box.read_bytes()
    fields = form_of(client, link, "/box/tied") | {"flies": "500"}
    asked = post(client, "/box/tied", fields)
    told = words_of(asked.text)
    assert asked.status_code == 200
    assert "500 flies take more than the box holds" in told
    assert "The box gives 6 flies" in told
    assert "“lemon wood duck flank”" in told.partition("Nothing would be left of")[2]
    assert box.read_bytes() == before
    sure = fields_of(asked.text, "/box/tied")
    assert post(client, "/box/tied", sure).headers["location"] == "/box/journal?done=tied"
    assert read_journal(box)[-1].note == "500 × Ferryman's Dun, size 14"


def test_markup_in_a_box_stays_words(client: TestClient) -> None:
    name = "<script>alert(1)</script>"
    fields = form_of(client, "/box/new", "/box/add") | {
        "cell.item": name,
        "cell.material": "cock neck",
        "cell.note": '"><img src=x onerror=alert(1)>',
    }
    link = post(client, "/box/add", fields).headers["location"]
    for page in (client.get(link), client.get("/box?find=script"), client.get("/box/journal")):
        assert page.status_code == 200
        assert "<script>alert" not in page.text
        assert "<img src=x" not in page.text


@pytest.mark.parametrize("number", ["", "-1", "1.5", "one", "9" * 30])
def test_only_an_entry_can_be_taken_back(client: TestClient, number: str) -> None:
    fields = {"csrf_token": csrf_token_of(client), "form_token": "a", "number": number}
    assert post(client, "/box/undo", fields).status_code == 400


def test_an_entry_is_taken_back_once(client: TestClient, box: Path) -> None:
    post(client, "/box/use", form_of(client, ITEM, "/box/use") | {"amount": "4 feathers"})
    number = str(read_journal(box)[-1].number)
    for mark, status in (("a", 303), ("b", 422)):
        fields = {"csrf_token": csrf_token_of(client), "form_token": mark, "number": number}
        assert post(client, "/box/undo", fields).status_code == status
    assert amount_of(client) == "29 feathers"


def test_without_a_box_there_is_nothing_to_keep() -> None:
    client = visitor(box=None)
    assert "--box BOX" in words_of(client.get("/box").text)
    assert client.get("/box/new").status_code == 404
