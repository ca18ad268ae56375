"""Dressings, variants and derivations that show themselves in a notebook.

They are what the other folders know, with a drawing to show; they are pickled and compared as such.
"""

from variants.pictures.notebook.fly import (
    ShownDressing,
    ShownVariant,
    shown_dressing,
    shown_variant,
)

__all__ = [
    "ShownDressing",
    "ShownVariant",
    "graph",
    "shown_dressing",
    "shown_variant",
]
