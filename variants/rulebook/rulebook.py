"""The rulebook: the trade's tables and rules together, ours and those that the user adds."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from variants.model import STANDARD_HOOK, Hook, Item, Material, Origin, Trade
from variants.reading import Fault, Faults, InputError, own_rules_folder, read_trade
from variants.rulebook.conventions import Conventions, read_conventions
from variants.rulebook.kinds import USUAL_WATER, Count, Rule
from variants.rulebook.likeness import Likeness, load_likeness
from variants.rulebook.rule_files import read_rules
from variants.text import nearest

#: Folders of which every file is read, whatever its name.
_ANY_NAME = ("likeness", "materials", "styles", "trade")


@dataclass(frozen=True)
class Rulebook:
    """Everything the trade says, as one value.

    Attributes
    ----------
    trade : Trade
    rules : tuple of Rule
        In the order of their files and places.
    conventions : Conventions
    likeness : Likeness
        How far materials and colours stand from each other, role by role.
    """

    trade: Trade
    rules: tuple[Rule, ...]
    conventions: Conventions
    likeness: Likeness

    def rules_for(self, style: str, water: str | None) -> tuple[Rule, ...]:
        """Return the rules that speak about a style on a water, counts set to that water."""
        rules = self._rules_for.get((style, water))
        if rules is None:
            rules = self._rules_for[style, water] = tuple(
                replace(rule, water=water or USUAL_WATER) if isinstance(rule, Count) else rule
                for rule in self.rules
                if rule.applies_to(style, water)
                and (not rule.school or rule.school in self.conventions.schools)
            )
        return rules

    @cached_property
    def _rules_for(self) -> dict[tuple[str, str | None], tuple[Rule, ...]]:
        return {}

    def with_rules(self, more: Iterable[Rule]) -> Rulebook:
        """Return the rulebook with further rules, which override by id."""
        return replace(self, rules=tuple({rule.id: rule for rule in (*self.rules, *more)}.values()))

    @cached_property
    def scale(self) -> Mapping[int, Hook]:
        """Dimensions of standard hooks by size, on the scale that the conventions choose."""
        return self.trade.hooks[self.conventions.hook_scale]

    @cached_property
    def gauge(self) -> Mapping[int, float]:
        """Barb length in mm that a hackle gauge calls right for each hook size."""
        return {
            size: hook.gape_mm * self.conventions.gauge_gapes for size, hook in self.scale.items()
        }

    def hook(self, material: Material, size: int, item: Item | None = None) -> Hook | None:
        """Return the dimensions of a hook of some model and size.

        A hook that its owner measured overrides the tables. None when the scale lacks the size.
        """
        standard = self.scale.get(size)
        if standard is None:
            return None
        model = self.trade.hook_models.get(material.id, STANDARD_HOOK)
        gape = item.gape_mm if item and item.gape_mm else standard.gape_mm
        shank = (
            item.shank_mm if item and item.shank_mm else self._shank_mm(standard, model.length_x)
        )
        wire = (
            item.thickness_mm if item and item.thickness_mm else self._wire_mm(size, model.wire_x)
        )
        return Hook(size, gape, shank, standard.eye_mm, wire)

    def _shank_mm(self, standard: Hook, length_x: int) -> float:
        if length_x == 0:
            return standard.shank_mm
        if self.conventions.long_reading == "gape":
            return standard.gape_mm * (2 + length_x)
        step = 2 if self.conventions.long_reading == "even" else 1
        return self._run_on(standard.size - step * length_x, lambda hook: hook.shank_mm)

    def _wire_mm(self, size: int, wire_x: int) -> float:
        return self._run_on(size - wire_x, lambda hook: hook.wire_mm)

    def _run_on(self, size: int, measure: Callable[[Hook], float]) -> float:
        """Return a measure of the scale at any size: where the scale ends, its curve runs on.

        A size 2 that is four sizes longer has the shank of a size that no table lists; the measure
        grows by the same share from size to size as between the nearest two that are listed.
        """
        if size in self.scale:
            return measure(self.scale[size])
        near, *others = sorted(self.scale, key=lambda listed: (abs(listed - size), listed))
        if not others:
            return measure(self.scale[near])
        further = others[0]
        start, other = measure(self.scale[near]), measure(self.scale[further])
        share = (size - near) / (further - near)
        return start * math.pow(other / start, share)


def load_rulebook(extra: Sequence[str | Path] = (), *, with_cases: bool = False) -> Rulebook:
    """Load the rules that come with Flykin, then the user's own, which add or override by id.

    Parameters
    ----------
    extra : sequence of path
        Folders laid out like ``rules/``; any of its files may be absent.
    with_cases : bool
        Whether to read the small flies that each rule keeps and breaks.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    if not all(map(str, extra)):
        raise InputError(
            [Fault(Origin("(no name)"), "the folder's name is empty", "name a folder")]
        )
    folders = [own_rules_folder(), *(Path(folder) for folder in extra)]
    for folder in folders[1:]:
        if not folder.is_dir():
            remedy = "name a folder laid out like rules/"
            raise InputError([Fault(Origin(str(folder)), "is no folder of rules", remedy)])
        _check_layout(folder, folders[0])
    trade = read_trade(folders)
    conventions = read_conventions(folders)
    if conventions.hook_scale not in trade.hooks:
        remedy = f"name one of: {', '.join(sorted(trade.hooks))}"
        problem = f"'{conventions.hook_scale}' is no scale of hooks"
        where = Origin("conventions.toml", field="hook_scale.value")
        raise InputError([Fault(where, problem, remedy)])
    rules = _rules(folders, trade, with_cases)
    _check_schools(conventions.schools, rules)
    _check_set_aside(trade, rules)
    return Rulebook(
        trade=trade,
        rules=rules,
        conventions=conventions,
        likeness=load_likeness(folders, trade),
    )


