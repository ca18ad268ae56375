"""Where a fly is fished: what law says about its materials there, and care at the bench."""

from variants.regions.adapting import Adaptation, RegionalVariant, adapt, target_for
from variants.regions.cautions import Caution, Cautions, cautions
from variants.regions.family import Ancestor, Family, family_of
from variants.regions.law import (
    Hazard,
    Jurisdiction,
    LawOfTheLand,
    Statute,
    load_law,
)
from variants.regions.place import Place, places_of, read_places
from variants.regions.target import Target, hook_size_for
from variants.regions.weights import RegionalWeights, load_weights

__all__ = [
    "Adaptation",
    "Ancestor",
    "Caution",
    "Cautions",
    "Family",
    "Hazard",
    "Jurisdiction",
    "LawOfTheLand",
    "Place",
    "RegionalVariant",
    "RegionalWeights",
    "Statute",
    "Target",
    "adapt",
    "cautions",
    "family_of",
    "hook_size_for",
    "load_law",
    "load_weights",
    "places_of",
    "read_places",
    "target_for",
]
