"""A real browser on a real server, for tests; skipped where the system has no Chromium."""

from __future__ import annotations

import shutil
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from variants.web.app import Settings, make_app
from variants.web.connections import LimitedProtocol

CHROMIUM = next(
    (
        path
        for name in ("chromium", "chromium-browser", "google-chrome")
        if (path := shutil.which(name))
    ),
    None,
)


@contextmanager
def served(settings: Settings, protocol: type[LimitedProtocol] | None = None) -> Iterator[str]:
    """Serve a page on a free port of this machine; gives its address."""
    from variants.web.serving import make_server

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen(128)
        server = make_server(make_app(settings), protocol)
        running = threading.Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
        running.start()
        try:
            yield f"http://127.0.0.1:{taken.getsockname()[1]}"
        finally:
            server.should_exit = True
            running.join(20)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The Wendle valley served, with a box of its own that tests may change."""
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine")
    from tests.web.pages import BOOK, REGIONS, own_box

    box: Path = own_box(tmp_path_factory.mktemp("bench"))
    with served(Settings(box, (BOOK,), (), (REGIONS,))) as where:
        yield where
