"""The main paths in Chromium: by mouse, by keys alone, without the script, on a narrow screen."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.web.browser import CHROMIUM, address

playwright_api = pytest.importorskip("playwright.sync_api")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
__all__ = ["address"]

DUN = "/design?dressing=ferrymans-dun"
PAGES = (
    "/",
    f"{DUN}&missing=body",
    "/design?dressing=sluice-midge&size=20",
    "/variant?dressing=ferrymans-dun&missing=body&n=2",
    "/derivation?dressing=ferrymans-dun&missing=body&list=different",
    "/whynot?dressing=merrel-snipe&changes=1",
    "/tieable",
    "/buy",
    "/box?find=cape",
    "/box/item?name=cock+neck+furnace",
    "/box/new",
    "/box/journal",
    "/nothing-here",
)
NIGHT = ("/", f"{DUN}&missing=body", "/box?find=cape", "/box/item?name=cock+neck+furnace")


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright_api.sync_playwright() as play:
        found = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    context = browser.new_context(base_url=address, viewport={"width": 1200, "height": 900})
    context.set_default_timeout(15_000)
    opened = context.new_page()
    troubles: list[str] = []
    opened.on("pageerror", lambda error: troubles.append(str(error)))
    opened.on(
        "console",
        lambda line: troubles.append(line.text) if "Content Security Policy" in line.text else None,
    )
    yield opened
    context.close()
    assert troubles == []


def test_a_missing_material_live(page: Any) -> None:
    page.goto("/")
    page.get_by_role("link", name="Ferryman's Dun").click()
    parts = page.get_by_role("table", name="Parts")
    body = parts.get_by_role("group", name="body", exact=True)
    body.get_by_label("missing").check()
    page.wait_for_url("**/design?dressing=ferrymans-dun&missing=body")
    first = page.get_by_role("article").first
    playwright_api.expect(first).to_contain_text("otter fur → beaver fur")
    playwright_api.expect(page.get_by_role("status")).to_contain_text("nothing closer exists")
    seen = first.get_by_role("img").element_handle()
    page.wait_for_function("image => image.complete && image.naturalWidth > 0", arg=seen)
    first.get_by_role("link", name="Variant 1", exact=True).click()
    playwright_api.expect(page.get_by_role("heading", level=1)).to_contain_text("Variant 1")
    page.go_back()
    assert page.get_by_role("group", name="body", exact=True).get_by_label("missing").is_checked()


def test_by_the_keyboard_alone(page: Any) -> None:
    page.goto(DUN)
    page.keyboard.press("Tab")
    playwright_api.expect(page.locator(":focus")).to_have_text("Skip to the content")
    page.keyboard.press("Enter")
    page.get_by_role("group", name="wing", exact=True).get_by_label("may change").focus()
    page.keyboard.press("ArrowDown")
    page.wait_for_url("**keep=wing")
    # The form is not replaced, so that the focus stays where the hands are.
    focused = page.locator(":focus")
    assert focused.get_attribute("name") == "part.wing"
    assert focused.get_attribute("value") == "keep"


def test_another_water_and_place(page: Any) -> None:
    page.goto("/design?dressing=packhorse-badger")
    page.get_by_label("Place").select_option("skirl-burn")
    page.wait_for_url("**&on=skirl-burn")
    holds = page.get_by_role("region", name="What holds on this water")
    playwright_api.expect(holds).to_contain_text("no lead")
    playwright_api.expect(page.get_by_role("article").first).to_contain_text("turns 6 → 8")


def test_what_can_be_tied_comes_by_itself_and_is_filtered(page: Any) -> None:
    page.goto("/tieable")
    status = page.get_by_role("status")
    playwright_api.expect(status).to_contain_text(
        "8 dressings: 5 as written, 3 with substitutions, 0 not"
    )
    playwright_api.expect(page.locator("[data-follow]")).to_have_count(0)
    page.get_by_label("Parts that may change").fill("1")  # another question, followed anew
    page.get_by_label("Parts that may change").press("Enter")
    playwright_api.expect(status).to_contain_text(", 1 not at all.")
    page.get_by_label("Name").fill("midge")
    playwright_api.expect(page.get_by_role("link", name="Sluice Midge")).to_be_visible()
    playwright_api.expect(page.get_by_role("link", name="Bellringer")).to_have_count(0)


def test_the_box_edited_and_taken_back(page: Any) -> None:
    page.goto("/box?find=furnace")
    page.get_by_role("link", name="cock neck furnace", exact=True).click()
    use = page.locator("form[action='/box/use']")
    use.get_by_label("How much").fill("2 feathers")
    use.get_by_role("button", name="Take off").click()
    playwright_api.expect(page.get_by_text("27 feathers left")).to_be_visible()
    page.get_by_role("link", name="Take it back").click()
    page.get_by_role("button", name="Take back entry").first.click()
    playwright_api.expect(page.get_by_role("status")).to_contain_text("Taken back.")
    page.goto("/box/item?name=cock+neck+furnace")
    playwright_api.expect(page.get_by_text("29 feathers left")).to_be_visible()


def test_two_tabs_on_one_item(page: Any) -> None:
    other = page.context.new_page()
    for tab in (page, other):
        tab.goto("/box/item?name=cock+neck+badger")
    for tab, place in ((page, "the near drawer"), (other, "the far drawer")):
        tab.get_by_label("place", exact=True).fill(place)
        tab.get_by_role("button", name="Write it down").click()
    playwright_api.expect(page.get_by_role("status")).to_contain_text("Corrected.")
    playwright_api.expect(other.get_by_role("alert")).to_contain_text("Someone was here before you")
    playwright_api.expect(other.get_by_label("place", exact=True)).to_have_value("the far drawer")
    playwright_api.expect(other.get_by_text("in the box now: the near drawer")).to_be_visible()


def test_the_sheet_prints_on_paper(page: Any) -> None:
    page.goto("/variant?dressing=ferrymans-dun&missing=body&n=1")
    page.get_by_role("link", name="Sheet to print").click()
    playwright_api.expect(page.get_by_role("heading", name="At the vice")).to_be_visible()
    font = page.locator("body").evaluate("body => getComputedStyle(body).fontFamily")
    assert "Serif" in font  # its own style got through the policy
    assert page.pdf(format="A4").startswith(b"%PDF-")


def test_everything_works_without_the_script(browser: Any, address: str) -> None:
    context = browser.new_context(base_url=address, java_script_enabled=False)
    page = context.new_page()
    page.goto(DUN)
    page.get_by_role("group", name="body", exact=True).get_by_label("missing").check()
    page.get_by_role("button", name="Show the variants").click()
    assert page.url.endswith("/design?dressing=ferrymans-dun&missing=body")
    playwright_api.expect(page.get_by_role("article").first).to_contain_text("beaver fur")
    context.close()


def test_no_page_is_wider_than_a_small_phone(browser: Any, address: str) -> None:
    context = browser.new_context(base_url=address, viewport={"width": 360, "height": 640})
    page = context.new_page()
    for link in PAGES:
        page.goto(link)
        over = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert over <= 0, link
    context.close()


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_has_a_serious_fault_for_those_who_need_aids(
    browser: Any, address: str, scheme: str
) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    context = browser.new_context(base_url=address, color_scheme=scheme)
    page = context.new_page()
    # By night only the colours are others; a few pages show them all.
    rules = {"runOnly": ["color-contrast"]} if scheme == "dark" else {}
    found = []
    for link in NIGHT if scheme == "dark" else PAGES:
        page.goto(link)
        for fault in axe.run(page, options=rules).response["violations"]:
            if fault["impact"] in ("serious", "critical"):
                found.append((link, fault["id"], [one["html"][:120] for one in fault["nodes"]][:3]))
    context.close()
    assert found == []
