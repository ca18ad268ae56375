"""`flykin region`: a dressing adapted to a water and what lives in it, within the law there."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.answers import NO_VARIANT, near_hint, near_or_all, seconds
from variants.cli.gathering import gather
from variants.cli.pictures import write_picture
from variants.cli.places import law_of, law_told, parts_of, places_in
from variants.cli.requests import RequestOptions
from variants.stopping import INTERRUPTED

if TYPE_CHECKING:
    from variants.design import Watch
    from variants.model import Box, Dressing, Natural
    from variants.pictures import Picture
    from variants.regions import Adaptation, Place, RegionalTarget
    from variants.rulebook import Rulebook

_DRAWN = (".svg", ".png")


@dataclass(frozen=True, slots=True)
class RegionOptions:
    """What the command was asked, as it was typed."""

    on: str | None
    month: str | None
    natural: str | None
    box: str | None
    kin: float | None
    missing: tuple[str, ...]
    keep: tuple[str, ...]
    within: str | None
    explained: int | None
    chart: str | None
    picture: str | None
    graph: str | None
    as_json: bool


@click.command("region", short_help="A dressing adapted to a water, within the law there.")
@click.argument("dressing")
@click.option("--region", "regions", required=True, multiple=True, metavar="FILE",
              help="The region: its waters, naturals, rules; several make a family.")  # fmt: skip
@click.option("--on", metavar="WATER", help="Which water, where the region has several.")
@click.option("--month", help="Only naturals of this month, such as May.")
@click.option("--natural", metavar="NAME", help="Which natural the fly shall be.")
@click.option("--box", help="Your box: a CSV file, or - for standard input.")
@click.option("--kin", type=click.FloatRange(0, 10), metavar="DEPARTURE",
              help="How far a variant may depart and still be kin.")  # fmt: skip
@click.option("--missing", multiple=True, help="A part, item or material that is gone.")
@click.option("--keep", multiple=True, help="A part that must stay as written.")
@click.option("--within", metavar="TIME", help="Give up after a while, such as 20s.")
@click.option("--explain", "explained", type=click.IntRange(1), metavar="N",
              help="Explain variant N: numbers, rules, sources.")  # fmt: skip
@click.option("--chart", metavar="FILE", help="Write the chart of one water: .svg or .png.")
@click.option(
    "--picture",
    metavar="FILE",
    help="Draw the dressing and the fly to tie first on each water: .svg or .png.",
)
@click.option("--graph", metavar="FILE",
              help="Write how they descend: .json, .graphml, .dot or .mmd.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(RegionOptions)
def command(
    dressing: str, regions: tuple[str, ...], folders: tuple[str, ...], options: RegionOptions
) -> None:
    """Adapt DRESSING to a water of a region: hook, colours, turns, how it sinks.

    Each variant has two numbers: its departure from the dressing, and its distance to what the
    water and the natural ask. Those are shown that no other beats in both. Without a box it is told
    what to aim for.

    Several waters make a family: a fly for each, and flies that serve more than one.

    \b
    Example:
      flykin region examples/dressings/ferrymans-dun.toml \\
             --region examples/regions/skirl-burn.toml --box examples/box.csv
    """
    from variants.cli.books import read_one
    from variants.design import Watch
    from variants.reading import read_box
    from variants.regions import load_weights, target_for
    from variants.rulebook import load_rulebook

    if [dressing, *regions, options.box].count("-") > 1:
        raise click.UsageError("Only one of DRESSING, --region and --box can be standard input.")
    _check_names(options)
    watch = Watch(seconds("--within", options.within))
    rulebook = load_rulebook(folders)
    base = read_one(dressing, rulebook, folders)
    places = [place for one in regions for place in places_in(one, options.on, rulebook, folders)]
    weights = load_weights(rulebook.trade, folders)
    targets = [
        target_for(base, place, rulebook, weights, _naturals(place, options)) for place in places
    ]
    if options.box is None:
        for target in targets:
            _show_target(base, target, rulebook, folders)
        return
    box = read_box(options.box, rulebook.trade)
    adaptations = [_adapt(base, box, rulebook, target, options, watch) for target in targets]
    if len(adaptations) > 1:
        _show_family(adaptations, rulebook, folders, options)
    else:
        _show(adaptations[0], rulebook, folders, options)
    _write_files(adaptations, folders, options)
    if not any(one.front for one in adaptations):
        sys.exit(NO_VARIANT)


def _check_names(options: RegionOptions) -> None:
    """Refuse names of files to be written that don't end in what can be written."""
    from variants.explain.derivation import EXPORTS

    endings = {"chart": _DRAWN, "picture": _DRAWN, "graph": tuple(EXPORTS)}
    for name, known in endings.items():
        asked: str | None = getattr(options, name)
        if asked is not None and Path(asked).suffix not in known:
            told = f"'{asked}' should end in {', '.join(known)}"
            raise click.BadParameter(told, param_hint=f"--{name}")
        if asked is not None and options.box is None:
            raise click.UsageError(f"--{name} shows variants: name a --box.")


