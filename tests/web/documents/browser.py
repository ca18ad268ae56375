"""Pages as a browser shows them; tests that want one are skipped where the system has none."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def executable() -> str | None:
    """Where the system's browser is."""
    return next((found for name in _NAMES if (found := shutil.which(name))), None)


needs_browser = pytest.mark.skipif(executable() is None, reason="this system has no Chromium")


class Seen:
    """An open page, with what it said and what it asked of the network."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.said: list[str] = []
        self.asked: list[str] = []
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))

    def faults(self) -> list[str]:
        """What axe-core finds that is serious or worse, told in a line each."""
        from axe_playwright_python.sync_playwright import Axe

        found = Axe().run(self.page).response["violations"]
        return [
            f"{one['id']}: {one['help']}: {[node['html'][:120] for node in one['nodes'][:3]]}"
            for one in found
            if one["impact"] in ("serious", "critical")
        ]


@contextmanager
def opened(path: Path, **more: Any) -> Iterator[Seen]:
    """Open a file in the browser, nothing of the network in reach."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=executable(), args=["--no-sandbox"])
        page = browser.new_page(**{"viewport": {"width": 1280, "height": 860}, **more})
        seen = Seen(page)
        page.goto(path.as_uri())
        try:
            yield seen
        finally:
            browser.close()
