"""A request and the rulebook to a python-constraint `Problem`, ready for any of its solvers."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import count, islice, product, takewhile

from constraint import Problem, Solver

from variants.design.candidates import DomainBuilder
from variants.design.constraints import (
    ChangesConstraint,
    FlyConstraint,
    RuleConstraint,
    StockConstraint,
)
from variants.design.departure import is_same
from variants.design.domain import Domain
from variants.design.dress import own_counts
from variants.design.gc_pause import gc_paused
from variants.design.own_measures import adapted_rules, limits_own, own_counts_against
from variants.design.request import Request
from variants.design.stock import Stock, stock_of
from variants.design.variables import pose_problem
from variants.design.watch import Watch
from variants.model import HOOK, Attributes, Candidate, Dressing, Fly, Trade
from variants.rulebook import LENGTH, Count, Equal, Lawful, Measure, Rule, Rulebook

#: So many of the flies that an author allows are held against the rules, the first ones.
MOST_FLIES = 64


@dataclass(frozen=True)
class DesignProblem:
    """A request made into variables, domains and constraints.

    Attributes
    ----------
    request : Request
    rulebook : Rulebook
    domains : mapping of part id to candidates
        In the order of the dressing; a domain may be empty.
    constraints : tuple of FlyConstraint
    base : mapping of part id to Candidate
        The dressing as written, in the box or not; where a water is named, with its counts.
    rules : tuple of Rule
        Those in force, adapted to the dressing's own measures.
    waived : tuple of Rule
        Those that the dressing itself breaks: its author's word counts more.
    """

    request: Request
    rulebook: Rulebook
    domains: Mapping[str, Sequence[Candidate]]
    constraints: tuple[FlyConstraint, ...]
    base: Mapping[str, Candidate]
    rules: tuple[Rule, ...]
    waived: tuple[Rule, ...]

    @property
    def empty_parts(self) -> tuple[str, ...]:
        """Parts for which the box holds nothing that could serve."""
        return self.find_empty_parts(Watch())

    def find_empty_parts(self, watch: Watch) -> tuple[str, ...]:
        """Return what `empty_parts` does, unless the watch breaks in by `TimeUpError`."""
        return tuple(
            part
            for part, domain in self.domains.items()
            if not (domain.has_any(watch) if isinstance(domain, Domain) else domain)
        )

    def has_as_written(self, part: str) -> bool:
        """Tell whether the box can fill a part as written."""
        return next(self.as_written(part), None) is not None

    def as_written(self, part: str) -> Iterator[Candidate]:
        """Yield what fills a part as written; but for hooks it departs by nothing."""
        domain = self.domains[part]
        if not isinstance(domain, Domain) or part == HOOK:
            yield from (one for one in domain if not one.is_changed)
            return
        nothing = takewhile(lambda place: domain.cost(place) == 0, count())
        yield from (one for place in nothing for one in domain.made(place) if not one.is_changed)

    @cached_property
    def stated(self) -> Mapping[str, Candidate]:
        """The dressing with its own counts, whatever the water."""
        return {part: own_counts(one) for part, one in self.base.items()}

    @cached_property
    def costing(self) -> tuple[RuleConstraint, ...]:
        """Constraints of rules by which a fly that they allow may depart."""
        return tuple(
            one for one in self.constraints if isinstance(one, RuleConstraint) and one.rule.may_cost
        )

    def problem(self, solver: Solver | None = None) -> Problem:
        """Return the problem as python-constraint states it.

        Raises
        ------
        ValueError
            When a domain is empty: such a problem has no solution, and the library refuses it.
        """
        return pose_problem(self.domains, self.constraints, solver)


@gc_paused()
def build_problem(
    request: Request,
    rulebook: Rulebook,
    stock: Stock | None = None,
    watch: Watch | None = None,
) -> DesignProblem:
    """Return the constraint problem of a request.

    Parameters
    ----------
    request : Request
    rulebook : Rulebook
    stock : Stock, optional
        The request's box, sorted by `stock_of` without what is missing; given by callers that ask
        much of one box.
    watch : Watch, optional
        Is asked whether to go on.

    Raises
    ------
    TimeUpError
        When the watch says so.

    Notes
    -----
    A rule that the dressing breaks, in any way that its author allows, is waived for it (lengths
    excepted, which the tyer can choose, and law, which excuses nobody), so that a published
    dressing is its own best variant, at departure 0. A count that the dressing states stands
    against the rule's, unless the request names a water: then it is that water's. No measure that
    the dressing states moves a hard limit.
    """
    base = request.base
    style = rulebook.trade.styles[base.style]
    trade_rules = [
        one
        for rule in rulebook.rules_for(style.id, request.water)
        for told in (rule, *_about_alike(rule, base, rulebook.trade))
        for one in _apart(told, base)
    ]
    counted = {} if request.water else own_counts_against(trade_rules, base)
    rules = adapted_rules(trade_rules, base, rulebook, counted)
    builder = DomainBuilder(rulebook, request, style, rules, _in_stock(request, stock))
    written = {part.id: builder.as_written(part) for part in base.parts}
    watch = watch or Watch()
    flies = _flies_allowed(base, builder, written)
    in_force, waived = _split_waived(rules, flies, base)
    stand = [
        one for one in trade_rules if one.id in counted and counted[one.id].speaks_of(flies[0])
    ]
    waived = (*stand, *waived)
    domains = {}
    for part in base.parts:
        watch.check()
        domains[part.id] = builder.domain(part)
        domains[part.id].cost(0, watch)
    constraints: list[FlyConstraint] = [
        RuleConstraint(rule, parts)
        for rule in in_force
        if (parts := [part for part in rule.parts if part in domains])
        and not isinstance(rule, Equal)
    ]
    scarce = [part.id for part in base.parts if builder.is_scarce(part)]
    constraints += _limits(request, tuple(domains), scarce)
    return DesignProblem(request, rulebook, domains, tuple(constraints), written, in_force, waived)


def _about_alike(rule: Rule, base: Dressing, trade: Trade) -> Iterator[Rule]:
    """Yield a rule once more for each part of the dressing that is like one that it names."""
    for part in base.parts:
        kin = trade.part_kind(part.id).kin if trade.part_kind(part.id).like else ()
        named = next((one for one in kin if one in rule.parts), None)
        if named is not None and part.id not in rule.parts and not isinstance(rule, Lawful):
            yield rule.about(part.id, named)


def _apart(rule: Rule, base: Dressing) -> tuple[Rule, ...]:
    """Return what law says of each part of the dressing; other rules as they are.

    What is counted beside a part, such as turns behind the wing, is not where there is none and
    the dressing doesn't count it either.
    """
    if rule.without and base.part(rule.without) is not None:
        return ()
    if rule.beside and base.part(rule.beside) is None:
        own = base.part(rule.part) if isinstance(rule, Count) else None
        if own is None or not isinstance(rule, Count) or rule.count not in own.counts:
            return ()
    if not isinstance(rule, Lawful):
        return (rule,)
    each = rule.on_each(part.id for part in base.parts)
    return each if rule.is_hard else tuple(map(partial(_spared, base), each))


def _spared(base: Dressing, rule: Lawful) -> Lawful:
    """Return what law makes conditions for, so that it costs nothing as the dressing writes it."""
    part = base.part(rule.on[0])
    if part is None or rule.status != "conditional":
        return rule
    return replace(rule, spared=frozenset(one.material.id for one in part.ingredients))


@gc_paused()
def filled_domain(
    design: DesignProblem,
    part_id: str,
    stock: Stock,
    with_any: Container[tuple[str, str]] | None = None,
) -> Domain:
    """Return what could fill one part of a design from another stock, such as a thing bought.

    Parameters
    ----------
    design, part_id, stock
    with_any : container of ingredients' keys, optional
        Spares candidates, blends excepted, that are made of none of these.

    Raises
    ------
    KeyError
        When the dressing has no such part.
    """
    part = design.request.base.part(part_id)
    if part is None:
        raise KeyError(part_id)
    style = design.rulebook.trade.styles[design.request.base.style]
    builder = DomainBuilder(design.rulebook, design.request, style, design.rules, stock)
    return builder.filled(part, with_any)


def _in_stock(request: Request, stock: Stock | None) -> Stock:
    """Return the stock of the box less what the request calls missing."""
    stock = stock or stock_of(request.box, request.missing_stuff)
    gone = [
        ingredient
        for part in request.base.parts
        if part.id in request.missing
        for way in part.ways
        for ingredient in way.ingredients
    ]
    if not gone:
        return stock
    return stock.without(lambda found: any(is_same(one, found) for one in gone))


def _split_waived(
    rules: tuple[Rule, ...], written: Sequence[Fly], base: Dressing
) -> tuple[tuple[Rule, ...], tuple[Rule, ...]]:
    in_force: list[Rule] = []
    waived: list[Rule] = []
    for rule in rules:
        if isinstance(rule, Measure) and (rule.attribute == LENGTH or limits_own(rule, base)):
            in_force.append(rule)
            continue
        if not rule.may_be_waived:
            in_force.append(rule)
            continue
        findings = [rule.judge(fly) for fly in written]
        is_kept = all(one.kept and not one.cost for one in findings)
        (in_force if is_kept else waived).append(rule)
    return tuple(in_force), tuple(waived)


def _flies_allowed(
    base: Dressing, builder: DomainBuilder, written: Mapping[str, Candidate]
) -> list[Fly]:
    """Return the flies that the author allows, as rules see them, the one as written first."""
    each: list[list[tuple[str, Attributes]]] = []
    for part in base.parts:
        own = [(part.id, written[part.id].attributes)]
        own += [(part.id, builder.as_written(way).attributes) for way in part.ways[1:]]
        each.append([*own, (part.id, {})] if part.may_go else own)
    return [dict(one) for one in islice(product(*each), MOST_FLIES)]


def _limits(request: Request, parts: Sequence[str], scarce: Sequence[str]) -> list[FlyConstraint]:
    limits: list[FlyConstraint] = []
    limits += [StockConstraint([part]) for part in scarce]
    if len(scarce) > 1:
        limits.append(StockConstraint(scarce))
    if request.max_changes is not None:
        limits.append(ChangesConstraint(parts, request.max_changes))
    return limits
