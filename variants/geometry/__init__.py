"""The fly in millimetres: where each part lies, how long and how thick it is.

One set of numbers for the picture, the amounts and the bench sheet: the very lengths and counts
that the rules test, laid out on the hook.
"""

from variants.geometry.fly import fly_geometry
from variants.geometry.gauge import Gauge, corrected, read_gauge
from variants.geometry.layout import Layout, load_layout
from variants.geometry.looks import (
    BendLook,
    FeatherLook,
    HackleLook,
    Looks,
    MarkingLook,
    Texture,
)
from variants.geometry.shapes import FlyGeometry, HookShape, PartShape
from variants.geometry.solids import Cone
from variants.geometry.when import Stuffs, When, closest, read_when, stuffs_of

__all__ = [
    "BendLook",
    "Cone",
    "FeatherLook",
    "FlyGeometry",
    "Gauge",
    "HackleLook",
    "HookShape",
    "Layout",
    "Looks",
    "MarkingLook",
    "PartShape",
    "Stuffs",
    "Texture",
    "When",
    "closest",
    "corrected",
    "fly_geometry",
    "load_layout",
    "read_gauge",
    "read_when",
    "stuffs_of",
]
