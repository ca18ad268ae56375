"""A new item of the box, parsed from what its owner says: words, options, answers to questions.

Cells come in as someone wrote them; the item comes out as the box will hold it, with the amounts
that were estimated, and its duplicates in the box.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.box.blend_shade import BlendShade, compute_blend_shade
from variants.box.item_names import make_name
from variants.box.item_search import DuplicateIndex
from variants.box.material_matching import MaterialMatch, find_kind, match_material
from variants.box.row import read_item, read_recipe
from variants.box.sold_as import SoldAmount, SoldAs, convert_sold_amount, read_sold_as
from variants.model import Box, Item, Material, Origin, Trade, plain
from variants.reading import Fault, InputError
from variants.reading.words import Glossary, load_glossary
from variants.rulebook import Rulebook, own_rules_folder
from variants.text import nearest, shown

_AMOUNTS = ("amount", "price_for")


@dataclass(frozen=True, slots=True)
class NewItem:
    """An item to be added, as parsed.

    Attributes
    ----------
    item : Item
    cells : dict of column to cell
    portions : tuple of SoldAmount
        Amounts that were estimated, for they were stated as it is sold.
    blend : BlendShade or None
        The shade that was computed for a blend.
    duplicates : tuple of Item
        What the box holds that is the same.
    """

    item: Item
    cells: dict[str, str]
    portions: tuple[SoldAmount, ...]
    blend: BlendShade | None
    duplicates: tuple[Item, ...]


@dataclass(frozen=True)
class ItemParser:
    """Parses the cells of a new item.

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

    def find_material(self, text: str) -> Material | None:
        """Return the material that a text names by itself and for certain, or None."""
        if find_kind(text, self.trade):
            return None
        named = self.trade.material_names.get(plain(text))
        return named or self._unique(match_material(text, self.glossary))

    def _unique(self, match: MaterialMatch) -> Material | None:
        return match.material if match.is_unique else None

    def near_materials(self, text: str, most: int = 5) -> tuple[str, ...]:
        """Return the trade names of materials that a text may mean, likeliest first."""
        alike = find_kind(text, self.trade) or match_material(text, self.glossary).choices
        choices = [one.name for one in alike]
        names = self.trade.material_names
        near = [names[one].name for one in nearest(plain(text), names, most=3 * most)]
        return tuple(dict.fromkeys([*choices, *near]))[:most]

    def convert_amount(self, text: str, material: Material) -> SoldAmount:
        """Return an amount as the box holds it."""
        return convert_sold_amount(text, material, self.sold_as)

    def complete(self, cells: Mapping[str, str]) -> dict[str, str]:
        """Return cells with the material, the colour and the name that their words tell."""
        told = {name: cell.strip() for name, cell in cells.items() if cell.strip()}
        words = told.get("material") or told.get("item", "")
        kind = find_kind(words, self.trade)
        match = match_material(told.get("item", "") if kind else words, self.glossary)
        exact = None if kind else self.trade.material_names.get(plain(words))
        material = exact or self._unique(match)
        if material is not None and (not kind or (told.get("material") and material in kind)):
            told["material"] = material.name
            if match.colour is not None and exact is None:
                told.setdefault("colour", match.colour.name)
        elif not told.get("material") and told.get("blend"):
            told["material"] = self._find_main_material(told["blend"])
        if not told.get("colour") and not told.get("blend") and told.get("item"):
            # "olive packet" tells a colour, whatever the rest means.
            known = self.find_material(told.get("material", ""))
            colour = match_material(told["item"], self.glossary, known).colour
            told |= {"colour": colour.name} if colour else {}
        if not told.get("item") and told.get("material"):
            told["item"] = make_name(told)
        return told

    def _find_main_material(self, recipe: str) -> str:
        """Return the material of which a blend has most."""
        parts = read_recipe(recipe, self.trade, "the item")
        return max(parts, key=lambda part: part.parts).material.name

    def parse(self, cells: Mapping[str, str], box: Box | None) -> NewItem:
        """Parse the cells of an item.

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
        told = self.complete(cells)
        if not told.get("material"):
            raise self._material_error(told.get("item", ""))
        material = self.find_material(told["material"])
        if material is None and find_kind(told["material"], self.trade):
            raise self._material_error(told["material"])
        if not told.get("colour") and not told.get("blend"):
            self._refuse_open_colour(cells, material)
        portions = []
        for name in _AMOUNTS:
            if told.get(name) and material is not None:
                found = self.convert_amount(told[name], material)
                told[name] = found.amount
                portions += [found] if found.sold_as else []
        item = read_item(told, self.trade)
        blend = None
        if item.blend and not told.get("colour"):
            blend = compute_blend_shade(item.blend, self.trade)
            if blend is not None:
                told["colour"] = blend.shade
                item = read_item(told, self.trade)
        return NewItem(item, told, tuple(portions), blend, tuple(DuplicateIndex(box).find(item)))

    def _refuse_open_colour(self, cells: Mapping[str, str], material: Material | None) -> None:
        for name in ("material", "item"):
            for says in match_material(cells.get(name, ""), self.glossary, material).open_colour:
                remedy = "name the colour with --colour"
                raise InputError([Fault(Origin("the item", 0, "colour"), says, remedy)])

    def _material_error(self, words: str) -> InputError:
        if not words:
            problem, remedy = "nothing is named", "say what it is: its name, or --material"
            return InputError([Fault(Origin("the item", 0, "item"), problem, remedy)])
        told = match_material(words, self.glossary).open
        problem = f"{shown(words)} does not tell which material it is"
        problem = f"{problem}: {'; '.join(told)}" if told else problem
        return InputError(
            [
                Fault(
                    Origin("the item", 0, "material"),
                    problem,
                    "name it with --material",
                    self.near_materials(words, 3),
                )
            ]
        )


def load_item_parser(rulebook: Rulebook, folders: Sequence[Path]) -> ItemParser:
    """Read the tables with which a new item is parsed.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    own = [own_rules_folder(), *folders]
    return ItemParser(rulebook, load_glossary(own, rulebook.trade), read_sold_as(own))
