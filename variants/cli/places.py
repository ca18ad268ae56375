"""The options ``--region`` and ``--on``: which water of which region a command speaks of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from variants.model import Part, Variant
    from variants.regions import Cautions, Place
    from variants.rulebook import Rulebook


def region_options(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options ``--region`` and ``--on``."""
    region = click.option("--region", metavar="FILE", help="Keep to the rules of a region's water.")
    on = click.option("--on", metavar="WATER", help="Which water, where the region has several.")
    return region(on(command))


def settled(
    options: dict[str, Any], rulebook: Rulebook, folders: Sequence[str]
) -> tuple[Place | None, Rulebook]:
    """Return the place a command speaks of, and the rulebook with its rules.

    The water of the place is entered as ``water``, unless the user named another.
    """
    place = place_of(options, rulebook, folders)
    if place is None:
        return None, rulebook
    options["water"] = options.get("water") or place.water.speed
    return place, place.joined(rulebook)


def place_of(
    options: Mapping[str, Any], rulebook: Rulebook, folders: Sequence[str]
) -> Place | None:
    """Return the place that ``--region`` and ``--on`` name; None without a region.

    Raises
    ------
    click.BadParameter, click.UsageError
        When a water is named that the region lacks, or none of several.
    """
    region, on = options.get("region"), options.get("on")
    if region is None:
        if on is not None:
            raise click.UsageError("--on names a water of a region: name the --region.")
        return None
    return place_in(region, on, rulebook, folders)


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
