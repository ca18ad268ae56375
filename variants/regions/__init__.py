"""Where a fly is fished: what law says about its materials there, and care at the bench."""

from variants.regions.cautions import Caution, Cautions, cautions
from variants.regions.law import (
    STATUSES,
    Hazard,
    Jurisdiction,
    LawOfTheLand,
    Statute,
    load_law,
)

__all__ = [
    "STATUSES",
    "Caution",
    "Cautions",
    "Hazard",
    "Jurisdiction",
    "LawOfTheLand",
    "Statute",
    "cautions",
    "load_law",
]
