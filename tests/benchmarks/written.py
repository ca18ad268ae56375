"""Drawn boxes and dressings as files, for what is measured from the command line or the page."""

from __future__ import annotations

import csv
from pathlib import Path

from tests.benchmarks.generator import random_box, random_dressing
from variants.model import Item
from variants.reading.words import dressing_text
from variants.rulebook import Rulebook


def write_box_and_book(
    folder: Path, rulebook: Rulebook, size: int, dressings: int
) -> tuple[Path, Path]:
    """Write a box of so many items and a folder of so many dressings; return where they are."""
    box, book = folder / "box.csv", folder / "dressings"
    book.mkdir()
    columns = ("item", "material", "colour", "sizes", "length", "thickness", "side", "amount")
    with box.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(columns)
        rows.writerows(_row(item) for item in random_box(rulebook, size, 1).items)
    for seed in range(dressings):
        text = dressing_text(random_dressing(rulebook, seed), rulebook.trade)
        (book / f"fly-{seed}.toml").write_text(text, encoding="utf-8")
    return box, book


def _row(item: Item) -> list[str]:
    length = "{:.2f}-{:.2f} mm".format(*item.length_mm) if item.length_mm else ""
    thickness = f"{item.denier:g} denier" if item.denier else ""
    return [
        item.id,
        item.material.id,
        item.colour.id if item.colour else "",
        ", ".join(map(str, item.sizes or ())),
        length,
        thickness,
        item.side,
        f"{item.amount:~}" if item.amount is not None else "",
    ]
