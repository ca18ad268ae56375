"""What travels to a worker: objects packed into bytes, pint quantities included.

A pint quantity packed the common way comes to life in whatever registry the receiving program
happens to use, where our units are not known. Here each travels as a number and the name of its
unit, and is made again by our own registry.
"""

from __future__ import annotations

import io
import pickle
from functools import cache
from typing import TYPE_CHECKING, Any

from variants.design import gc_paused

if TYPE_CHECKING:
    from pint import Quantity, Unit


def pack(content: object) -> bytes:
    """Return objects as bytes that `unpack` makes whole again, in any process."""
    parcel = io.BytesIO()
    _Packer(parcel, protocol=pickle.HIGHEST_PROTOCOL).dump(content)
    return parcel.getvalue()


@gc_paused()
def unpack(parcel: bytes) -> Any:
    """Return what `pack` was given. Bytes of unknown origin must not come here."""
    return pickle.loads(parcel)


class _Packer(pickle.Pickler):
    def reducer_override(self, obj: object) -> Any:
        from variants.units import registry

        if isinstance(obj, registry().Quantity):
            return _quantity, (obj.magnitude, str(obj.units))
        return NotImplemented


def _quantity(magnitude: float, unit: str) -> Quantity[float]:
    made: Quantity[float] = magnitude * _unit(unit)
    return made


@cache
def _unit(name: str) -> Unit:
    from variants.units import registry

    return registry().Unit(name)
