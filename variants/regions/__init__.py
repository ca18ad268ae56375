"""Where a fly is fished: what law says about its materials there, and care at the bench."""

from variants.regions.cautions import Caution, Cautions, cautions
from variants.regions.law import (
    Hazard,
    Jurisdiction,
    LawOfTheLand,
    Statute,
    load_law,
)
from variants.regions.place import Place, places_of, read_places

__all__ = [
    "Caution",
    "Cautions",
    "Hazard",
    "Jurisdiction",
    "LawOfTheLand",
    "Place",
    "Statute",
    "cautions",
    "load_law",
    "places_of",
    "read_places",
]
