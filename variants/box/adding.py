"""A new thing for the box made out of what its owner says: words, options, answers to questions.

Cells come in as someone wrote them; the item comes out as the box will hold it, with what was taken
for what, and the things that the box holds already and that are the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.box.blends import Blended, blended
from variants.box.finding import Likes
from variants.box.portions import Portion, SoldAs, portion, read_sold_as
from variants.box.rows import checked_item, recipe_named
from variants.box.stuffs import Stuff, kind_named, stuff_named
from variants.model import Box, Item, Material, Origin, Trade, plain
from variants.reading import Fault, InputError, nearest, shown
from variants.reading.plain import Glossary, load_glossary
from variants.rulebook import Rulebook, own_rules_folder

_AMOUNTS = ("amount", "price_for")


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing to be added.

    Attributes
    ----------
    item : Item
    cells : dict of column to cell
    portions : tuple of Portion
        Amounts that were told as stuff is sold.
    blend : Blended or None
        The shade that was computed for a blend.
    alike : tuple of Item
        What the box holds that is the same.
    """

    item: Item
    cells: dict[str, str]
    portions: tuple[Portion, ...]
    blend: Blended | None
    alike: tuple[Item, ...]


@dataclass(frozen=True)
class Adding:
    """What is needed to understand a new thing.

    Attributes
    ----------
    rulebook : Rulebook
    glossary : Glossary
    sold_as : tuple of SoldAs
    """

    rulebook: Rulebook
    glossary: Glossary
    sold_as: tuple[SoldAs, ...]

    @property
    def trade(self) -> Trade:
        """The trade's tables."""
        return self.rulebook.trade

    def material(self, text: str) -> Material | None:
        """Return the material that a text names by itself and for certain, or None."""
        if kind_named(text, self.trade):
            return None
        named = self.trade.material_names.get(plain(text))
        return named or self._settled(stuff_named(text, self.glossary))

    def _settled(self, stuff: Stuff) -> Material | None:
        return stuff.material if stuff.is_settled else None

    def near(self, text: str, most: int = 5) -> tuple[str, ...]:
        """Return the trade names of materials that a text may mean, likeliest first."""
        alike = kind_named(text, self.trade) or stuff_named(text, self.glossary).choices
        choices = [one.name for one in alike]
        names = self.trade.material_names
        near = [names[one].name for one in nearest(plain(text), names, most=3 * most)]
        return tuple(dict.fromkeys([*choices, *near]))[:most]

    def portion(self, text: str, material: Material) -> Portion:
        """Return an amount as the box holds it."""
        return portion(text, material, self.sold_as)

    def filled(self, cells: Mapping[str, str]) -> dict[str, str]:
        """Return cells with what the words of the name tell of material and colour."""
        told = {name: cell.strip() for name, cell in cells.items() if cell.strip()}
        words = told.get("material") or told.get("item", "")
        kind = kind_named(words, self.trade)
        stuff = stuff_named(told.get("item", "") if kind else words, self.glossary)
        exact = None if kind else self.trade.material_names.get(plain(words))
        material = exact or self._settled(stuff)
        if material is not None and (not kind or (told.get("material") and material in kind)):
            told["material"] = material.name
            if stuff.colour is not None and exact is None:
                told.setdefault("colour", stuff.colour.name)
        elif not told.get("material") and told.get("blend"):
            told["material"] = self._most_of(told["blend"])
        if not told.get("colour") and not told.get("blend") and told.get("item"):
            # "olive packet" tells a colour, whatever the rest means.
            known = self.material(told.get("material", ""))
            colour = stuff_named(told["item"], self.glossary, known).colour
            told |= {"colour": colour.name} if colour else {}
        if not told.get("item") and told.get("material"):
            told["item"] = named(told)
        return told

    def _most_of(self, recipe: str) -> str:
        """Return the material of which a blend has most."""
        parts = recipe_named(recipe, self.trade, "the item")
        return max(parts, key=lambda part: part.parts).material.name

    def thing(self, cells: Mapping[str, str], box: Box | None) -> Thing:
        """Return the thing that cells tell.

        Parameters
        ----------
        cells : mapping of column to cell
        box : Box or None
            What it is added to.

        Raises
        ------
        InputError
            With everything that is wrong with it; an unknown material with the nearest names.
        """
        told = self.filled(cells)
        if not told.get("material"):
            raise self._no_material(told.get("item", ""))
        material = self.material(told["material"])
        if material is None and kind_named(told["material"], self.trade):
            raise self._no_material(told["material"])
        if not told.get("colour") and not told.get("blend"):
            self._refuse_open_colour(cells, material)
        portions = []
        for name in _AMOUNTS:
            if told.get(name) and material is not None:
                found = self.portion(told[name], material)
                told[name] = found.amount
                portions += [found] if found.sold_as else []
        item = checked_item(told, self.trade)
        blend = None
        if item.blend and not told.get("colour"):
            blend = blended(item.blend, self.trade)
            if blend is not None:
                told["colour"] = blend.shade
                item = checked_item(told, self.trade)
        return Thing(item, told, tuple(portions), blend, tuple(Likes(box).of(item)))

    def _refuse_open_colour(self, cells: Mapping[str, str], material: Material | None) -> None:
        for name in ("material", "item"):
            for says in stuff_named(cells.get(name, ""), self.glossary, material).open_colour:
                remedy = "name the colour with --colour"
                raise InputError([Fault(Origin("the item", 0, "colour"), says, remedy)])

    def _no_material(self, words: str) -> InputError:
        if not words:
            problem, remedy = "nothing is named", "say what it is: its name, or --material"
            return InputError([Fault(Origin("the item", 0, "item"), problem, remedy)])
        told = stuff_named(words, self.glossary).open
        problem = f"{shown(words)} does not tell which material it is"
        problem = f"{problem}: {'; '.join(told)}" if told else problem
        return InputError(
            [
                Fault(
                    Origin("the item", 0, "material"),
                    problem,
                    "name it with --material",
                    self.near(words, 3),
                )
            ]
        )


def named(cells: Mapping[str, str]) -> str:
    """Return a name for a thing that has none: what it is.

    >>> named({"material": "hen cape", "colour": "blue dun", "sizes": "12-16"})
    'hen cape blue dun 12-16'
    """
    material, colour = cells.get("material", ""), cells.get("colour", "")
    words = [material] if colour.lower() in material.lower() else [material, colour]
    return " ".join(one for one in [*words, cells.get("sizes", "")] if one)


def adding_with(rulebook: Rulebook, folders: Sequence[Path]) -> Adding:
    """Read what is needed to understand a new thing.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    own = [own_rules_folder(), *folders]
    return Adding(rulebook, load_glossary(own, rulebook.trade), read_sold_as(own))
