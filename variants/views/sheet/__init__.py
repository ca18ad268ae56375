"""The bench sheet: one fly told for the vice, and the kit of a class that ties it."""

from variants.views.sheet.as_json import sheet_json
from variants.views.sheet.coverage import uncovered
from variants.views.sheet.kit import KitLine, kit_of
from variants.views.sheet.sheet import BenchSheet, Line, Substitution, bench_sheet
from variants.views.sheet.steps import Step, steps_of
from variants.views.sheet.steps_table import StepsTable, load_steps

__all__ = [
    "BenchSheet",
    "KitLine",
    "Line",
    "Step",
    "StepsTable",
    "Substitution",
    "bench_sheet",
    "kit_of",
    "load_steps",
    "sheet_json",
    "steps_of",
    "uncovered",
]
