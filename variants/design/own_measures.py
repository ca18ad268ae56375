"""What a dressing states itself, against the trade's rules: counts, lengths, thicknesses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import inf

from variants.design.attributes_of import stated_thickness, written_attributes
from variants.design.dress import counts_of, stated_counts
from variants.model import Dressing, Part
from variants.rulebook import LENGTH, Count, Measure, Rule, Rulebook
from variants.units import HOOK_UNITS


def adapted_rules(
    rules: Sequence[Rule], base: Dressing, rulebook: Rulebook, counts: Mapping[str, Count]
) -> tuple[Rule, ...]:
    """Return the trade's rules with what the dressing states in place of what they ask.

    Parameters
    ----------
    rules : sequence of Rule
    base : Dressing
    rulebook : Rulebook
    counts : mapping of rule id to Count
        Those that stand with a count of the dressing's own.
    """
    return (
        *(counts.get(one.id) or _adapted(one, base.part(_own_part(one))) for one in rules),
        *_size_rules(rules, base, rulebook),
    )


def own_counts_against(rules: Iterable[Rule], base: Dressing) -> dict[str, Count]:
    """Return by id the rules that the dressing's own count breaks, with that count instead.

    A hard rule, such as one of the house where the fly is fished, is not moved by what is stated.
    """
    found: dict[str, Count] = {}
    for part in base.parts:
        own = counts_of(part, rules)
        stated, written = stated_counts(part, own), written_attributes(part)
        for rule in own:
            if rule.is_hard:
                continue
            low, high = rule.range_for(written, rule.water)
            if (count := stated.get(rule.count)) is not None and not low <= count <= high:
                found[rule.id] = rule.with_count(count)
    return found


def _size_rules(rules: Sequence[Rule], base: Dressing, rulebook: Rulebook) -> Iterator[Measure]:
    """Yield what weighs a thickness that the dressing states, where no rule of the trade does."""
    style = rulebook.trade.styles[base.style]
    weighed = {
        (rule.part, rule.attribute)
        for rule in rules
        if isinstance(rule, Measure) and not rule.is_limit
    }
    for part in base.parts:
        kind = style.part(part.id)
        for name, size in stated_thickness(part).items():
            if kind is None or (part.id, name) in weighed or not isinstance(size, float):
                continue
            cost = rulebook.conventions.thickness_tenth * kind.weight
            yield Measure(
                id=f"{part.id}-as-thick-as-stated",
                says="The dressing states how thick this is; each tenth away from it is a change.",
                source="the dressing; conventions: thickness_tenth",
                weight=1.0,
                part=part.id,
                attribute=name,
                of="mm",
                nominal=size,
                low=0.0,
                high=inf,
                short_cost=cost,
                long_cost=cost,
            )


def _own_part(rule: Rule) -> str:
    return rule.part if isinstance(rule, Measure) else ""


def _adapted(rule: Rule, part: Part | None) -> Rule:
    """Return the rule with the dressing's own length or thickness in place of the trade's."""
    if not isinstance(rule, Measure) or part is None:
        return rule
    if rule.is_limit and (rule.is_hard or rule.attribute != LENGTH):
        return rule
    if rule.attribute == LENGTH and part.length is not None:
        for unit in HOOK_UNITS:
            if part.length.check(f"[{unit}]"):
                return rule.with_nominal(unit, float(part.length.magnitude))
        return rule.with_nominal("mm", float(part.length.to("mm").magnitude))
    size = stated_thickness(part).get(rule.attribute)
    return rule.with_nominal("mm", size) if isinstance(size, float) else rule


def limits_own(rule: Measure, base: Dressing) -> bool:
    """Tell whether a hard rule bounds a thickness that the dressing states."""
    part = base.part(rule.part)
    return rule.is_hard and part is not None and rule.attribute in stated_thickness(part)
