"""A place to fish: its law, its water, what its naturals ask of a fly, care at the bench."""

from variants.regions.adapting import Adaptation, RegionalVariant, adapt, target_for
from variants.regions.cautions import Caution, Cautions, find_cautions
from variants.regions.family import Ancestor, Family, family_of
from variants.regions.law import Hazard, LawOfTheLand, load_law
from variants.regions.law_words import says_words, written_words
from variants.regions.place import Place, find_cautions_at, places_of, read_places
from variants.regions.target import RegionalTarget, hook_size_for
from variants.regions.weights import RegionalWeights, load_weights

__all__ = [
    "Adaptation",
    "Ancestor",
    "Caution",
    "Cautions",
    "Family",
    "Hazard",
    "LawOfTheLand",
    "Place",
    "RegionalTarget",
    "RegionalVariant",
    "RegionalWeights",
    "adapt",
    "family_of",
    "find_cautions",
    "find_cautions_at",
    "hook_size_for",
    "load_law",
    "load_weights",
    "places_of",
    "read_places",
    "says_words",
    "target_for",
    "written_words",
]
