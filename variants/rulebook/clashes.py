"""Pairs of hard rules that no fly can keep together."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations

from variants.model import WATERS
from variants.reading import Fault
from variants.rulebook.kinds import Condition, Count, Measure, Order, Quality, Rule

#: Grades of stiffness for which counts are compared: the bounds of one may grow, the other's not.
_STIFFNESS = (4.0, 3.0, 2.0)


def find_clashes(rules: Sequence[Rule], own: Collection[str]) -> list[Fault]:
    """Return the pairs of hard rules that can't be kept together, one of them at least among own.

    Parameters
    ----------
    rules : sequence of Rule
        All that hold together.
    own : collection of str
        Ids of the rules that are looked at.

    Notes
    -----
    Ranges that do not meet, words that exclude each other and opposite orders are found. A pair of
    which one speaks of other stuff than the other is none.
    """
    hard = [rule for rule in rules if rule.is_hard]
    found = []
    for one, other in combinations(hard, 2):
        if one.id not in own and other.id not in own:
            continue
        if type(one) is not type(other) or not _meet(one, other):
            continue
        words = next(_clash(one, other), "")
        if words:
            first, second = (one, other) if one.id in own else (other, one)
            problem = f"{first.id} can't be kept together with {second.id}: {words}"
            remedy = "loosen one, or give yours the other's id to put it in its place"
            found.append(Fault(first.origin, problem, remedy))
    return found


def _meet(one: Rule, other: Rule) -> bool:
    """Tell whether two rules speak of some fly both."""
    styles = not one.styles or not other.styles or one.styles & other.styles
    waters = not one.waters or not other.waters or one.waters & other.waters
    schools = not one.school or not other.school or one.school == other.school
    apart = any(
        with_it.beside and with_it.beside == without_it.without
        for with_it, without_it in ((one, other), (other, one))
    )
    mine, theirs = (set(getattr(rule, "when", ())) for rule in (one, other))
    return bool(styles and waters and schools and not apart and (mine <= theirs or theirs <= mine))


def _clash(one: Rule, other: Rule) -> Iterator[str]:
    if isinstance(one, Count) and isinstance(other, Count):
        yield from _counts(one, other)
    elif isinstance(one, Measure) and isinstance(other, Measure):
        same = (one.part, one.attribute, one.of) == (other.part, other.attribute, other.of)
        if same and (one.high < other.low or other.high < one.low):
            yield f"{one.low:g} to {one.high:g} {one.of} against {other.low:g} to {other.high:g}"
    elif isinstance(one, Quality) and isinstance(other, Quality):
        if _exclude(one.must, other.must):
            yield f"nothing is both as {one.must.part} {one.must.attribute} is asked"
    elif (
        isinstance(one, Order)
        and isinstance(other, Order)
        and one.part in other.before
        and other.part in one.before
    ):
        yield f"each ties its part, {one.part} and {other.part}, before the other's"


def _counts(one: Count, other: Count) -> Iterator[str]:
    if (one.part, one.count) != (other.part, other.count):
        return
    for water in WATERS:
        for stiffness in _STIFFNESS:
            stuff = {"stiffness": stiffness}
            mine, theirs = one.range_for(stuff, water), other.range_for(stuff, water)
            if mine[1] < theirs[0] or theirs[1] < mine[0]:
                what = f"{one.part} {one.count.replace('_', ' ')}"
                yield (
                    f"on {water} water {what} {mine[0]} to {mine[1]} against"
                    f" {theirs[0]} to {theirs[1]}"
                )


def _exclude(one: Condition, other: Condition) -> bool:
    if (one.part, one.attribute) != (other.part, other.attribute):
        return False
    if one.flag is not None and other.flag is not None:
        return one.flag is not other.flag
    if one.among and other.among and not one.among & other.among:
        return True
    if (one.among and one.among <= other.not_among) or (
        other.among and other.among <= one.not_among
    ):
        return True
    return any(
        low.at_least is not None and high.at_most is not None and low.at_least > high.at_most
        for low, high in ((one, other), (other, one))
    )
