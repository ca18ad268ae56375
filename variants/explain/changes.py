"""What differs in a variant from its dressing, part by part, in words."""

from __future__ import annotations

from dataclasses import dataclass

from variants.design import DesignProblem, adapted_counts
from variants.explain.wording import part_name, source_items
from variants.model import Candidate, Variant, Way
from variants.text import printable


@dataclass(frozen=True, slots=True)
class PartChange:
    """One line of a variant: what differs in a part, and whether it counts as a change."""

    part: str
    words: str
    from_box: str


def is_alternative(design: DesignProblem, used: Candidate) -> bool:
    """Tell whether a part is filled in another way that the dressing's author allows."""
    part = design.request.base.part(used.part)
    if part is None or not part.alternatives or used.is_changed:
        return False
    return {one.material.id for one in used.ingredients} != {
        one.material.id for one in part.ingredients
    } or any(
        one.colour is not None and one.key not in {other.key for other in used.ingredients}
        for one in part.ingredients
    )


def find_changes(design: DesignProblem, variant: Variant) -> list[PartChange]:
    """Return what differs from the dressing, part by part, counts for the water included."""
    parts = design.rulebook.trade.parts
    told = []
    for part, used in variant.chosen.items():
        asked = design.base[part]
        words = ""
        if _is_only_another_size(used, asked):
            words = f"size {used.attributes['size']}, which the dressing names"
        elif used.identity != asked.identity:
            words = f"{asked.words} → {used.words}"
            if used.way in (Way.COMBINED, Way.MIXED) and "blend" not in used.attributes:
                words += f" ({used.way.value})"
        elif is_alternative(design, used):
            words = f"{asked.words} → {used.words} (as its author allows)"
        counts = adapted_counts(used)
        if words or counts:
            told.append(
                PartChange(
                    part_name(parts, part),
                    printable("; ".join(filter(None, [words, counts]))),
                    source_items(used),
                )
            )
    return told


def is_same_hook(used: Candidate, other: Candidate) -> bool:
    """Tell whether two candidates are one kind of hook, in whatever size."""
    return "size" in used.attributes and used.ingredients == other.ingredients


def _is_only_another_size(used: Candidate, asked: Candidate) -> bool:
    """Tell whether a hook is the one asked for, in another of the sizes that the dressing names."""
    return (
        used.identity != asked.identity
        and not used.is_changed
        and is_same_hook(used, asked)
        and used.attributes["size"] != asked.attributes.get("size")
    )
