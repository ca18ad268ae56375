"""All smallest sets of hard rules that can't be kept together with a box.

Junker's QuickXplain finds one such conflict. All of them follow from Reiter's duality ("A theory of
diagnosis from first principles", Artificial Intelligence 32, 1987): the smallest sets whose removal
makes a fly possible are the smallest hitting sets of the conflicts, and the other way round. A tree
of hitting sets, its nodes labelled by QuickXplain, yields every removal; hitting those yields every
conflict.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from variants.design import DesignProblem, Domain, FlyConstraint, Watch
from variants.design.search import compile_network, solve_network
from variants.explain.conflicts import quickxplain
from variants.model import HOOK, Candidate

#: So many removals are looked for; more would tell a tyer nothing.
MOST_REMOVALS = 200

Numbers = frozenset[int]


@dataclass(frozen=True, slots=True)
class AllConflicts:
    """Every minimal conflict of a problem, and every minimal removal.

    Attributes
    ----------
    empty_parts : tuple of str
        Parts for which the box holds nothing at all; each is a conflict of its own.
    conflicts : tuple of tuple of FlyConstraint
        Smallest first; among those without the empty parts.
    removals : tuple of tuple of FlyConstraint
        The smallest sets of constraints without which a fly is possible, empty parts apart.
    is_complete : bool
        False when there were too many to list them all.
    """

    empty_parts: tuple[str, ...]
    conflicts: tuple[tuple[FlyConstraint, ...], ...]
    removals: tuple[tuple[FlyConstraint, ...], ...]
    is_complete: bool


def find_all_conflicts(design: DesignProblem, watch: Watch | None = None) -> AllConflicts:
    """Return every minimal conflict among the hard rules and the stock of a design problem.

    Raises
    ------
    TimeUpError
        When the watch says so.
    """
    watch = watch or Watch()
    empty = design.find_empty_parts(watch)
    hard = [one for one in design.constraints if one.is_hard and not set(one.parts) & set(empty)]
    feasibility = Feasibility(design, hard, empty, watch)
    removals, is_complete = minimal_removals(len(hard), feasibility)
    conflicts = minimal_hitting_sets(removals)
    return AllConflicts(
        empty,
        tuple(
            tuple(hard[number] for number in sorted(one))
            for one in sorted(conflicts, key=lambda one: (len(one), sorted(one)))
        ),
        tuple(tuple(hard[number] for number in sorted(one)) for one in removals),
        is_complete,
    )


class Feasibility:
    """Tells whether a fly can keep some of the hard constraints; remembers what it was asked.

    Parameters
    ----------
    design : DesignProblem
    hard : sequence of FlyConstraint
    without : iterable of str
        Parts left out of account.
    watch : Watch, optional
        Is asked whether to go on.

    Notes
    -----
    Most rules set a part against the hook. Once a hook is taken they speak of that part alone; and
    a candidate that breaks all that another one breaks, and that looks the same to the rest, can
    never help. What is left of a large box, for each hook, is a handful of candidates, on which
    the exact search decides at once.
    """

    def __init__(
        self,
        design: DesignProblem,
        hard: Sequence[FlyConstraint],
        without: Iterable[str] = (),
        watch: Watch | None = None,
    ) -> None:
        self._watch = watch or Watch()
        self.hard = hard
        self._asked: dict[Numbers, bool] = {}
        parts = [part for part in design.domains if part not in set(without)]
        for part in parts:
            domain = design.domains[part]
            if isinstance(domain, Domain):
                domain.make_all(self._watch)
        self._joint = {
            number: one for number, one in enumerate(hard) if len(set(one.parts) - {HOOK}) > 1
        }
        hooks: list[tuple[Candidate | None, Numbers]] = [(None, frozenset())]
        if HOOK in parts:
            hooks = [*_count_least_broken(HOOK, design.domains[HOOK], hard, None, hard)]
        self._worlds = [
            (
                broken,
                {
                    part: _count_least_broken(
                        part, design.domains[part], hard, hook, list(self._joint.values())
                    )
                    for part in parts
                    if part != HOOK
                },
                hook,
            )
            for hook, broken in hooks
        ]

    def __call__(self, kept: Iterable[int]) -> bool:
        """Tell whether some fly keeps the constraints of these numbers."""
        wanted = frozenset(kept)
        if wanted not in self._asked:
            self._watch.check()
            self._asked[wanted] = any(
                not broken & wanted and self._is_possible(wanted, left, hook)
                for broken, left, hook in self._worlds
            )
        return self._asked[wanted]

    def _is_possible(
        self,
        wanted: Numbers,
        left: Mapping[str, Sequence[tuple[Candidate, Numbers]]],
        hook: Candidate | None,
    ) -> bool:
        domains = {
            part: [one for one, broken in candidates if not broken & wanted]
            for part, candidates in left.items()
        }
        if not all(domains.values()):
            return False
        if hook is not None:
            domains[HOOK] = [hook]
        joint = [one for number, one in self._joint.items() if number in wanted]
        if not joint:
            return True
        network = compile_network(domains, joint)
        return next(solve_network(network), None) is not None


def _count_least_broken(
    part: str,
    domain: Iterable[Candidate],
    hard: Sequence[FlyConstraint],
    hook: Candidate | None,
    beside: Sequence[FlyConstraint],
) -> list[tuple[Candidate, Numbers]]:
    """Return the candidates that may help, each with the constraints it breaks with this hook.

    ``beside`` are the constraints that go on looking at the part.
    """
    own = {part} if hook is None else {part, HOOK}
    alone = [
        (number, one)
        for number, one in enumerate(hard)
        if part in one.parts and set(one.parts) <= own
    ]
    beside = [one for one in beside if part in one.parts and not set(one.parts) <= {part}]
    found: dict[object, list[tuple[Candidate, Numbers]]] = {}
    for candidate in domain:
        seen = tuple(one.projection(part, candidate) for one in beside)
        alike = found.setdefault(seen, [])
        if any(not other for _, other in alike):
            continue  # nothing can be better than one that breaks nothing
        broken = frozenset(
            number
            for number, one in alone
            if not one.allows(_sort_conflicts(one, part, candidate, hook))
        )
        if any(other <= broken for _, other in alike):
            continue
        alike[:] = [(one, other) for one, other in alike if not broken <= other]
        alike.append((candidate, broken))
    return [one for alike in found.values() for one in alike]


def _sort_conflicts(
    constraint: FlyConstraint, part: str, candidate: Candidate, hook: Candidate | None
) -> list[Candidate]:
    beside = {part: candidate} if hook is None else {HOOK: hook, part: candidate}
    return [beside[name] for name in constraint.parts]


def minimal_removals(
    count: int, is_feasible: Callable[[Iterable[int]], bool], most: int = MOST_REMOVALS
) -> tuple[list[Numbers], bool]:
    """Return every smallest set of constraints whose removal makes the rest feasible.

    Parameters
    ----------
    count : int
        Constraints are numbered from 0.
    is_feasible : callable
    most : int
        Stop after so many.

    Returns
    -------
    list of frozenset of int
        Smallest first. Empty when even without any constraint nothing is feasible.
    bool
        Whether those are all.

    Notes
    -----
    Breadth first, so a removal is found before any larger set that holds it (Reiter 1987; after
    Greiner, Smith and Wilkerson 1989 no node need be labelled anew, since conflicts are minimal).
    """
    if not is_feasible(()):
        return [], True
    every = frozenset(range(count))
    removals: list[Numbers] = []
    known: list[Numbers] = []
    waiting: deque[Numbers] = deque([frozenset()])
    seen: set[Numbers] = {frozenset()}
    while waiting:
        removed = waiting.popleft()
        if any(one <= removed for one in removals):
            continue
        conflict = next((one for one in known if not one & removed), None)
        if conflict is None:
            rest = sorted(every - removed)
            if is_feasible(rest):
                removals.append(removed)
                if len(removals) >= most:
                    return removals, False
                continue
            conflict = frozenset(quickxplain(rest, is_feasible))
            known.append(conflict)
        for one in sorted(conflict):
            further = removed | {one}
            if further not in seen:
                seen.add(further)
                waiting.append(further)
    return removals, True


def minimal_hitting_sets(sets: Sequence[Numbers]) -> list[Numbers]:
    """Return every smallest set that shares a member with each of some sets (Berge 1989).

    Examples
    --------
    >>> sorted(map(sorted, minimal_hitting_sets([frozenset({1, 2}), frozenset({2, 3})])))
    [[1, 3], [2]]
    """
    if any(not one for one in sets):
        return []
    found: list[Numbers] = [frozenset()] if sets else []
    for one in sets:
        grown = {hit if hit & one else hit | {member} for hit in found for member in one}
        found = [hit for hit in grown if not any(other < hit for other in grown)]
    return found
