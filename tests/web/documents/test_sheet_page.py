"""The bench sheet as a page and on paper."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest

from tests.web.documents.browser import needs_browser, opened
from tests.web.documents.flies import NAMES, sheet_of, sheet_page
from tests.web.documents.html import ids, read, references, text
from variants.web.documents import sheet_pdf

#: Width and height in points: ISO 216 A4 is 210 mm by 297 mm, ANSI/ASME Y14.1 A is 8.5 in by 11 in.
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}


def test_the_page_is_good_html_and_its_references_lead_somewhere() -> None:
    root = read(sheet_page())
    names = ids(root)
    assert len(names) == len(set(names))
    assert references(root) <= set(names)
    assert len(root.findall(".//figure")) == 2


def test_everything_on_the_sheet_is_on_the_page() -> None:
    sheet, _plates = sheet_of()
    told = " ".join(text(read(sheet_page())).split())
    for line in sheet.lines:
        assert line.stuff in told
        assert all(" ".join(place.split()) in told for place in line.from_box)
    for step in sheet.steps:
        assert step.says in told
        assert step.target is None or step.target.words in told
    for change in sheet.substitutions:
        assert all(says in told for _cost, says, _source in change.reasons)
    for hazard in sheet.cautions.hazards:
        assert hazard.words in told
    assert "Short: gives 6" not in told
    assert "Kit for 6 at the table, 1 fly each" in told


@pytest.mark.parametrize("name", NAMES)
def test_names_are_told_as_they_are_and_are_never_markup(name: str) -> None:
    root = read(sheet_page(name))
    heading = root.find(".//h1")
    assert heading is not None
    assert text(heading) == name
    assert not root.findall(".//script")
    assert not root.findall(".//b")
    assert not any(str(key).startswith("on") for one in root.iter() for key in one.attrib)


@needs_browser
@pytest.mark.parametrize("name", [None, NAMES[0], NAMES[2]])
def test_a_browser_shows_it_without_a_word_and_without_the_network(
    name: str | None, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.html"
    path.write_text(sheet_page(name), encoding="utf-8")
    for scheme in ("light", "dark"):
        with opened(path, color_scheme=scheme) as seen:
            assert seen.faults() == []
            assert seen.asked == [path.as_uri()]
            drawn = seen.page.eval_on_selector_all(
                "figure use", "all => all.map(one => one.getBoundingClientRect().width)"
            )
            assert len(drawn) == 2
            assert min(drawn) > 100
            # Axe tells on the console what it runs in; the page itself says nothing.
            assert [one for one in seen.said if "axe" not in one.lower()] == []


@needs_browser
def test_the_page_fits_a_narrow_screen(tmp_path: Path) -> None:
    path = tmp_path / "sheet.html"
    path.write_text(sheet_page(), encoding="utf-8")
    with opened(path, viewport={"width": 420, "height": 800}) as seen:
        wide = seen.page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 420


@needs_browser
@pytest.mark.parametrize(("paper", "name"), [("a4", "A4"), ("letter", "Letter")])
def test_a_browser_prints_it_on_either_paper(paper: str, name: str, tmp_path: Path) -> None:
    path = tmp_path / "sheet.html"
    path.write_text(sheet_page(), encoding="utf-8")
    with opened(path) as seen:
        printed = seen.page.pdf(format=name)
    pages = pages_of(printed)
    assert all(size == pytest.approx(PAPERS[paper], abs=1.0) for size, _words in pages)
    assert 2 <= len(pages) <= 3
    assert "Kit for 6" in pages[-1][1].replace("KIT FOR", "Kit for")


@pytest.mark.parametrize("paper", PAPERS)
def test_the_pdf_holds_the_sheet_on_its_paper(paper: str) -> None:
    pytest.importorskip("typst")
    sheet, plates = sheet_of()
    pages = pages_of(sheet_pdf(sheet, plates, paper))
    assert all(size == pytest.approx(PAPERS[paper], abs=1.0) for size, _words in pages)
    assert len(pages) <= 3
    told = squeezed(" ".join(words for _size, words in pages))
    for step in sheet.steps:
        assert squeezed(step.says) in told
        assert step.target is None or squeezed(step.target.words) in told
    for line in sheet.lines:
        assert squeezed(line.stuff) in told


@pytest.mark.parametrize("name", [*NAMES, "bell\x07 null\x00 half \ud83e"])
def test_the_pdf_takes_any_name_as_words(name: str) -> None:
    pytest.importorskip("typst")
    sheet, plates = sheet_of(name)
    pages = pages_of(sheet_pdf(sheet, plates))
    if name.isascii() and name.isprintable():
        assert squeezed(name) in squeezed(pages[0][1])


def pages_of(pdf: bytes) -> list[tuple[tuple[float, float], str]]:
    from pypdf import PdfReader

    return [
        ((float(page.mediabox.width), float(page.mediabox.height)), page.extract_text())
        for page in PdfReader(io.BytesIO(pdf)).pages
    ]


def squeezed(words: str) -> str:
    """Words without their spaces, which a PDF does not keep."""
    return re.sub(r"\s+", "", words)
