"""The README's pictures of the page, taken by ``python -m tests renew page``."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from tests.real import EXAMPLES
from tests.web.browser import CHROMIUM, served
from tests.web.pages import BOOK, REGIONS, own_box
from variants.web.app import Settings

PICTURES = EXAMPLES / "pictures"
#: File, link, width and height of the window.
TAKEN = (
    ("page-variants.png", "/design?dressing=ferrymans-dun&missing=body", 1120, 760),
    ("page-tieable-narrow.png", "/tieable", 380, 760),
)


def take_pictures() -> None:
    """Take the pictures."""
    with (
        TemporaryDirectory() as folder,
        served(Settings(own_box(Path(folder)), (BOOK,), (), (REGIONS,))) as address,
        sync_playwright() as play,
    ):
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for name, link, width, height in TAKEN:
            page = browser.new_page(viewport={"width": width, "height": height})
            page.goto(address + link)
            page.wait_for_load_state("networkidle")
            page.locator("[data-follow]").wait_for(state="detached")
            page.screenshot(path=PICTURES / name)
            page.close()
        browser.close()
