"""The options ``--region`` and ``--on``: which water of which region a command speaks of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from variants.cli.gathering import gather

if TYPE_CHECKING:
    from variants.cli.requests import RequestOptions
    from variants.model import Part, Variant
    from variants.regions import Cautions, Place
    from variants.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class PlaceOptions:
    """The words of ``--region`` and ``--on``: a region file, and which of its waters."""

    region: str | None = None
    on: str | None = None

    def find(self, rulebook: Rulebook, folders: Sequence[str]) -> Place | None:
        """Return the place that is named; None without a region.

        Raises
        ------
        click.BadParameter, click.UsageError
            When a water is named that the region lacks, or none of several.
        """
        if self.region is None:
            if self.on is not None:
                raise click.UsageError("--on names a water of a region: name the --region.")
            return None
        return place_in(self.region, self.on, rulebook, folders)


def region_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of `PlaceOptions`, handed to it as ``where``."""

    region = click.option("--region", metavar="FILE", help="Keep to the rules of a region's water.")
    on = click.option("--on", metavar="WATER", help="Which water, where the region has several.")
    given: Callable[..., None] = region(on(gather(PlaceOptions, "where")(command)))
    return given


def apply_place(
    where: PlaceOptions, asked: RequestOptions, rulebook: Rulebook, folders: Sequence[str]
) -> tuple[Place | None, Rulebook, RequestOptions]:
    """Return the place that is named, the rulebook with its rules, and what is asked there.

    The water of the place is asked for, unless the user named another.
    """
    place = where.find(rulebook, folders)
    if place is None:
        return None, rulebook, asked
    asked = replace(asked, water=asked.water or place.water.speed)
    return place, place.joined(rulebook), asked


def place_in(region: str, on: str | None, rulebook: Rulebook, folders: Sequence[str]) -> Place:
    """Return one water of a region file."""
    places = places_in(region, on, rulebook, folders)
    if len(places) > 1:
        told = ", ".join(place.water.name for place in places)
        raise click.UsageError(f"{region} has several waters, name one with --on: {told}")
    return places[0]


def places_in(
    region: str, on: str | None, rulebook: Rulebook, folders: Sequence[str]
) -> tuple[Place, ...]:
    """Return the waters of a region file, or the one that is named."""
    from variants.cli.answers import near_or_all
    from variants.model import plain
    from variants.regions import load_law, read_places
    from variants.text import shown

    places = read_places(region, rulebook, load_law(rulebook.trade, folders))
    if on is None:
        return places
    names = {plain(place.water.name): place for place in places}
    if plain(on) not in names:
        hint = near_or_all(plain(on), {one: of.water.name for one, of in names.items()})
        raise click.BadParameter(f"{shown(on)} is no water of {region}{hint}", param_hint="--on")
    return (names[plain(on)],)


def law_told(
    place: Place, parts: Iterable[Part], rulebook: Rulebook, folders: Sequence[str]
) -> Cautions:
    """Return what law says of everything that some parts are made of."""
    from variants.regions import find_cautions_at, load_law

    return find_cautions_at(parts, load_law(rulebook.trade, folders), place)


def law_of(
    place: Place, parts: Iterable[Part], rulebook: Rulebook, folders: Sequence[str]
) -> list[str]:
    """Return what law says of everything that some parts are made of, line by line."""
    from variants.views.law import law_lines

    return law_lines([place], law_told(place, parts, rulebook, folders))


def parts_of(variants: Iterable[Variant]) -> list[Part]:
    """Return all parts of some variants, as a dressing would state them."""
    from variants.model import Part

    return [
        Part(part, candidate.ingredients)
        for variant in variants
        for part, candidate in variant.chosen.items()
    ]