def _naturals(place: Place, options: RegionOptions) -> tuple[Natural, ...]:
    """Return the naturals that the options leave to choose from."""
    month, name = options.month, options.natural
    from variants.model import plain
    from variants.reading.regions import MONTHS
    from variants.text import shown

    naturals = place.region.naturals
    if month is not None:
        known = {plain(one): number for number, one in enumerate(MONTHS, start=1)}
        if plain(month) not in known:
            hint = near_hint(plain(month), known)
            told = f"{shown(month)} is not a month{hint or '; write one such as May'}"
            raise click.BadParameter(told, param_hint="--month")
        naturals = place.region.naturals_in(known[plain(month)])
        if not naturals:
            on = sorted({number for one in place.region.naturals for number in one.months})
            told = f"no natural of {place.region.name} is on in {month}"
            if on:
                told += f"; there are some in {', '.join(MONTHS[number - 1] for number in on)}"
            raise click.BadParameter(told, param_hint="--month")
    if name is not None:
        names = {plain(one.name): one for one in naturals}
        if plain(name) not in names:
            hint = near_or_all(plain(name), {one: of.name for one, of in names.items()})
            when = f" in {month}" if month else ""
            told = f"{shown(name)} is no natural of {place.region.name}{when}{hint}"
            raise click.BadParameter(told, param_hint="--natural")
        return (names[plain(name)],)
    return naturals


def _adapt(
    base: Dressing,
    box: Box,
    rulebook: Rulebook,
    target: RegionalTarget,
    options: RegionOptions,
    watch: Watch,
) -> Adaptation:
    from variants.design import TimeUpError
    from variants.regions import adapt

    words = RequestOptions(missing=options.missing, keep=options.keep)
    asked = words.request(base, box, rulebook)
    try:
        return adapt(
            base,
            box,
            rulebook,
            target,
            within=options.kin,
            missing=asked.missing,
            keep=asked.keep,
            watch=watch,
        )
    except TimeUpError:
        told = "The time was up before the front was proven: give it longer, or a smaller --kin."
        click.echo(told, err=True)
        sys.exit(INTERRUPTED)


def _show_target(
    base: Dressing, target: RegionalTarget, rulebook: Rulebook, folders: tuple[str, ...]
) -> None:
    from variants.text import printable
    from variants.views.region import target_lines

    lines = [f"{printable(base.name)} for {target.place.name}", "", *target_lines(target, base), ""]
    lines += law_of(target.place, base.parts, rulebook, folders)
    click.echo("\n".join(lines))


def _show(
    adaptation: Adaptation, rulebook: Rulebook, folders: tuple[str, ...], options: RegionOptions
) -> None:
    from variants.views.proposal import caution_lines
    from variants.views.region import region_lines

    flies = [one.variant for one in adaptation.front]
    parts = parts_of(flies)
    if options.as_json:
        import json

        from variants.views.region_json import adaptation_json

        law = law_told(adaptation.target.place, parts, rulebook, folders)
        told = adaptation_json(adaptation, law)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    elif options.explained is not None:
        _show_explanation(adaptation, options.explained)
    else:
        lines = [*region_lines(adaptation), "", *caution_lines(flies)]
        lines += law_of(adaptation.target.place, parts, rulebook, folders)
        click.echo("\n".join(lines))


