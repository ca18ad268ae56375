"""The derivation as a page: legible, quiet, light, and good to walk through by keys alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.real import EXAMPLES
from tests.web.documents.browser import Seen, needs_browser, opened
from tests.web.documents.flies import NAMES, derivation_page
from tests.web.documents.html import ids, read, references, text

MOST_BYTES = 2_000_000
EVERY = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


@pytest.mark.parametrize("which", EVERY)
def test_forty_flies_are_good_html_and_within_two_megabytes(which: str) -> None:
    page = derivation_page(which, 40)
    assert len(page.encode()) <= MOST_BYTES
    root = read(page)
    names = ids(root)
    assert len(names) == len(set(names))
    assert references(root) <= set(names)
    sections = root.findall(".//section")
    assert len(sections) == len(root.findall(".//symbol"))


@pytest.mark.parametrize("name", NAMES)
def test_names_are_never_markup(name: str) -> None:
    root = read(derivation_page(name=name))
    told = [one for one in root.iter() if one.tag in ("text", "h2", "h1")]
    assert any(name in text(one) for one in told)
    assert len(root.findall(".//script")) == 1
    assert not root.findall(".//b")


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "derivation.html"
    path.write_text(derivation_page("tenter-mill-quill", 40), encoding="utf-8")
    return path


@needs_browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_browser_shows_it_without_a_word_and_without_the_network(page: Path, scheme: str) -> None:
    with opened(page, color_scheme=scheme) as seen:
        assert seen.said == []
        assert seen.faults() == []
        seen.page.locator("a[data-node=v1]").focus()
        seen.page.keyboard.press("Enter")
        assert seen.faults() == []
        assert seen.asked == [page.as_uri()]


BOXES = """
() => [...document.querySelectorAll('.canvas text')].map(one => {
  const box = one.getBBox();
  return [one.textContent, box.x, box.y, box.width, box.height];
})
"""


@needs_browser
@pytest.mark.parametrize("which", EVERY)
def test_no_label_overlaps_another_among_forty(which: str, tmp_path: Path) -> None:
    path = tmp_path / "derivation.html"
    path.write_text(derivation_page(which, 40), encoding="utf-8")
    with opened(path) as seen:
        boxes = seen.page.evaluate(BOXES)
        width = float(seen.page.evaluate("document.querySelector('.canvas svg').viewBox.baseVal.x"))
    assert width == 0.0
    for place, (words, x, y, wide, high) in enumerate(boxes):
        for other, x2, y2, wide2, high2 in boxes[place + 1 :]:
            # A hair of the line's own leading may touch the next line's.
            apart = x + wide <= x2 or x2 + wide2 <= x or y + high <= y2 + 3 or y2 + high2 <= y + 3
            assert apart, (words, other)
        assert x + wide <= 1180, words


@needs_browser
def test_no_picture_lies_on_a_label(page: Path) -> None:
    with opened(page) as seen:
        labels = seen.page.evaluate(BOXES)
        flies = seen.page.evaluate(
            "() => [...document.querySelectorAll('.canvas a use')].map(one => "
            "['x', 'y', 'width', 'height'].map(side => one[side].baseVal.value))"
        )
    assert len(flies) >= 30
    for x, y, wide, high in flies:
        for words, x2, y2, wide2, high2 in labels:
            apart = x + wide <= x2 or x2 + wide2 <= x or y + high <= y2 or y2 + high2 <= y + 2
            assert apart, words


@needs_browser
def test_the_dots_stand_at_their_departures(page: Path) -> None:
    with opened(page) as seen:
        told = seen.page.evaluate(
            "() => [...document.querySelectorAll('.canvas a')].map(one => "
            "[+one.getAttribute('aria-label').match(/departs ([0-9.]+)/)[1], "
            "one.querySelector('circle').cx.baseVal.value])"
        )
    (first, start), (last, end) = min(told), max(told)
    scale = (end - start) / (last - first)
    for departure, x in told:
        assert x == pytest.approx(start + (departure - first) * scale, abs=0.006 * scale)


def shown(seen: Seen) -> list[str]:
    names: list[str] = seen.page.eval_on_selector_all(
        "aside section:not([hidden])", "all => all.map(one => one.id)"
    )
    return names


def focused(seen: Seen) -> str:
    node: str = seen.page.evaluate(
        "document.activeElement.dataset.node || document.activeElement.id"
    )
    return node


@needs_browser
def test_keys_alone_walk_from_fly_to_fly_and_open_one(page: Path) -> None:
    with opened(page) as seen:
        keys = seen.page.keyboard
        assert shown(seen) == []
        seen.page.locator("a[data-node=base]").focus()
        keys.press("ArrowRight")
        child = focused(seen)
        assert child != "base"
        keys.press("ArrowLeft")
        assert focused(seen) == "base"
        keys.press("ArrowDown")
        keys.press("ArrowDown")
        node = focused(seen)
        assert node not in ("base", child)
        keys.press("Enter")
        assert shown(seen) == [f"about-{node}"]
        assert focused(seen) == f"about-{node}"
        keys.press("Escape")
        assert focused(seen) == node
        keys.press("ArrowUp")
        keys.press(" ")
        assert shown(seen) == [f"about-{child}"]


@needs_browser
def test_a_click_opens_and_a_drag_moves(page: Path) -> None:
    view = (
        "() => document.querySelector('.canvas svg').getAttribute('viewBox').split(' ').map(Number)"
    )
    with opened(page) as seen:
        link = seen.page.locator("a[data-node=base]")
        box = link.bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        before = seen.page.evaluate(view)
        seen.page.mouse.move(x, y)
        seen.page.mouse.down()
        seen.page.mouse.move(x, y - 60, steps=4)
        seen.page.mouse.up()
        after = seen.page.evaluate(view)
        assert after[1] > before[1]
        assert shown(seen) == []
        seen.page.locator(".canvas").press("0")
        seen.page.mouse.click(x, y)
        assert shown(seen) == ["about-base"]
        seen.page.locator(".canvas").press("+")
        assert seen.page.evaluate(view)[2] < before[2]


@needs_browser
def test_it_reads_without_scripts(page: Path) -> None:
    with opened(page, java_script_enabled=False) as seen:
        assert seen.page.locator("aside section").first.is_visible()
        assert seen.page.locator("aside section").last.is_visible()
        assert not seen.page.locator(".tools").is_visible()
