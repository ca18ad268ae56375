"""Is every domain complete? A second, plain construction of all fillings says what must be there.

The search proves that nothing closer exists among the candidates; here it is shown that none was
left out, none is there twice or that may not be, and that their costs agree, for random small boxes
and dressings of every style.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from random import Random

import pytest

from tests.breadth import seeds
from tests.design.plainly import Filling, Plainly, Told
from tests.real import rulebook
from variants.design import Request, build_problem
from variants.model import Box, Candidate, Colour, Dressing, Ingredient, Item, Material, Part, Way
from variants.rulebook import Equal
from variants.units import parse_quantity

SEEDS = 300
SIDES = ("", "", "left", "right", "pair")
#: How often a part mixes several, takes an alternative, may go, is a signature.
MIXES, OTHERWISE, MAY_GO, SIGNED = 0.3, 0.2, 0.1, 0.15


@dataclass(frozen=True)
class Question:
    """A random dressing, a random box, and what is asked of them."""

    dressing: Dressing
    box: Box
    sizes: tuple[int, ...]
    water: str | None
    missing: frozenset[str]
    keep: frozenset[str]


class Maker:
    """Draws questions: half of the stuff in a box is near to what the dressing writes."""

    def __init__(self, seed: int) -> None:
        self.draw, self.seed = Random(f"complete {seed}"), seed
        self.trade = rulebook().trade

    def question(self) -> Question:
        """Return the question of the seed; the styles take turns."""
        draw = self.draw
        style = [*self.trade.styles.values()][self.seed % len(self.trade.styles)]
        parts = [
            self._part(kind.part)
            for kind in style.parts
            if not kind.optional or draw.random() < 0.7
        ]
        sizes = tuple(sorted(draw.sample(range(8, 19), draw.randint(1, 3))))
        dressing = Dressing("Trial", style.id, sizes, draw.choice(sizes), tuple(parts))
        items = [
            replace(item, id=f"item {number}")
            for part in parts
            for number, item in enumerate(self._items_for(part), start=100 * parts.index(part))
        ]
        draw.shuffle(items)
        names = [part.id for part in parts] + [item.id for item in items]
        names += [item.material.id for item in items]
        return Question(
            dressing,
            Box(tuple(items)),
            tuple(sorted(draw.sample(range(8, 19), 2))) if draw.random() < 0.3 else (),
            draw.choice((None, "slow", "medium", "fast")),
            frozenset(draw.sample(names, draw.choice((0, 0, 1, 2)))),
            frozenset(draw.sample([one.id for one in parts], draw.choice((0, 0, 0, 1)))),
        )

    def _part(self, name: str) -> Part:
        draw = self.draw
        first = self._ingredient(name)
        made_of, others = [first], []
        if name not in ("hook", "thread") and draw.random() < MIXES:
            made_of = self._mix(name, first)
        if draw.random() < OTHERWISE:
            others = [(self._ingredient(name),) for _ in range(draw.randint(1, 2))]
        if name not in ("hook", "thread") and draw.random() < MAY_GO:
            others.append(())
        return Part(
            name,
            tuple(made_of),
            counts={"turns": draw.randint(2, 12)} if draw.random() < 0.3 else {},
            signature=draw.random() < SIGNED,
            alternatives=tuple(others),
        )

    def _mix(self, name: str, first: Ingredient) -> list[Ingredient]:
        """Return two or three: of a rule that knows one for them, alike, or unlike."""
        draw = self.draw
        rules = [rule for rule in rulebook().rules if isinstance(rule, Equal) and rule.part == name]
        if rules and draw.random() < 0.5:
            colours = sorted(draw.choice(rules).mixed)
            return [Ingredient(first.material, self.trade.colours[one]) for one in colours]
        if draw.random() < 0.3:
            return [first, self._ingredient(name)]
        many = draw.choice((1, 1, 2))
        return [first, *(Ingredient(first.material, self._colour(first)) for _ in range(many))]

    def _ingredient(self, name: str) -> Ingredient:
        serving = self._materials(name)
        material = self.draw.choice(serving)
        stuff = Ingredient(material)
        rules = [rule for rule in rulebook().rules if isinstance(rule, Equal) and rule.part == name]
        if rules and self.draw.random() < 0.4:
            single = self.draw.choice(sorted(self.draw.choice(rules).single))
            return Ingredient(material, self.trade.colours[single])
        return Ingredient(material, self._colour(stuff))

    def _materials(self, name: str) -> list[Material]:
        can_be = self.trade.parts[name].functions
        return [one for one in self.trade.materials.values() if one.functions & can_be]

    def _colour(self, stuff: Ingredient) -> Colour | None:
        known = [one for one in stuff.material.colours if one in self.trade.colours]
        if not stuff.material.colours or self.draw.random() < 0.1:
            return None
        if known and self.draw.random() < 0.7:
            return self.trade.colours[self.draw.choice(known)]
        return self.trade.colours[self.draw.choice(sorted(self.trade.colours))]

    def _items_for(self, part: Part) -> list[Item]:
        """Return some things that could be a part, now and then the very ones."""
        draw, items = self.draw, []
        wanted = [one for way in part.ways for one in way.ingredients]
        rules = [rule for rule in rulebook().rules if isinstance(rule, Equal)]
        for _ in range(draw.randint(1, 6)):
            near = draw.choice(wanted)
            stuff = draw.choice((
                near,
                Ingredient(near.material, self._colour(near)),
                Ingredient(near.material, self._near(near.colour)),
                self._ingredient(part.id),
                Ingredient(
                    near.material,
                    self.trade.colours[draw.choice(sorted(draw.choice(rules).mixed))],
                ),
            ))  # fmt: skip
            items.append(self._item(stuff))
            if draw.random() < 0.3:
                items.append(replace(items[-1], length_mm=draw.choice((None, (5.0, 9.0)))))
            if draw.random() < 0.2:
                items.append(replace(items[-1], place="elsewhere"))
        return items

    def _near(self, colour: Colour | None) -> Colour | None:
        if colour is None:
            return None
        alike = [one for one in self.trade.colours.values() if one.family == colour.family]
        return self.draw.choice(alike)

    def _item(self, stuff: Ingredient) -> Item:
        draw, uses = self.draw, stuff.material.functions
        amount = draw.choice((None, None, "0 pieces", "3 pieces", "11 pieces", "12 pieces", "1 g"))
        return Item(
            "",
            stuff.material,
            stuff.colour,
            sizes=tuple(draw.sample(range(8, 19), 3)) if "hook" in uses else None,
            length_mm=draw.choice((None, (4.0, 12.0))) if "hook" not in uses else None,
            thickness_mm=draw.choice((None, 0.2)),
            side=draw.choice(SIDES) if "wing" in uses else "",
            amount=None if amount is None else parse_quantity(amount),
        )


def told(candidate: Candidate) -> list[Filling]:
    """Return what a candidate of the problem stands for: one filling for each choice of items."""
    if candidate.way is Way.LEFT_OUT or not candidate.ingredients:
        return [Filling(frozenset(), "left out")]
    size = candidate.attributes.get("size") if candidate.part == "hook" else None
    assert size is None or isinstance(size, int)
    blend = candidate.attributes.get("blend")
    fillings = []
    for items in product(*candidate.items):
        how = "alone"
        if blend is not None:
            shares = str(blend).split(":")
            how = "blended " + str(
                sorted(f"{one.id} {share}" for one, share in zip(items, shares, strict=True))
            )
        elif len(items) > 1:
            how = "pair" if len(candidate.ingredients) == 1 else "mixed"
        fillings.append(Filling(frozenset(one.id for one in items), how, size))
    return fillings


def differences(seed: int) -> tuple[list[str], int]:
    """Return in what the two constructions differ for a seed, and how many fillings there were."""
    asked = Maker(seed).question()
    plainly = Plainly(
        asked.dressing, asked.box.items, rulebook(), asked.missing, asked.sizes, asked.water
    )
    request = Request(
        asked.dressing, asked.box, asked.sizes, asked.water, asked.missing, asked.keep
    )
    design, wrong, count = build_problem(request, rulebook()), [], 0
    for part in asked.dressing.parts:
        due = plainly.fillings(part)
        if part.id in asked.keep:
            due = {one: known for one, known in due.items() if known.is_written}
        there: dict[Filling, Told] = {}
        for candidate in design.domains[part.id]:
            for filling in told(candidate):
                if filling in there:
                    wrong.append(f"{seed} {part.id}: twice {filling}")
                there[filling] = Told(candidate.cost, not candidate.is_changed)
        count += len(due)
        where = f"{seed} {part.id}"
        wrong += [f"{where}: left out {one} {due[one]}" for one in due.keys() - there]
        wrong += [f"{where}: not due {one} {there[one]}" for one in there.keys() - due]
        wrong += [
            f"{where}: {one} is {there[one]} and not {due[one]}"
            for one in due.keys() & there
            if due[one] != there[one]
        ]
    return wrong, count


@pytest.mark.parametrize("seed", seeds(range(SEEDS)))
def test_no_candidate_is_left_out_and_none_costs_otherwise(seed: int) -> None:
    wrong, count = differences(seed)
    assert count
    assert not wrong, "\n".join(wrong[:10])


def test_the_questions_hold_something_of_every_kind() -> None:
    seen: set[str] = set()
    for seed in range(SEEDS // 10):
        asked = Maker(seed).question()
        plainly = Plainly(asked.dressing, asked.box.items, rulebook())
        for part in asked.dressing.parts:
            for filling, known in plainly.fillings(part).items():
                seen.add(f"{filling.how.partition(' ')[0]} {len(filling.items)}")
                seen |= {"as written"} if known.is_written and part.id != "hook" else set()
        seen |= {asked.dressing.style}
    assert seen >= {"alone 1", "pair 2", "mixed 2", "mixed 3", "blended 2", "blended 3"}
    assert seen >= {"left 0", "as written", *rulebook().trade.styles}
