"""Many at once, hostile or honest: each honest question is answered, and the page stays there."""

from __future__ import annotations

import gc
import logging
import socket
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from time import monotonic, sleep
from urllib.request import urlopen

import pytest

from tests.web.browser import served
from tests.web.pages import BOOK, own_box, visitor, words_of
from variants.web.app import Settings
from variants.web.connections import LimitedProtocol
from variants.web.log_handler import OneLineHandler
from variants.web.work_queue import WorkQueue

HALF_A_HEAD = b"GET / HTTP/1.1\r\nHost: 127.0.0.1"


class Narrow(LimitedProtocol):
    most_open, head_s = 8, 0.6


def test_fifty_at_once_are_all_answered_each_with_its_own(tmp_path: Path) -> None:
    names = {"bellringer": "Bellringer", "tollgate-amber": "Tollgate Amber",
             "ferrymans-dun": "Ferryman&#39;s Dun", "sluice-midge": "Sluice Midge",
             "long-acre-olive": "Long Acre Olive"}  # fmt: skip
    asked = [
        (f"/design?dressing={key}&water={water}", name)
        for key, name in names.items()
        for water in ("slow", "fast")
    ] * 5
    assert len(asked) == 50
    with served(Settings(own_box(tmp_path), (BOOK,))) as address:

        def ask(one: tuple[str, str]) -> tuple[int, bool]:
            with urlopen(f"{address}{one[0]}", timeout=120) as answer:
                return answer.status, f"<h1>{one[1]}</h1>" in answer.read().decode()

        with ThreadPoolExecutor(50) as pool:
            assert list(pool.map(ask, asked)) == [(200, True)] * 50


def connected(address: str, said: bytes) -> socket.socket:
    host, port = address.removeprefix("http://").split(":")
    connection = socket.create_connection((host, int(port)), timeout=10)
    connection.sendall(said)
    return connection


def is_closed(connection: socket.socket) -> bool:
    try:
        return connection.recv(100) == b""
    except ConnectionError:
        return True


def test_half_open_connections_give_way_to_whoever_asks_and_are_closed_in_time(
    caplog: pytest.LogCaptureFixture,
) -> None:
    with served(Settings(None, (BOOK,)), Narrow) as address:
        begun = monotonic()
        held = [connected(address, HALF_A_HEAD) for _ in range(30)]
        with urlopen(f"{address}/static/flykin.css", timeout=10) as answer:
            assert answer.status == 200
        assert all(is_closed(one) for one in held)
        assert monotonic() - begun < 10 * Narrow.head_s
        # An answered connection that begins a second head has no longer for it.
        kept = connected(address, HALF_A_HEAD + address[16:].encode() + b"\r\n\r\n")
        assert kept.recv(100).startswith(b"HTTP/1.1 200")
        kept.sendall(HALF_A_HEAD)
        while kept.recv(65536):
            assert monotonic() - begun < 20
        for one in (*held, kept):
            one.close()
    assert not caplog.records


def test_a_form_broken_off_is_no_trouble_to_tell_of(caplog: pytest.LogCaptureFixture) -> None:
    with served(Settings(None, (BOOK,))) as address:
        head = (
            f"POST /units HTTP/1.1\r\nHost: {address[7:]}\r\nOrigin: {address}\r\n"
            "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 500\r\n\r\nun"
        )
        for _ in range(3):
            connected(address, head.encode()).close()
        sleep(0.3)
        with urlopen(f"{address}/static/flykin.css", timeout=10) as answer:
            assert answer.status == 200
    gc.collect()
    assert not caplog.records


def test_where_all_places_are_taken_questions_are_told_so_and_the_rest_is_there() -> None:
    client = visitor()
    shared = client.app.state.shared  # type: ignore[attr-defined]
    client.app.state.shared = replace(shared, work_queue=WorkQueue(at_once=0, wait_s=0.05))  # type: ignore[attr-defined]
    for link in ("/design?dressing=bellringer", "/picture.svg?dressing=bellringer"):
        busy = client.get(link)
        assert busy.status_code == 503
        assert "again in a moment" in words_of(busy.text)
        assert busy.headers["retry-after"]
    for link in ("/", "/box", "/static/look.css", "/static/flykin.js"):
        assert client.get(link).status_code == 200


def test_trouble_is_told_once_in_one_line_that_steers_no_terminal() -> None:
    told: list[str] = []
    log = logging.Logger("test")
    log.addHandler(OneLineHandler(told.append))
    for _ in range(100):
        try:
            raise ValueError("a\x1b[2J\nb")
        except ValueError:
            log.exception("Exception in ASGI application\n")
    assert len(told) == 1
    assert told[0].isprintable()
    assert "ValueError" in told[0]
    assert "test_work_queue.py, line" in told[0]