def _check_schools(chosen: Sequence[str], rules: Sequence[Rule]) -> None:
    """Refuse a school that no rule is of."""
    known = sorted({rule.school for rule in rules if rule.school})
    where = Origin("conventions.toml", field="schools.value")
    faults = Faults()
    for name in chosen:
        if name not in known:
            remedy = f"name some of: {', '.join(known)}"
            faults.add(where, f"no rule is of the school '{name}'", remedy, nearest(name, known))
    faults.stop_if_any()


def _check_set_aside(trade: Trade, rules: Sequence[Rule]) -> None:
    """Refuse a rule that a style sets aside and that there is not."""
    known = [rule.id for rule in rules]
    faults = Faults()
    for style in trade.styles.values():
        for name in sorted(style.sets_aside - set(known)):
            where = Origin(f"styles/{style.id}.toml", field="sets_aside")
            problem = f"'{name}' is the id of no rule in trade/"
            faults.add(where, problem, "write the id of a rule", nearest(name, known))
    faults.stop_if_any()


def _check_layout(folder: Path, own: Path) -> None:
    """Refuse a folder whose tables stand where nobody reads them, or that holds none."""
    files = [file for file in folder.rglob("*") if file.suffix in (".toml", ".tsv")]
    names = {str(path.relative_to(own)) for path in own.rglob("*") if path.is_file()}
    faults = Faults()
    for file in sorted(files):
        name = file.relative_to(folder)
        if str(name) in names or (len(name.parts) == 2 and name.parts[0] in _ANY_NAME):
            continue
        remedy = "lay the folder out like rules/: trade/own.toml, materials/own.tsv"
        faults.add(Origin(str(file)), "would not be read here", remedy, nearest(str(name), names))
    faults.stop_if_any()
    if not files:
        remedy = "lay it out like rules/: trade/own.toml, materials/own.tsv"
        raise InputError([Fault(Origin(str(folder)), "holds no rules or tables", remedy)])


def _rules(folders: Sequence[Path], trade: Trade, with_cases: bool) -> tuple[Rule, ...]:
    faults = Faults()
    rules: dict[str, Rule] = {}
    for folder in folders:
        here: dict[str, Rule] = {}
        for path in sorted(folder.glob("trade/*.toml")):
            for id_, rule in read_rules(path, trade, faults, with_cases=with_cases).items():
                if id_ in here:
                    other = here[id_].origin
                    faults.add(rule.origin, f"the rule '{id_}' stands in {other} too", "rename one")
                here[id_] = rule
        rules.update(here)
    faults.stop_if_any()
    return tuple(rules.values())
