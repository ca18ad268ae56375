"""The fly in millimetres on its hook: where parts lie, what they use, weigh and cost.

One set of numbers for the picture, the amounts and the bench sheet: the very lengths and counts
that the rules test, laid out on the hook.
"""

from variants.geometry.bench import Shortage, Tied, WriteOff, bench_order, find_write_off
from variants.geometry.cheapest import sort_by_price
from variants.geometry.cost import Cost, cost_of
from variants.geometry.fly import fly_geometry
from variants.geometry.gauge import Gauge, correct_lengths, read_gauge
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
from variants.geometry.uses import Use, dressed_mass_mg, uses_of
from variants.geometry.when import (
    ANY,
    BARBED,
    BARBLESS,
    Stuffs,
    When,
    closest,
    read_when,
    stuffs_of,
)
from variants.geometry.yields import Supply, flies_from, supplies

__all__ = [
    "ANY",
    "BARBED",
    "BARBLESS",
    "BendLook",
    "Cone",
    "Cost",
    "FeatherLook",
    "FlyGeometry",
    "Gauge",
    "HackleLook",
    "HookShape",
    "Layout",
    "Looks",
    "MarkingLook",
    "PartShape",
    "Shortage",
    "Stuffs",
    "Supply",
    "Texture",
    "Tied",
    "Use",
    "When",
    "WriteOff",
    "bench_order",
    "closest",
    "correct_lengths",
    "cost_of",
    "dressed_mass_mg",
    "find_write_off",
    "flies_from",
    "fly_geometry",
    "load_layout",
    "measured",
    "read_gauge",
    "read_when",
    "sort_by_price",
    "stuffs_of",
    "supplies",
    "targets",
    "uses_of",
]
