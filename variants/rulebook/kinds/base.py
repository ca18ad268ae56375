"""What every kind of rule has in common: words, source, where it applies, and a judgement.

A rule is data read from a file. It looks at a fly only through named attributes of its parts
(`reads`), and `judge` is the single place that decides: the search, the explanations and the rule's
own cases all call it.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from functools import cached_property
from typing import Any, ClassVar, NamedTuple, Self

from variants.model import NOWHERE, Fly, Origin

#: Departure is counted in thousandths inside, so that ties and proofs are exact.
THOUSANDTHS = 1000
#: Fields that tell of the rule itself and name no part of a fly.
_OF_THE_RULE = ("id", "says", "source", "styles", "waters", "weight", "school", "keeps", "breaks",
                "origin", "attribute", "count", "of", "difference", "status")  # fmt: skip
#: How attributes that are measured end, and the units they are measured in.
_UNITS = {"_mm": "mm", "_g_cm3": "g/cm3"}


# A search hears some thousand findings; these two are tuples because those are made thrice as fast.
class Number(NamedTuple):
    """One number or word that a rule tested, with the bounds it was tested against."""

    what: str
    value: float | str
    low: float | None = None
    high: float | None = None
    unit: str = ""
    target: float | None = None


class Finding(NamedTuple):
    """What a rule says of a fly.

    Attributes
    ----------
    applies : bool
        Whether the rule had anything to say: its parts are there and their measures known.
    kept : bool
        False only for a hard rule that is broken.
    cost : int
        Thousandths of departure; 0 unless a soft rule is broken or a measure is off its nominal.
    numbers : tuple of Number
        What was tested.
    """

    applies: bool
    kept: bool = True
    cost: int = 0
    numbers: tuple[Number, ...] = ()


SILENT = Finding(applies=False)


@dataclass(frozen=True, kw_only=True)
class Rule(ABC):
    """One statement of the trade, with its source.

    Attributes
    ----------
    id, says, source : str
    styles : frozenset of str
        Style ids it applies to; empty for every style.
    waters : frozenset of str
        Waters (slow, medium, fast) it applies to; empty for every water.
    weight : float or None
        None makes the rule hard: a fly that breaks it is no variant. Otherwise the departure that
        breaking it costs.
    school : str
        The school of tying whose view it is; it speaks only where the conventions hold to that
        school. Empty: the trade at large.
    beside, without : str
        A part that the dressing has to have, and one that it must lack, for the rule to speak of
        it: turns stand behind a wing, a hackle without a post is a collar. Empty: whatever it has.
    keeps, breaks : tuple of Fly
        Small flies that keep and break the rule, stated beside it; the tests judge them all.
    """

    kind: ClassVar[str]
    #: Whether a dressing that breaks it sets it aside; measures and counts give way by themselves.
    may_be_waived: ClassVar[bool] = True
    #: Whether what it tests only grows as parts are added, as a diameter does: what a fly that
    #: lacks parts breaks or costs, it breaks and costs at least with all of them.
    only_grows: ClassVar[bool] = False

    id: str
    says: str
    source: str
    styles: frozenset[str] = frozenset()
    waters: frozenset[str] = frozenset()
    weight: float | None = None
    school: str = ""
    beside: str = ""
    without: str = ""
    keeps: tuple[Fly, ...] = field(default=(), compare=False, repr=False)
    breaks: tuple[Fly, ...] = field(default=(), compare=False, repr=False)
    origin: Origin = field(default=NOWHERE, compare=False, repr=False)

    @property
    def is_hard(self) -> bool:
        """Whether breaking the rule rules the fly out."""
        return self.weight is None

    @property
    def may_cost(self) -> bool:
        """Whether a fly that the rule allows may depart by it."""
        return not self.is_hard

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """Ids of the parts the rule looks at, in a fixed order."""
        return tuple(self.reads)

    @cached_property
    def reads_in_order(self) -> Mapping[str, tuple[str, ...]]:
        """For each part, the attributes the rule looks at, by name."""
        return {part: tuple(sorted(names)) for part, names in self.reads.items()}

    @property
    def weight_words(self) -> str:
        """What breaking it costs, in words."""
        if self.is_hard:
            return "hard: a fly that breaks it is no variant"
        return f"soft: breaking it adds up to {self.weight:g} to the departure"

    @abstractmethod
    def words(self) -> list[str]:
        """Return what the rule tests, a sentence each, from the fields that it judges by."""

    @property
    @abstractmethod
    def reads(self) -> Mapping[str, frozenset[str]]:
        """For each part, the attributes the rule looks at."""

    @abstractmethod
    def judge(self, fly: Fly) -> Finding:
        """Judge a fly; parts that it lacks make the rule silent."""

    def applies_to(self, style: str, water: str | None) -> bool:
        """Whether the rule speaks about flies of this style on this water."""
        return (not self.styles or style in self.styles) and (
            not self.waters or water in self.waters
        )

    def about(self, part: str, instead_of: str) -> Self:
        """Return the rule as it speaks of a part that is like one it names.

        Parameters
        ----------
        part : str
            Of whom it is to speak.
        instead_of : str
            The part that it names.
        """
        told = {one.name: getattr(self, one.name) for one in fields(self) if one.init}
        changed = {
            name: value
            for name, own in told.items()
            if name not in _OF_THE_RULE and (value := _rename_part(own, instead_of, part)) != own
        }
        return replace(self, id=f"{self.id}:{part}", **changed)

    def violation(self, numbers: tuple[Number, ...], share: float = 1.0) -> Finding:
        """Return the finding that the rule is broken: ruled out, or a share of its weight."""
        if self.weight is None:
            return Finding(applies=True, kept=False, numbers=numbers)
        return Finding(True, True, round(self.weight * share * THOUSANDTHS), numbers)


def _rename_part(value: object, old: str, new: str) -> Any:
    """Return a field of a rule with one part's id in another's place."""
    if isinstance(value, str):
        return new if value == old else value
    if isinstance(value, tuple):
        return tuple(_rename_part(one, old, new) for one in value)
    if getattr(value, "part", None) == old and is_dataclass(value) and not isinstance(value, type):
        return replace(value, part=new)
    return value


def attribute_words(attribute: str) -> tuple[str, str]:
    """Return an attribute in words, and its unit.

    >>> attribute_words("thickness_mm"), attribute_words("web")
    (('thickness', 'mm'), ('web', ''))
    """
    for ending, unit in _UNITS.items():
        if attribute.endswith(ending):
            return attribute.removesuffix(ending).replace("_", " "), unit
    return attribute.replace("_", " "), ""


def is_there(fly: Fly, part: str) -> bool:
    """Tell whether the fly has the part; one that is left out has no attributes."""
    return bool(fly.get(part))
