"""The JSON Schema of region files, made from what the reader itself knows.

Editors complete and check TOML with it; ``schemas/region.schema.json`` is this, written out. What
only the tables can tell (is that a colour, a jurisdiction, a kind of rule) is left to the reader.
"""

from __future__ import annotations

from typing import Any

from variants.model import CLARITIES, SURFACES, WATERS
from variants.reading.regions import LONGEST_MM, MONTHS, SHORTEST_MM, STAGES
from variants.reading.sizes import LARGEST_HOOK, SMALLEST_HOOK

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def region_schema() -> dict[str, Any]:
    """Return the schema of a region file (JSON Schema 2020-12).

    Examples
    --------
    >>> sorted(region_schema()["required"])
    ['name', 'natural', 'water']
    """
    return {
        "$schema": DIALECT,
        "title": "Region",
        "description": "A place to fish: its waters with their rules, and the naturals on them.",
        **_table(
            {
                "name": _text("What the place is called."),
                "jurisdiction": {
                    "type": "string",
                    "description": "An id of rules/law/jurisdictions.tsv: whose law holds there.",
                },
                "water": _list(_water(), "The waters, at least one."),
                "natural": _list(_natural(), "What trout take there, at least one."),
                "palette": {
                    "type": "object",
                    "description": "By part, the colours that flies are dressed in there.",
                    "additionalProperties": {
                        "anyOf": [
                            {"type": "string", "pattern": r"[^\s;]"},
                            {
                                "type": "array",
                                "items": {"type": "string"},
                                "contains": {"type": "string", "pattern": r"\S"},
                            },
                        ]
                    },
                },
                "rule": {
                    "type": "array",
                    "description": "Rules of the house, as in rules/trade.",
                    "items": {
                        "type": "object",
                        "required": ["id", "says", "source", "kind"],
                        "properties": {
                            name: _text("") for name in ("id", "says", "source", "kind")
                        },
                    },
                },
            },
            ["name", "water", "natural"],
        ),
    }


def _water() -> dict[str, Any]:
    return _table(
        {
            "name": _text("What the water is called."),
            "speed": {"enum": list(WATERS)},
            "clarity": {"enum": list(CLARITIES)},
            "surface": {"enum": list(SURFACES)},
            "depth": {"type": "string", "description": "With its unit, such as 0.8 m."},
            "barbless": {"type": "boolean", "default": False},
            "pressed_barb": {
                "type": "boolean",
                "default": False,
                "description": "Where barbless is asked: whether a barb pressed flat counts.",
            },
            "no_lead": {"type": "boolean", "default": False},
            "fly_only": {"type": "boolean", "default": False},
            "largest_hook": _whole(LARGEST_HOOK, SMALLEST_HOOK, "The largest hook allowed."),
            "most_hooks": _whole(1, 20, "How many hooks may be on one line."),
            "most_points": _whole(1, 4, "How many points a hook may have; 1 bars doubles."),
            "largest_gape": {"type": "string", "description": "With its unit, such as 13 mm."},
            "unweighted": {"type": "boolean", "default": False},
            "no_scent": {"type": "boolean", "default": False},
        },
        ["name", "speed", "clarity", "surface"],
    )


def _natural() -> dict[str, Any]:
    month = "(?:" + "|".join(_any_case(name) for name in MONTHS) + ")"
    length = {"type": "number", "minimum": SHORTEST_MM, "maximum": LONGEST_MM}
    return _table(
        {
            "name": _text("What the natural is called."),
            "order": _text("Such as mayflies."),
            "stage": {"enum": list(STAGES)},
            "months": {
                "type": "string",
                "pattern": rf"^\s*{month}\s*(?:-\s*{month}\s*)?$",
                "description": "A month or a range, such as April-June.",
            },
            "shortest_mm": {**length, "description": "Shortest body, without tails."},
            "longest_mm": {**length, "description": "Longest body, without tails."},
            **{name: {"type": "string"} for name in ("body", "wing", "legs")},
        },
        ["name", "order", "stage", "months", "shortest_mm", "longest_mm"],
    )


def _any_case(word: str) -> str:
    return "".join(f"[{letter.upper()}{letter.lower()}]" for letter in word)


def _table(properties: dict[str, Any], required: list[str]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }


def _list(items: dict[str, Any], says: str) -> dict[str, Any]:
    return {"type": "array", "minItems": 1, "items": items, "description": says}


def _text(says: str) -> dict[str, Any]:
    told = {"type": "string", "pattern": r"\S", "maxLength": 4000}
    return {**told, "description": says} if says else told


def _whole(low: int, high: int, says: str) -> dict[str, Any]:
    return {"type": "integer", "minimum": low, "maximum": high, "description": says}
