"""Whatever is asked or sent, the page answers in its own words: never with a fault of its own."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.routing import Route
from starlette.testclient import TestClient

from tests.breadth import examples
from tests.web.pages import ADDRESS, csrf_token_of, own_box, visitor

QUESTION = ("dressing", "text", "style", "sizes", "size", "water", "on", "missing", "keep",
            "changes", "list", "show", "part.body")  # fmt: skip
WISHES = ("water", "on", "size", "changes", "style", "find", "standing", "sets")
CELLS = (
    "cell.item",
    "cell.material",
    "cell.colour",
    "cell.sizes",
    "cell.amount",
    "cell.",
    "cell.x",
)
#: What a page or form knows; others are drawn as well.
KNOWN = {
    "/design": QUESTION, "/derivation": QUESTION, "/derivation/drawing": QUESTION,
    "/whynot": QUESTION, "/variant": (*QUESTION, "n"), "/picture.svg": (*QUESTION, "n", "mark"),
    "/sheet": (*QUESTION, "n", "students", "each"), "/sheet.pdf": (*QUESTION, "n", "paper"),
    "/": ("find", "style", "leaf", "text", "sizes"), "/tieable": WISHES, "/buy": WISHES,
    "/box": ("find", "part", "left", "leaf", "done"), "/box/item": ("name", "done"),
    "/box/journal": ("done",), "/box/add": ("form_token", *CELLS),
    "/box/correct": ("name", "seen", *CELLS), "/box/use": ("form_token", "name", "amount", "note"),
    "/box/buy": ("form_token", "name", "amount", "note"), "/box/undo": ("form_token", "number"),
    "/box/tied": ("form_token", "question", "n", "flies", "version"),
    "/stop": ("job", "back"), "/again": ("job", "back"), "/units": ("units", "back"),
    "/enter": ("token",),
}  # fmt: skip
VALUES = (
    "", "bellringer", "ferrymans-dun", "body", "14", "0", "-1", "1e9", "slow", "skirl-burn",
    "needed", "different", "hook", "cock neck furnace", "all", "2 feathers", "a4", "\0", "\ud800",
    "<script>", "../../etc/passwd", "%00", "\u0663", "Name\nStyle: nymph\nBody: fur\n", "\u202eabc",
    "9" * 40,
)  # fmt: skip
values = st.sampled_from(VALUES) | st.text(max_size=30)


def pairs(path: str) -> st.SearchStrategy[list[tuple[str, str]]]:
    """Return fields for a page: mostly its own, sometimes others."""
    own = st.sampled_from(KNOWN.get(path, ("x",)))
    names = st.one_of(own, own, own, own, st.text(max_size=8))
    return st.lists(st.tuples(names, values), max_size=4)


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    return visitor(own_box(tmp_path_factory.mktemp("bench")))


def encoded(fields: list[tuple[str, str]]) -> str:
    return urlencode(fields, errors="surrogatepass")


def paths(client: TestClient, method: str) -> list[str]:
    routes = [route for route in client.app.routes if isinstance(route, Route)]  # type: ignore[attr-defined]
    return sorted(route.path for route in routes if method in (route.methods or ()))


@settings(max_examples=examples(150))
@given(data=st.data())
def test_any_link_is_answered(client: TestClient, data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(paths(client, "GET")))
    answer = client.get(f"{path}?{encoded(data.draw(pairs(path)))}")
    assert answer.status_code < 500, answer.text
    assert "Traceback" not in answer.text


@settings(max_examples=examples(100))
@given(data=st.data())
def test_any_form_is_answered(client: TestClient, data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(paths(client, "POST")))
    body = encoded([("csrf_token", csrf_token_of(client)), *data.draw(pairs(path))])
    headers = {"origin": ADDRESS, "content-type": "application/x-www-form-urlencoded"}
    answer = client.post(path, content=body, headers=headers)
    assert answer.status_code < 500, answer.text
    assert "Traceback" not in answer.text


@given(st.binary(max_size=60))
def test_any_bytes_sent_as_a_form_are_answered(client: TestClient, body: bytes) -> None:
    headers = {"origin": ADDRESS, "content-type": "application/x-www-form-urlencoded"}
    assert client.post("/box/add", content=body, headers=headers).status_code in (
        303,
        400,
        403,
        422,
    )
