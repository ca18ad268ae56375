"""Rows of law against what their texts say, act by act.

The truths stand in law_truth.tsv with where each was read; how a text came to us stands there and
with its key in sources.toml. Most of it is second-hand, and the tables say so too.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from tests.real import rulebook
from variants.model import STATUSES, Statute

TRUTH = Path(__file__).with_name("law_truth.tsv")


@cache
def truths() -> tuple[dict[str, str], ...]:
    lines = [line for line in TRUTH.read_text().splitlines() if not line.startswith("#")]
    return tuple(csv.DictReader(lines, delimiter="\t"))


def speaks(row: Statute, truth: dict[str, str]) -> bool:
    law, subject = rulebook().trade.law, truth["taxon"]
    is_subject = row.when == subject
    if subject in law.taxa:
        groups = law.taxa[subject].groups
        is_subject = not row.when and not groups.union([subject]).isdisjoint(row.taxa)
    origins = (
        (truth["origin"],) if truth["origin"] in ("old", "found") else (truth["origin"], "any")
    )
    is_act = row.place == truth["place"] and truth["act"] in row.acts
    return is_subject and is_act and row.origin in origins


@pytest.mark.parametrize(
    "truth",
    [
        pytest.param(
            one,
            marks=pytest.mark.source(one["key"], one["page"]),
            id=f"{one['row']} {one['taxon']} {one['act']}",
        )
        for one in truths()
    ],
)
def test_a_row_says_what_its_text_says(truth: dict[str, str]) -> None:
    rows = [row for row in rulebook().trade.law.statutes.values() if speaks(row, truth)]
    strictest = min((row.status for row in rows), key=STATUSES.index, default="not looked up")
    assert strictest == truth["status"]
