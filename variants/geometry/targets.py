"""Target lengths for the gauge: what the rules of a style ask on each hook size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import inf

from variants.model import Attributes, Hook, Material
from variants.rulebook import LENGTH, Measure, Rule, Rulebook, hook_attributes

MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Span:
    """What a part should measure: the right value, and the least and most that will do.

    There is no most where stuff is cut to length.
    """

    right: float
    low: float
    high: float


def find_span(
    rules: Iterable[Rule], part: str, hook: Attributes, attribute: str = LENGTH
) -> Span | None:
    """Return what rules ask a part to measure on a hook; None when they don't say.

    Parameters
    ----------
    rules : iterable of Rule
        Those in force for a dressing.
    part : str
    hook : mapping
        The hook's attributes.
    attribute : str
        ``length`` and ``thickness_mm`` in mm, ``denier`` in denier.

    Notes
    -----
    Of several rules the first one counts; rules that speak only of certain stuff are left out.
    """
    for rule in rules:
        if not isinstance(rule, Measure) or rule.part != part or rule.attribute != attribute:
            continue
        unit = rule.unit_mm(hook)
        if unit is not None and not rule.when:
            most = inf if rule.trimmed and attribute == LENGTH else unit * rule.high
            return Span(unit * rule.nominal, unit * rule.low, most)
    return None


@dataclass(frozen=True, slots=True)
class Target:
    """What a part should measure on one hook.

    Attributes
    ----------
    part, rule, says, source : str
    size : int
    right_mm, low_mm, high_mm : float
    gauge_size : int or None
        The hook size that a hackle gauge shows for it, where it is a barb.
    """

    part: str
    rule: str
    says: str
    source: str
    size: int
    right_mm: float
    low_mm: float
    high_mm: float
    gauge_size: int | None


def will_do(low: float, high: float, digits: int = 1) -> str:
    """Return in words what will do for a part.

    >>> will_do(4.5, 7.1), will_do(5.1, inf)
    ('4.5 to 7.1 will do', '5.1 or more will do')
    """
    most = "or more" if high == inf else f"to {high:.{digits}f}"
    return f"{low:.{digits}f} {most} will do"


def targets(rulebook: Rulebook, style: str, sizes: Iterable[int], hook: Material) -> list[Target]:
    """Return the target lengths of a style's parts, part by part and size by size.

    Parameters
    ----------
    rulebook : Rulebook
    style : str
    sizes : iterable of int
        Sizes that the hook scale lacks are left out.
    hook : Material
        The model of hook.

    Notes
    -----
    Of several rules for one length the first counts; those that speak only of certain stuff, or
    only beside another part, stand besides, each with what it says.
    """
    hooks = [one for size in sizes if (one := rulebook.hook(hook, size)) is not None]
    found: list[Target] = []
    seen: set[tuple[object, ...]] = set()
    for rule in rulebook.rules_for(style, None):
        if not isinstance(rule, Measure) or rule.attribute != LENGTH:
            continue
        limits = (rule.when, rule.beside, rule.without)
        if (rule.part, *limits) in seen or (rule.when and rule.is_limit):
            continue
        seen.add((rule.part, *limits))
        found += [_target(rulebook, rule, one) for one in hooks]
    return found


def _target(rulebook: Rulebook, rule: Measure, hook: Hook) -> Target:
    unit_mm = rule.unit_mm(hook_attributes(hook)) or 1.0
    right = rule.nominal * unit_mm
    return Target(
        rule.part,
        rule.id,
        rule.says,
        rule.source,
        hook.size,
        right,
        rule.low * unit_mm,
        rule.high * unit_mm,
        gauge_size(rulebook, right) if rulebook.trade.part_kind(rule.part).gauged else None,
    )


def gauge_size(rulebook: Rulebook, length_mm: float) -> int:
    """Return the hook size whose right barb length is nearest to a length."""
    return min(rulebook.gauge, key=lambda size: (abs(rulebook.gauge[size] - length_mm), size))


def inch_fraction(length_mm: float, parts: int = 64) -> str:
    """Return a length as a workshop fraction of an inch.

    >>> inch_fraction(9.525), inch_fraction(25.4), inch_fraction(6.3)
    ('3/8', '1', '1/4')
    """
    whole = Fraction(round(length_mm / MM_PER_INCH * parts), parts)
    inches, rest = divmod(whole, 1)
    told = [str(inches)] if inches else []
    told += [f"{rest.numerator}/{rest.denominator}"] if rest else []
    return " ".join(told) or "0"
