"""The bench sheet of a dressing or a variant, to print, and as PDF."""

from __future__ import annotations

from http import HTTPStatus

from starlette.responses import Response

from variants.views.sheet import BenchSheet, bench_sheet
from variants.web.books import key_of
from variants.web.context import Context, get
from variants.web.document_response import document_response
from variants.web.documents import (
    PAPERS,
    PdfUnavailableError,
    Plate,
    plates_of,
    sheet_html,
    sheet_pdf,
)
from variants.web.errors import RequestError
from variants.web.question import MOST, choice, whole

_OWN = ("n", "students", "each", "paper")
_MOST_STUDENTS, _MOST_EACH = 60, 144


def sheet(context: Context) -> Response:
    """Show the sheet of variant ``n``, or of the dressing as written."""
    return document_response(sheet_html(*_made(context)))


def pdf(context: Context) -> Response:
    """Send the same sheet as PDF."""
    _, own = context.question_and(*_OWN)
    paper = choice("paper", own.get("paper", ""), PAPERS) or "a4"
    told, plates = _made(context)
    try:
        made = sheet_pdf(told, plates, paper)
    except PdfUnavailableError as problem:
        raise RequestError(
            HTTPStatus.NOT_IMPLEMENTED, f"{problem}.", "The page to print needs nothing more."
        ) from None
    name = f'inline; filename="{key_of(told.name).encode("ascii", "ignore").decode()}.pdf"'
    return Response(made, media_type="application/pdf", headers={"content-disposition": name})


def _made(context: Context) -> tuple[BenchSheet, list[Plate]]:
    question, own = context.question_and(*_OWN)
    number = whole("n", own.get("n", ""), 1, MOST)
    students = whole("students", own.get("students", ""), 0, _MOST_STUDENTS) or 0
    each = whole("each", own.get("each", ""), 1, _MOST_EACH) or 1
    answer = context.answers.answer(question)
    variant = None if number is None else answer.variant(number)
    design, trade = answer.design, answer.trade
    told = bench_sheet(
        design, trade.layout, trade.steps, trade.law, variant,
        place=trade.places.get(question.on), students=students, flies_each=each,
    )  # fmt: skip
    return told, plates_of(design, trade.layout, variant)


ROUTES = [get("/sheet", sheet, is_work=True), get("/sheet.pdf", pdf, is_work=True)]
