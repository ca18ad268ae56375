"""The page as a test asks it: the Wendle valley on a bench, a visitor without a browser."""

from __future__ import annotations

import re
import shutil
from collections.abc import Sequence
from html import unescape
from pathlib import Path

from starlette.testclient import TestClient

from tests.real import EXAMPLES
from variants.web.app import Settings, make_app
from variants.web.safety import AccessPolicy

ADDRESS = "http://127.0.0.1:8320"
BOOK = EXAMPLES / "dressings"
BOX = EXAMPLES / "box.csv"
REGIONS = EXAMPLES / "regions"


def visitor(
    box: Path | None = BOX, books: Sequence[Path] = (BOOK,), access: AccessPolicy | None = None
) -> TestClient:
    """Return a client that asks a page of its own; it does not follow redirects by itself."""
    app = make_app(Settings(box, books, (), (REGIONS,), access or AccessPolicy()))
    return TestClient(app, base_url=ADDRESS, follow_redirects=False, raise_server_exceptions=False)


def own_box(folder: Path) -> Path:
    """Return a copy of the valley's box that a test may change."""
    return Path(shutil.copy(BOX, folder / "box.csv"))


def csrf_token_of(client: TestClient) -> str:
    """Return the csrf_token that the page puts into its forms."""
    found = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/units-are-anywhere").text)
    assert found is not None
    return found[1]


def send(client: TestClient, path: str, **fields: str) -> object:
    """Send a form as a browser does that has loaded the page."""
    return client.post(
        path, data={"csrf_token": csrf_token_of(client), **fields}, headers={"origin": ADDRESS}
    )


def words_of(html: str) -> str:
    """Return what a page says, without its markup."""
    body = re.sub(r"<(script|style|head)\b.*?</\1>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())


def finished(client: TestClient, link: str, patience_s: float = 60.0) -> str:
    """Return what a page of long work says once the work is done."""
    from time import monotonic, sleep

    until = monotonic() + patience_s
    while monotonic() < until:
        text = client.get(link).text
        if "data-follow" not in text:
            return words_of(text)
        sleep(0.05)
    raise AssertionError(f"{link} is still at work")
