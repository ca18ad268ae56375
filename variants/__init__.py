"""Flykin: the closest valid variants of a fly's dressing, from your own box, in proven order.

A base dressing and the trade's rules form a constraint problem; the solver proposes the closest
valid variants and a graph shows how each derives from the original.

Examples
--------
>>> import variants
>>> rules = variants.load_rules()
>>> dressing = variants.load_dressing("examples/dressings/ferrymans-dun.toml", rules)
>>> box = variants.load_box("examples/box.csv", rules)
>>> design, found = variants.propose(dressing, box, rules, best=3)
>>> [variant.rank for variant in found]
[1, 2, 3]
>>> found[0].departure <= found[1].departure <= found[2].departure
True
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from variants.api import (
        derive,
        explain,
        load_box,
        load_dressing,
        load_rules,
        propose,
    )

__version__ = "0.1.0"
__all__ = [
    "__version__",
    "derive",
    "explain",
    "load_box",
    "load_dressing",
    "load_rules",
    "propose",
]


def __getattr__(name: str) -> object:
    """Load the public functions when first asked for: `import variants` itself stays light."""
    if name in __all__:
        import variants.api

        return getattr(variants.api, name)
    raise AttributeError(f"module 'variants' has no attribute '{name}'")
