"""Who may ask the page for what: names, origins, seals, tokens, sizes, headers."""

from __future__ import annotations

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from tests.web.pages import ADDRESS, csrf_token_of, visitor, words_of
from variants.web.safety import LARGEST_BODY, LONGEST_QUERY, AccessPolicy, is_loopback


@pytest.fixture(scope="module")
def client() -> TestClient:
    return visitor()


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1.evil.example",
        "evil.example:8320",
        "192.168.0.7",
        "",
        "a b",
        "[::1",
    ],
)
def test_a_foreign_host_name_is_refused_with_a_clear_message(client: TestClient, host: str) -> None:
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "does not go by that name" in words_of(answer.text)


@pytest.mark.parametrize("host", ["127.0.0.1:8320", "localhost:1", "LOCALHOST", "[::1]:8320"])
def test_our_own_names_are_answered(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 200


def post_paths(client: TestClient) -> list[str]:
    routes = [route for route in client.app.routes if isinstance(route, Route)]  # type: ignore[attr-defined]
    return [route.path for route in routes if "POST" in (route.methods or ())]


def test_every_form_wants_our_origin_and_this_runs_seal(client: TestClient) -> None:
    paths = post_paths(client)
    assert paths
    csrf_token = csrf_token_of(client)
    for path in paths:
        for headers, fields in (
            ({}, {"csrf_token": csrf_token}),
            ({"origin": "http://evil.example"}, {"csrf_token": csrf_token}),
            ({"origin": "null"}, {"csrf_token": csrf_token}),
            ({"origin": "https://127.0.0.1:8320"}, {"csrf_token": csrf_token}),
            ({"origin": ADDRESS, "sec-fetch-site": "cross-site"}, {"csrf_token": csrf_token}),
            ({"origin": ADDRESS}, {"csrf_token": "guessed"}),
            ({"origin": ADDRESS}, {"units": "mm"}),
        ):
            answer = client.post(path, data=fields, headers=headers)
            assert answer.status_code == 403, (path, headers)


def test_no_form_is_done_by_opening_its_link(client: TestClient) -> None:
    shown = {
        route.path
        for route in client.app.routes  # type: ignore[attr-defined]
        if isinstance(route, Route) and "GET" in (route.methods or ())
    }
    for path in post_paths(client):
        if path not in shown:
            assert client.get(path).status_code == 405, path


def test_another_site_can_make_nothing_be_worked_out_in_secret(client: TestClient) -> None:
    link = "/picture.svg?dressing=bellringer"
    foreign = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
    assert client.get(link, headers=foreign).status_code == 403
    assert client.get(link, headers={"sec-fetch-site": "same-origin"}).status_code == 200
    context = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    assert client.get("/", headers=context).status_code == 200


def test_every_answer_carries_the_headers_that_keep_foreign_code_out(client: TestClient) -> None:
    for link in ("/", "/design?dressing=bellringer", "/nothing", "/static/flykin.css"):
        headers = client.get(link).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["x-frame-options"] == "DENY"


def test_no_page_needs_what_the_policy_forbids(client: TestClient) -> None:
    for link in ("/", "/design?dressing=bellringer", "/variant?dressing=bellringer&n=1"):
        text = client.get(link).text
        assert " style=" not in text
        assert "<style" not in text
        assert " onclick=" not in text
        assert text.count("<script") == text.count('<script src="/static/')


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(client: TestClient, method: str) -> None:
    assert client.request(method, "/").status_code == 405


def test_a_link_too_long_to_hold_one_dressing_is_refused(client: TestClient) -> None:
    answer = client.get("/design?text=" + "a" * LONGEST_QUERY)
    assert answer.status_code == 414
    assert "Paste one dressing" in words_of(answer.text)


def test_a_form_too_large_is_refused_told_or_not(client: TestClient) -> None:
    headers = {"origin": ADDRESS, "content-type": "application/x-www-form-urlencoded"}
    large = b"units=" + b"m" * LARGEST_BODY

    def in_pieces() -> object:
        for start in range(0, len(large), 1000):
            yield large[start : start + 1000]

    told = client.post("/units", content=large, headers=headers)
    untold = client.post("/units", content=in_pieces(), headers=headers)  # type: ignore[arg-type]
    assert [told.status_code, untold.status_code] == [413, 413]
    assert "larger than 64 kB" in words_of(untold.text)


def test_only_plain_forms_are_taken(client: TestClient) -> None:
    headers = {"origin": ADDRESS}
    assert client.post("/units", json={"units": "mm"}, headers=headers).status_code == 415
    files = {"units": ("a.txt", b"mm")}
    assert client.post("/units", files=files, headers=headers).status_code == 415


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/static//etc/passwd",
        "/static/%00",
        "/../../etc/passwd",
    ],
)
def test_no_path_leads_out_of_the_folder_of_style_and_script(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code in (400, 404)
    assert "root:" not in answer.text
    assert "import" not in answer.text


@pytest.mark.parametrize(
    "key", ["../box.csv", "/etc/passwd", "..%2f..%2fbox", "bellringer.toml", "C:\\box"]
)
def test_a_dressings_key_is_looked_up_never_opened(client: TestClient, key: str) -> None:
    answer = client.get("/design", params={"dressing": key})
    assert answer.status_code == 404
    assert "is in the book" in words_of(answer.text)


def test_loopback_is_told_from_the_rest() -> None:
    assert [is_loopback(host) for host in ("127.0.0.1", "127.9.9.9", "::1", "localhost")] == [
        True
    ] * 4
    assert not any(is_loopback(host) for host in ("0.0.0.0", "::", "192.168.0.2", "example.org"))


def test_where_others_can_reach_it_the_page_asks_for_its_token() -> None:
    access = AccessPolicy.for_host("0.0.0.0")
    client = visitor(access=access)
    assert access.token is not None
    for link in ("/", "/design?dressing=bellringer", "/picture.svg?dressing=bellringer"):
        closed = client.get(link)
        assert closed.status_code == 401
        assert "Bellringer" not in closed.text
    headers = {"origin": ADDRESS}
    csrf_token = csrf_token_of(client)
    assert (
        client.post("/units", data={"csrf_token": csrf_token}, headers=headers).status_code == 401
    )
    wrong = client.post(
        "/enter", data={"csrf_token": csrf_token, "token": "guess"}, headers=headers
    )
    assert wrong.status_code == 401
    right = client.post(
        "/enter", data={"csrf_token": csrf_token, "token": access.token}, headers=headers
    )
    assert right.status_code == 303
    assert client.get("/").status_code == 200


def test_where_others_can_reach_it_addresses_are_ours_and_foreign_names_are_not() -> None:
    access = AccessPolicy.for_host("0.0.0.0")
    assert access.is_known_host("192.168.0.7:8320")
    assert access.is_known_host("[fe80::1]:8320")
    assert not access.is_known_host("evil.example")


def test_a_host_line_tells_the_port_we_listen_at() -> None:
    access = AccessPolicy.for_host("127.0.0.1", port=8320)
    assert [access.is_known_host(host) for host in ("127.0.0.1:8320", "[::1]:8320")] == [True, True]
    for host in ("127.0.0.1:80", "127.0.0.1", "localhost:8321", "localhost:99999"):
        assert not access.is_known_host(host), host


def test_behind_a_proxy_forms_come_from_its_address_and_a_token_is_asked() -> None:
    outside = "https://flies.example"
    access = AccessPolicy.for_host("127.0.0.1", port=8320, reached_at=outside)
    assert access.token is not None
    client = visitor(access=access)
    csrf_token, there = csrf_token_of(client), {"host": "flies.example", "origin": outside}
    assert client.get("/", headers={"host": "flies.example"}).status_code == 401
    fields = {"csrf_token": csrf_token, "token": access.token}
    for origin in ("http://flies.example", "https://evil.example", ADDRESS):
        answer = client.post("/enter", data=fields, headers={**there, "origin": origin})
        assert answer.status_code == 403
    right = client.post("/enter", data=fields, headers=there)
    assert right.status_code == 303
    assert "secure" in right.headers["set-cookie"].lower()
    # A tunnel to this machine alone opens it to nobody else.
    tunnel = AccessPolicy.for_host("127.0.0.1", port=8320, reached_at="http://localhost:9000")
    assert (tunnel.token, tunnel.is_known_host("localhost:9000")) == (None, True)


def test_a_fault_of_ours_shows_no_inside(monkeypatch: pytest.MonkeyPatch) -> None:
    client = visitor()
    shared = client.app.state.shared  # type: ignore[attr-defined]
    monkeypatch.setattr(shared.answers, "answer", lambda question: 1 / 0)
    answer = client.get("/design?dressing=bellringer")
    assert answer.status_code == 500
    assert "Traceback" not in answer.text
    assert "inside Flykin" in words_of(answer.text)


def test_the_reader_chooses_the_unit_and_is_led_back_to_a_page_of_ours() -> None:
    client = visitor()
    csrf_token, headers = csrf_token_of(client), {"origin": ADDRESS}
    link = "/variant?dressing=packhorse-badger&n=1"
    assert "mm" in words_of(client.get(link).text)
    fields = {"csrf_token": csrf_token, "units": "inch", "back": link}
    done = client.post("/units", data=fields, headers=headers)
    assert (done.status_code, done.headers["location"]) == (303, link)
    assert "/64 in" in words_of(client.get(link).text)
    for away in ("//evil.example", "https://evil.example", "/\\evil.example", "javascript:0"):
        done = client.post("/units", data={**fields, "back": away}, headers=headers)
        assert done.headers["location"] == "/"
    assert (
        client.post("/units", data={**fields, "units": "ell"}, headers=headers).status_code == 400
    )
