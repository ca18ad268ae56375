"""Measures what `instead` answers against what practitioners said: run it to see the figures.

``python -m tests measure substitutions`` prints, for every case, whether an accepted
answer stands among the first three and whether a refused one does, and the two shares.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from variants.explain.instead import find_stand_ins
from variants.explain.stand_ins import StandInQuery, StandIns
from variants.model import plain
from variants.reading import Faults, read_table, read_trade
from variants.rulebook.colours import wind_together
from variants.rulebook.likeness import Likeness, load_likeness

HERE = Path(__file__).parent
RULES = Path(__file__).parents[2] / "rules"
COLUMNS = (
    "case", "places", "wanted", "colour", "without", "answer", "accepted", "rejected", "note",
    "disputed",
)  # fmt: skip
FIRST = 3
#: As many other names of one answer as the screen shows.
MOST_LIKEWISE = 2


@dataclass(frozen=True)
class Outcome:
    """What came of one way of asking one case."""

    case: str
    asked: str
    first: tuple[str, ...]
    accepted: tuple[str, ...]
    rejected: tuple[str, ...]
    note: str
    disputed: str

    @property
    def is_answered(self) -> bool | None:
        """Whether an accepted answer stands among the first; None when none was named."""
        return _any(self.accepted, self.first) if self.accepted else None

    @property
    def is_broken(self) -> bool | None:
        """Whether a refused answer stands among the first; None when none was named."""
        return _any(self.rejected, self.first) if self.rejected else None


@dataclass(frozen=True)
class Case:
    """All ways of asking one case."""

    case: str
    outcomes: tuple[Outcome, ...]

    @property
    def is_disputed(self) -> bool:
        """Whether sources disagree about the case, so that either side may be right."""
        return any(one.disputed for one in self.outcomes)

    @property
    def is_answered(self) -> bool | None:
        """Whether any way of asking finds an accepted answer."""
        told = [one.is_answered for one in self.outcomes if one.is_answered is not None]
        return any(told) if told else None

    @property
    def is_broken(self) -> bool | None:
        """Whether any way of asking finds a refused answer."""
        told = [one.is_broken for one in self.outcomes if one.is_broken is not None]
        return any(told) if told else None


def _any(patterns: tuple[str, ...], answers: tuple[str, ...]) -> bool:
    return any(_fits(pattern, answer) for pattern in patterns for answer in answers)


def _fits(pattern: str, answer: str) -> bool:
    if pattern.endswith(" + *"):
        return " + " in answer and pattern.removesuffix(" + *") in answer.split(" + ")
    return pattern == answer


def load() -> Likeness:
    """Load the tables and likeness of this checkout."""
    return load_likeness([RULES], read_trade([RULES]))


def measure(likeness: Likeness, *, single: bool = False) -> list[Case]:
    """Ask every case in every way and gather what came of it.

    With ``single`` each stuff is an answer of its own, and none is counted with its likes.
    """
    faults = Faults()
    rows = read_table(HERE / "substitution_cases.tsv", COLUMNS, COLUMNS, faults, tabs=True)
    faults.stop_if_any()
    cases: dict[str, list[Outcome]] = {}
    for row in rows:
        values = {name: row.values.get(name, "") for name in COLUMNS}
        cases.setdefault(values["case"], []).extend(_outcomes(likeness, values, single))
    return [Case(case, tuple(outcomes)) for case, outcomes in cases.items()]


def _outcomes(likeness: Likeness, row: dict[str, str], single: bool) -> Iterator[Outcome]:
    trade = likeness.trade
    wanted = _words(row["wanted"])
    colour = None
    if row["colour"]:
        colours = [trade.colour_names[plain(name)] for name in row["colour"].split("+")]
        colour = wind_together(colours)
    for place in _words(row["places"]):
        part, style = place.split("@")
        for name in wanted:
            without = frozenset((set(wanted) - {name}) | set(_words(row["without"])))
            asked = StandInQuery(trade.materials[name], part, style, colour, without)
            answer = find_stand_ins(likeness, asked)
            yield Outcome(
                row["case"],
                f"{name} {place}",
                _first(answer, row["answer"], single),
                _words(row["accepted"]),
                _words(row["rejected"]),
                row["note"],
                row["disputed"],
            )


def _first(answer: StandIns, kind: str, single: bool) -> tuple[str, ...]:
    if kind == "shade":
        return tuple(
            " + ".join(colour.id for colour in one.colours) for one in answer.shades[:FIRST]
        )
    named = [(one.first, *one.likewise[:MOST_LIKEWISE]) for one in answer.answers[:FIRST]]
    if single:
        singles = sorted(
            (one for each in answer.answers for one in (each.first, *each.likewise)),
            key=lambda one: one.distance,
        )
        named = [(one,) for one in singles[:FIRST]]
    return tuple(one.material.id for each in named for one in each)


def _words(text: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in text.split(";") if word.strip())


def shares(cases: list[Case], *, disputed_met: bool = False) -> tuple[float, float]:
    """Return the share of cases answered, and of cases without a refused answer.

    With ``disputed_met`` a case about which sources disagree counts as met whatever is answered;
    without it every case counts as its own source has it.
    """
    answered = [
        case.is_answered or (disputed_met and case.is_disputed)
        for case in cases
        if case.is_answered is not None
    ]
    broken = [
        case.is_broken and not (disputed_met and case.is_disputed)
        for case in cases
        if case.is_broken is not None
    ]
    return sum(answered) / len(answered), 1 - sum(broken) / len(broken)


def print_figures(*, single: bool, verbose: bool) -> None:
    """Print the outcome of every case, and the shares."""
    cases = measure(load(), single=single)
    for case in cases:
        marks = {True: "yes", False: "NO", None: "-"}
        refused = {True: "YES", False: "no", None: "-"}
        print(f"{case.case}  accepted {marks[case.is_answered]}  refused {refused[case.is_broken]}")
        if verbose or case.is_answered is False or case.is_broken:
            for one in case.outcomes:
                print(f"      {one.asked}: {', '.join(one.first)}")
            for one in case.outcomes[:1]:
                print(f"      accepted {', '.join(one.accepted)}")
                print(f"      refused {', '.join(one.rejected)}")
    answered, kept = shares(cases)
    mapped = sum(case.is_answered is not None for case in cases)
    refusing = sum(case.is_broken is not None for case in cases)
    print(f"accepted among the first three: {answered:.0%} of {mapped} cases")
    print(f"no refused one among the first three: {kept:.0%} of {refusing} cases that refuse one")
    answered, kept = shares(cases, disputed_met=True)
    print(f"the same with disputed cases counted as met: {answered:.0%}, {kept:.0%}")
    print(f"cases whose answer is no material: {sum(not case.outcomes for case in cases)}")
