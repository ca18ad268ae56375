"""What to buy for a budget: the best set of any size that costs no more, by branch and bound.

Priced offers and a way to tell what a set of them does for the book come in; the best set comes
out.

Notes
-----
More purchases never make a fly depart more. So no set that holds some offers, and of the rest only
what may still be taken, does better than all of these together, however much that would cost. Where
it does no better than a set already found, the branch is dropped; where it is within the budget, it
is the best of the branch. What does nothing in the best set is taken out again, dearest first.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from variants.survey.gains import Gain
from variants.survey.offers import Offer

#: So many sets are worked out at most; beyond, the best one found is not proven.
MOST_SETS = 400
#: A hair of slack: three times 0.10 is within 0.30, whatever the last digit says.
_SLACK = 1e-9

#: What a set of purchases does; None for nothing.
Evaluate = Callable[[tuple[Offer, ...]], Gain | None]
_Value = tuple[int, int, int]


class Basket:
    """The search for the best set within a budget.

    Parameters
    ----------
    offers : sequence of Offer
        With prices, in the order in which they are to be tried.
    budget : float
    evaluate : callable

    Attributes
    ----------
    best : Gain or None
    is_proven : bool
    """

    def __init__(self, offers: Sequence[Offer], budget: float, evaluate: Evaluate) -> None:
        self._evaluate, self._budget = evaluate, budget + _SLACK
        self._left = MOST_SETS
        self.best: Gain | None = None
        self.is_proven = True
        self._branch((), tuple(offers))
        self._drop_useless()

    def _branch(self, taken: tuple[Offer, ...], others: tuple[Offer, ...]) -> None:
        """Look at every set of what is taken and any of the others."""
        left = self._budget - _cost(taken)
        others = tuple(one for one in others if _cost((one,)) <= left)
        if not self._left:
            self.is_proven = False
            return
        self._left -= 1
        most = self._evaluate((*taken, *others))
        if _value(most) <= _value(self.best):
            return
        if _cost(others) <= left:
            self.best = most
            return
        self._branch((*taken, others[0]), others[1:])
        self._branch(taken, others[1:])

    def _drop_useless(self) -> None:
        if self.best is None:
            return
        for one in sorted(self.best.offers, key=lambda one: (-_cost((one,)), one.key)):
            rest = self._evaluate(tuple(other for other in self.best.offers if other != one))
            if rest is not None and _value(rest) == _value(self.best):
                self.best = rest


def _cost(offers: Sequence[Offer]) -> float:
    return sum(one.price or 0.0 for one in offers)


def _value(gain: Gain | None) -> _Value:
    if gain is None:
        return 0, 0, 0
    return len(gain.opened), len(gain.as_written), gain.saved