def _show_explanation(adaptation: Adaptation, rank: int) -> None:
    from variants.explain import explain
    from variants.views.proposal import heading
    from variants.views.reasons import explanation_lines
    from variants.views.region import distance_lines

    if rank > len(adaptation.front):
        count = len(adaptation.front)
        raise click.BadParameter(
            f"there are {count} variants, so none has number {rank}", param_hint="--explain"
        )
    one, design = adaptation.front[rank - 1], adaptation.design
    lines = [heading(design), "", *distance_lines(adaptation, one), ""]
    click.echo("\n".join([*lines, *explanation_lines(design, explain(design, one.variant))]))


def _show_family(
    adaptations: list[Adaptation],
    rulebook: Rulebook,
    folders: tuple[str, ...],
    options: RegionOptions,
) -> None:
    from variants.regions import family_of
    from variants.views.family import family_lines
    from variants.views.proposal import caution_lines

    if options.explained is not None or options.chart is not None:
        raise click.UsageError("--explain and --chart are for one water: name one with --on.")
    family = family_of(adaptations)
    flies = [[one.variant for one in adaptation.front] for adaptation in adaptations]
    if options.as_json:
        import json

        from variants.views.region_json import family_json

        laws = [
            law_told(one.target.place, parts_of(own), rulebook, folders)
            for one, own in zip(adaptations, flies, strict=True)
        ]
        click.echo(json.dumps(family_json(family, laws), indent=2, ensure_ascii=False))
        return
    cautions = caution_lines(one.chosen.variant for one in adaptations if one.chosen)
    lines = [*family_lines(family), "", *cautions, *_laws(adaptations, rulebook, folders)]
    click.echo("\n".join(lines))


def _laws(
    adaptations: list[Adaptation], rulebook: Rulebook, folders: tuple[str, ...]
) -> Iterator[str]:
    """Yield what law says of the fly of each water, waters under one law together."""
    from variants.views.law import law_lines

    by_law: dict[str, list[Adaptation]] = {}
    for one in adaptations:
        by_law.setdefault(one.target.place.region.jurisdiction, []).append(one)
    for alike in by_law.values():
        places = [one.target.place for one in alike]
        tied = parts_of(one.chosen.variant for one in alike if one.chosen)
        yield from law_lines(places, law_told(places[0], tied, rulebook, folders))


def _write_files(
    adaptations: list[Adaptation], folders: tuple[str, ...], options: RegionOptions
) -> None:
    """Write the chart, the picture and the graph that were asked for, of what there is."""
    found = [one for one in adaptations if one.front]
    if not found:
        return
    if options.chart is not None:
        from variants.pictures.charts import front_chart

        write_picture(front_chart(found[0]), Path(options.chart))
    if options.picture is not None:
        write_picture(_picture(found, folders), Path(options.picture))
    if options.graph is not None:
        from variants.box import write_atomically
        from variants.explain.derivation import EXPORTS
        from variants.regions import family_of

        path = Path(options.graph)
        write_atomically(path, EXPORTS[path.suffix](family_of(adaptations).descent.graph))


def _picture(adaptations: list[Adaptation], folders: tuple[str, ...]) -> Picture:
    from variants.geometry import load_layout
    from variants.pictures import draw_fly, plate
    from variants.views.region import picture_notes

    layout, first = load_layout(folders), adaptations[0].design
    size = first.base["hook"].attributes["size"]
    drawn = [draw_fly(first, layout, captioned=False, stated=True)]
    notes = [[f"as written, hook size {size}"]]
    for one in adaptations:
        assert one.chosen is not None  # only those with a front are drawn
        drawn.append(draw_fly(one.design, layout, one.chosen.variant, captioned=False))
        notes.append(picture_notes(one))
    return plate(drawn, notes, columns=2, caption=first.request.base.name)
