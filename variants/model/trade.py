"""The trade's tables together: everything a name in a file can refer to."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Any, Protocol, TypeVar

from variants.model.build import Build
from variants.model.colour import Colour, Marking
from variants.model.law import LawTables
from variants.model.material import Hook, HookModel, Material
from variants.model.style import PartKind, Style


class Named(Protocol):
    """What has an id, a trade name and other names."""

    @property
    def id(self) -> str: ...  # noqa: D102

    @property
    def name(self) -> str: ...  # noqa: D102

    @property
    def also(self) -> tuple[str, ...]: ...  # noqa: D102


Entry = TypeVar("Entry", bound=Named)


class Composer(Protocol):
    """Makes a stuff or a colour of the words of a name that no row has."""

    def material(self, name: str, trade: Trade) -> Material | None:
        """Return the stuff that a name composes, or None."""

    def colour(self, name: str, trade: Trade) -> Colour | None:
        """Return the colour that a name composes, or None."""


class Names(dict[str, Entry]):
    """Entries by name; a name that no row has is composed, and is not told among the names."""

    def __init__(self, named: Mapping[str, Entry], compose: Callable[[str], Entry | None]) -> None:
        super().__init__(named)
        self._compose = compose

    def __missing__(self, name: str) -> Entry:
        """Return what a name composes, where it composes anything."""
        found = self._compose(name)
        if found is None:
            raise KeyError(name)
        return found

    def __contains__(self, name: object) -> bool:
        """Tell whether a name has a row, or composes what no row has."""
        return self.get(name) is not None

    def get(self, name: Any, default: Any = None) -> Any:
        """Return the entry of a name, or what it composes, or the default."""
        if super().__contains__(name):
            return super().__getitem__(name)
        found = self._compose(name) if isinstance(name, str) else None
        return default if found is None else found


def plain(name: str) -> str:
    """Return a name as it is compared: lower case, words joined by single spaces.

    >>> plain("Hare's-Mask  ")
    "hare's mask"
    """
    return " ".join(re.split(r"[\s_-]+", name.strip().lower())).strip()


def names_of(entries: Iterable[Entry]) -> dict[str, Entry]:
    """Map every id, name and other name to its entry; an id beats a name, a name an alias."""
    entries = tuple(entries)
    names: dict[str, Entry] = {}
    for entry in entries:
        for other in entry.also:
            names.setdefault(plain(other), entry)
    names.update({plain(entry.name): entry for entry in reversed(entries)})
    names.update({plain(entry.id): entry for entry in entries})
    return names


@dataclass(frozen=True)
class Trade:
    """The tables of ``rules/``: colours, markings, materials, parts, styles, hooks, builds.

    Attributes
    ----------
    colours, markings, materials, parts, styles : mapping of id to entry
    hooks : mapping of scale to mapping of size to Hook
    hook_models : mapping of material id to HookModel
    law : LawTables
    builds : mapping of class of stuff to Build
    added : frozenset of str
        Ids of the parts and styles that stand in a tyer's own folders alone.
    composer : Composer or None
        Makes stuffs and colours of names that no row has.
    """

    colours: Mapping[str, Colour]
    markings: Mapping[str, Marking]
    materials: Mapping[str, Material]
    parts: Mapping[str, PartKind]
    styles: Mapping[str, Style]
    hooks: Mapping[str, Mapping[int, Hook]]
    hook_models: Mapping[str, HookModel]
    law: LawTables = field(default_factory=LawTables)
    builds: Mapping[str, Build] = field(default_factory=dict)
    added: frozenset[str] = frozenset()
    composer: Composer | None = field(default=None, repr=False, compare=False)

    def part_kind(self, part: str) -> PartKind:
        """Return the kind of a part by its id; an id that no table has is a bunch by its name."""
        return self.parts.get(part) or PartKind(part, part)

    def with_likes(self, styles: Iterable[str]) -> frozenset[str]:
        """Return styles together with all that are like one of them."""
        named = frozenset(styles)
        return named | {
            style.id for style in self.styles.values() if not named.isdisjoint(style.kin)
        }

    def with_like_parts(self, parts: Iterable[str]) -> frozenset[str]:
        """Return parts together with all that are like one of them."""
        named = frozenset(parts)
        return named | {kind.id for kind in self.parts.values() if not named.isdisjoint(kind.kin)}

    @cached_property
    def colour_names(self) -> Mapping[str, Colour]:
        """Colours by every name the trade uses."""
        return self._composing(names_of(self.colours.values()), "colour")

    @cached_property
    def material_names(self) -> Mapping[str, Material]:
        """Materials by every name the trade uses."""
        return self._composing(names_of(self.materials.values()), "material")

    def _composing(self, named: dict[str, Any], what: str) -> Mapping[str, Any]:
        if self.composer is None:
            return named
        make = getattr(self.composer, what)
        return Names(named, partial(make, trade=self))

    @cached_property
    def part_names(self) -> Mapping[str, PartKind]:
        """Parts by every name the trade uses."""
        return names_of(self.parts.values())

    @cached_property
    def style_names(self) -> Mapping[str, Style]:
        """Styles by every name the trade uses."""
        return names_of(self.styles.values())

    @cached_property
    def marking_distances(self) -> Mapping[tuple[str, str], float]:
        """Distance 0 to 1 between markings, both ways round; unlisted pairs are 1 apart."""
        distances: dict[tuple[str, str], float] = {}
        for marking in self.markings.values():
            distances[marking.id, marking.id] = 0.0
            for other, distance in marking.like:
                distances[marking.id, other] = distances[other, marking.id] = distance
        return distances
