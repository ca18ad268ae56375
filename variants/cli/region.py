"""`flykin region`: a dressing adapted to a water and what lives in it, within the law there."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import did_you_mean
from variants.cli.places import law_of, law_told, parts_of, place_in
from variants.cli.requests import request_of

if TYPE_CHECKING:
    from variants.model import Box, Dressing
    from variants.model.region import Natural
    from variants.regions import Adaptation, Place, Target
    from variants.rulebook import Rulebook

NO_VARIANT = 1


@click.command("region", short_help="A dressing adapted to a water, within the law there.")
@click.argument("dressing")
@click.option("--region", required=True, metavar="FILE",
              help="The region: its waters, naturals, rules.")  # fmt: skip
@click.option("--on", metavar="WATER", help="Which water, where the region has several.")
@click.option("--month", help="Only naturals of this month, such as May.")
@click.option("--natural", metavar="NAME", help="Which natural the fly shall be.")
@click.option("--box", help="Your box: a CSV file, or - for standard input.")
@click.option("--kin", type=click.FloatRange(0, 10), metavar="DEPARTURE",
              help="How far a variant may depart and still be kin.")  # fmt: skip
@click.option("--missing", multiple=True, help="A part, item or material that is gone.")
@click.option("--keep", multiple=True, help="A part that must stay as written.")
@click.option("--explain", "explained", type=click.IntRange(1), metavar="N",
              help="Explain variant N: numbers, rules, sources.")  # fmt: skip
@click.option("--chart", metavar="FILE", help="Write the chart: .svg or .png.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(dressing: str, region: str, folders: tuple[str, ...], **options: Any) -> None:
    """Adapt DRESSING to a water of a region: hook, colours, turns, how it sinks.

    Each variant has two numbers: its departure from the dressing, and its distance to what the
    water and the natural ask. Those are shown that no other beats in both. Without a box it is told
    what to aim for.

    \b
    Example:
      flykin region examples/dressings/ferrymans-dun.toml \\
             --region examples/regions/cragside-burn.toml --box examples/box.csv
    """
    from variants.reading import read_box, read_dressing
    from variants.regions import load_weights, target_for
    from variants.rulebook import load_rulebook

    if [dressing, region, options["box"]].count("-") > 1:
        raise click.UsageError("Only one of DRESSING, --region and --box can be standard input.")
    out = None if options["chart"] is None else Path(options["chart"])
    if out is not None and out.suffix not in (".svg", ".png"):
        raise click.BadParameter(f"'{out}' should end in .svg or .png", param_hint="--chart")
    rulebook = load_rulebook(folders)
    base = read_dressing(dressing, rulebook.trade)
    place = place_in(region, options["on"], rulebook, folders)
    weights = load_weights(rulebook.trade, folders)
    naturals = _naturals(place, options["month"], options["natural"])
    target = target_for(base, place, rulebook, weights, naturals)
    if options["box"] is None:
        _show_target(base, target, rulebook, folders)
        return
    box = read_box(options["box"], rulebook.trade)
    adaptation = _adapted(base, box, rulebook, target, options)
    _show(adaptation, rulebook, folders, options)
    if out is not None and adaptation.front:
        _write_chart(adaptation, out)
    if not adaptation.front:
        sys.exit(NO_VARIANT)


def _naturals(place: Place, month: str | None, name: str | None) -> tuple[Natural, ...]:
    """Return the naturals that the options leave to choose from."""
    from variants.model import plain
    from variants.reading import shown
    from variants.reading.regions import MONTHS

    naturals = place.region.naturals
    if month is not None:
        known = {plain(one): number for number, one in enumerate(MONTHS, start=1)}
        if plain(month) not in known:
            hint = did_you_mean(plain(month), known)
            raise click.BadParameter(f"{shown(month)} is not a month{hint}", param_hint="--month")
        naturals = place.region.naturals_in(known[plain(month)])
        if not naturals:
            told = f"no natural of {place.region.name} is on in {month}"
            raise click.BadParameter(told, param_hint="--month")
    if name is not None:
        names = {plain(one.name): one for one in naturals}
        if plain(name) not in names:
            hint = did_you_mean(plain(name), names)
            when = f" in {month}" if month else ""
            told = f"{shown(name)} is no natural of {place.region.name}{when}{hint}"
            raise click.BadParameter(told, param_hint="--natural")
        return (names[plain(name)],)
    return naturals


def _adapted(
    base: Dressing, box: Box, rulebook: Rulebook, target: Target, options: dict[str, Any]
) -> Adaptation:
    from variants.regions import adapt

    asked = request_of(base, box, rulebook, {**options, "water": None})
    return adapt(
        base,
        box,
        rulebook,
        target,
        within=options["kin"],
        missing=asked.missing,
        keep=asked.keep,
    )


def _show_target(
    base: Dressing, target: Target, rulebook: Rulebook, folders: tuple[str, ...]
) -> None:
    from variants.views.region import target_lines
    from variants.views.words import printable

    lines = [f"{printable(base.name)} for {target.place.name}", "", *target_lines(target, base), ""]
    lines += law_of(target.place, base.parts, rulebook, folders)
    click.echo("\n".join(lines))


def _show(
    adaptation: Adaptation, rulebook: Rulebook, folders: tuple[str, ...], options: dict[str, Any]
) -> None:
    from variants.views.region import region_lines

    if options["as_json"]:
        import json

        from variants.views.region_json import adaptation_json

        parts = parts_of(one.variant for one in adaptation.front)
        law = law_told(adaptation.target.place, parts, rulebook, folders)
        told = adaptation_json(adaptation, law)
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    elif options["explained"] is not None:
        _show_explanation(adaptation, options["explained"])
    else:
        parts = parts_of(one.variant for one in adaptation.front)
        lines = [*region_lines(adaptation), ""]
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


def _write_chart(adaptation: Adaptation, out: Path) -> None:
    from variants.cli.pictures import write_picture
    from variants.drawing import front_chart

    write_picture(front_chart(adaptation), out)
