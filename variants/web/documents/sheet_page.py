"""The bench sheet as one HTML page that prints on A4 and on US Letter, and as PDF."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from variants.design import DesignProblem
from variants.geometry import Layout
from variants.model import Variant
from variants.pictures import Picture, draw_fly
from variants.pictures.charts import LIGHT, Shelf
from variants.regions import says_words, written_words
from variants.text import xml_safe
from variants.views.sheet import BenchSheet
from variants.web.documents.templates import packaged, page, stylesheet

#: What typst calls the papers.
PAPERS = {"a4": "a4", "letter": "us-letter"}
NO_ADVICE = (
    "No legal advice: check with the local authority which materials and hooks your water allows."
)


class PdfUnavailableError(Exception):
    """The extra that PDF needs is not installed."""


@dataclass(frozen=True, slots=True)
class Plate:
    """A picture on the sheet, and what stands under it."""

    picture: Picture
    caption: str


def plates_of(design: DesignProblem, layout: Layout, variant: Variant | None) -> list[Plate]:
    """Return the pictures of a sheet: the fly, and its dressing as written where that differs."""
    plates = [Plate(draw_fly(design, layout, variant), "The fly to tie, to scale.")]
    if variant is not None and variant.changed:
        plates.append(Plate(draw_fly(design, layout, stated=True), "The dressing as written."))
    return plates


def sheet_html(sheet: BenchSheet, plates: Sequence[Plate]) -> str:
    """Return the sheet as one page that needs nothing else.

    Parameters
    ----------
    sheet : BenchSheet
    plates : sequence of Plate
        The fly first; others stand smaller under it.
    """
    from markupsafe import Markup

    shelf = Shelf()
    figures = []
    for place, one in enumerate(plates, start=1):
        shelved = shelf.put(f"plate-{place}", one.picture)
        figures.append(
            {
                "id": shelved.id,
                "width": f"{shelved.width_mm:g}",
                "height": f"{shelved.height_mm:g}",
                "label": one.picture.title,
                "caption": one.caption,
            }
        )
    return xml_safe(
        page(
            "sheet.html.j2",
            sheet=sheet,
            care=_care(sheet),
            figures=figures,
            shelf=Markup(shelf.svg()),
            style=Markup(stylesheet()),
            no_advice=NO_ADVICE,
        )
    )


def sheet_pdf(sheet: BenchSheet, plates: Sequence[Plate], paper: str = "a4") -> bytes:
    """Return the sheet as PDF, by a typesetter that brings its own fonts (extra ``print``).

    Parameters
    ----------
    sheet : BenchSheet
    plates : sequence of Plate
    paper : str
        One of `PAPERS`.

    Raises
    ------
    PdfUnavailableError
        Without the extra ``print``.
    """
    try:
        import typst
    except ImportError:
        raise PdfUnavailableError(
            "PDF needs the extra 'print': pip install 'flykin[print]'"
        ) from None
    told = _for_paper(sheet, plates)
    told["paper"] = PAPERS[paper]
    with tempfile.TemporaryDirectory() as folder:
        for figure, one in zip(told["figures"], plates, strict=True):
            (Path(folder) / figure["file"]).write_text(one.picture.svg, encoding="utf-8")
        written = xml_safe(json.dumps(told, ensure_ascii=False))
        (Path(folder) / "sheet.json").write_text(written, encoding="utf-8")
        source = Path(folder) / "sheet.typ"
        source.write_text(packaged("sheet.typ"), encoding="utf-8")
        made: bytes = typst.compile(str(source), format="pdf")
    return made


def _care(sheet: BenchSheet) -> list[tuple[str, str]]:
    """Return what law, the water's owner and health ask, each with where it is written."""
    care = [(f"{sheet.place} asks: {'; '.join(sheet.asks)}.", "")] if sheet.asks else []
    for one in sheet.cautions.law:
        status = "asked" if one.is_asked else one.statute.status
        only_if = f" ({one.only_if})" if one.only_if else ""
        if status != "silent":
            told = f"{one.material}{only_if}, {status} in {one.place.name}: "
            care.append((told + says_words(one.statute), written_words(one.statute)))
    care += [(one, "") for one in (*sheet.cautions.asks, *sheet.materials)]
    care += [(one.words, "") for one in sheet.cautions.hazards]
    if sheet.cautions.unknown:
        names = ", ".join(sheet.cautions.unknown)
        care.append((f"The law here was not looked up for {names}.", ""))
    return care


def _for_paper(sheet: BenchSheet, plates: Sequence[Plate]) -> dict[str, Any]:
    """Return the sheet as the typesetter reads it: texts, numbers and lists alone."""
    lead = f"{sheet.style}, hook size {sheet.size}"
    lead += f", for {sheet.water} water" if sheet.water else ""
    lead += f" ({sheet.place})" if sheet.place else ""
    lead += f"; {sheet.which}"
    lead += f", departs {sheet.departure}" if sheet.substitutions else ""
    flies = sheet.students * sheet.flies_each
    each = "1 fly" if sheet.flies_each == 1 else f"{sheet.flies_each} flies"
    return {
        "look": LIGHT,
        "name": sheet.name,
        "which": sheet.which,
        "size": sheet.size,
        "lead": lead,
        "note": sheet.note,
        "source": sheet.source,
        "hook": sheet.hook,
        "has_box": sheet.has_box,
        "figures": [
            {"file": f"plate-{place}.svg", "label": one.picture.title, "caption": one.caption}
            for place, one in enumerate(plates, start=1)
        ],
        "lines": [asdict(one) for one in sheet.lines],
        "steps": [
            {
                "says": one.says,
                "target": one.target.words if one.target else None,
                "more": one.target.more if one.target else "",
            }
            for one in sheet.steps
        ],
        "substitutions": [asdict(one) for one in sheet.substitutions],
        "care": _care(sheet),
        "advice": sheet.cautions.advice or NO_ADVICE,
        "kit_title": f"Kit for {sheet.students} at the table, {each} each",
        "kit": [
            {**asdict(one), "short": f"Short: gives {one.gives}, wants {flies} flies"
             if one.short_of else ""}
            for one in sheet.kit
        ],
    }  # fmt: skip
