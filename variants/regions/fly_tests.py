"""What must hold of a fly for a row of law to speak of it, from a cell to conditions.

A cell holds tests parted by `` and ``: a part of the fly (or ``any``), an attribute, and ``yes``,
``no``, ``over N``, ``under N``, ``at most N``, ``at least N`` or ``is WORD or WORD``. What the fly
alone can't show (how many flies a line bears, scent put on) is said of the ``line`` instead.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from variants.model import Trade
from variants.rulebook import ATTRIBUTES, Condition

#: What may be said of the line and of what is done with a fly on it.
OF_LINE = ("flies", "hooks", "weight", "scent", "bait", "spinner", "cover", "making", "heavy")
LINE, ANY = "line", "any"
HELP = "write such as: hook barbed yes, hook points over 1, any weighs is bead or wound"

_TEST = re.compile(
    r"(?P<part>[a-z-]+) (?P<attribute>[a-z0-9_]+) "
    r"(?:(?P<flag>yes|no)|(?P<bound>over|under|at most|at least) (?P<number>\d+(?:\.\d+)?)"
    r"|is (?P<words>[a-z0-9-]+(?: or [a-z0-9-]+)*))"
)
_AND = " and "


@dataclass(frozen=True, slots=True)
class FlyTest:
    """The tests of one row: conditions on parts, and whether it speaks of the line.

    Attributes
    ----------
    conditions : tuple of Condition
        A condition on no part holds of any.
    is_of_line : bool
        Then the row is told and nothing can be judged.
    """

    conditions: tuple[Condition, ...] = ()
    is_of_line: bool = False


def read_fly_test(text: str, trade: Trade) -> FlyTest:
    """Return the tests of a cell.

    Raises
    ------
    ValueError
        With what is wrong, in words.

    Examples
    --------
    >>> from variants.rulebook import load_rulebook
    >>> trade = load_rulebook().trade
    >>> (one,) = read_fly_test("hook points over 1", trade).conditions
    >>> (one.part, one.attribute, one.at_least > 1)
    ('hook', 'points', True)
    >>> read_fly_test("line flies over 3", trade).is_of_line
    True
    """
    conditions = []
    for words in text.split(_AND):
        test = _TEST.fullmatch(words.strip())
        if test is None:
            raise ValueError(f"'{words.strip()}' is no test of a fly")
        part, attribute = test["part"], test["attribute"]
        if part == LINE:
            if attribute not in OF_LINE:
                raise ValueError(f"'{attribute}' is not said of a line")
            return FlyTest(is_of_line=True)
        if part != ANY and part not in trade.parts:
            raise ValueError(f"'{part}' is no part of a fly")
        if attribute not in ATTRIBUTES:
            raise ValueError(f"'{attribute}' is no attribute")
        conditions.append(_condition("" if part == ANY else part, attribute, test))
    return FlyTest(tuple(conditions))


def _condition(part: str, attribute: str, test: re.Match[str]) -> Condition:
    if test["flag"]:
        return Condition(part, attribute, flag=test["flag"] == "yes")
    if test["words"]:
        return Condition(part, attribute, among=frozenset(test["words"].split(" or ")))
    number = float(test["number"])
    low, high = {
        "over": (math.nextafter(number, math.inf), None),
        "at least": (number, None),
        "under": (None, math.nextafter(number, -math.inf)),
        "at most": (None, number),
    }[test["bound"]]
    return Condition(part, attribute, at_least=low, at_most=high)
