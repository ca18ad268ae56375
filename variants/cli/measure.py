"""`flykin measure`: a style's proportions for hook sizes, in mm, inches and gauge sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from variants.cli.answers import entry_named, hook_named, hook_sizes
from variants.cli.gathering import gather

if TYPE_CHECKING:
    from variants.geometry import Gauge
    from variants.geometry.targets import Target
    from variants.reading.words import Custom
    from variants.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class MeasureOptions:
    """What the command was asked, as it was typed."""

    sizes: str | None
    gauge_file: str | None
    reading: str | None
    as_json: bool
    folders: tuple[str, ...]


@click.command("measure", short_help="How long each part should be, for the gauge.")
@click.option("--style", required=True, help="Style of the fly, such as 'dry upright'.")
@click.option("--size", "--sizes", "sizes",
              help="Hook sizes, such as 14 or 10-18; without, the usual ones.")  # fmt: skip
@click.option("--hook", help="Model of hook; without, the one usual in the style.")
@click.option("--gauge", "gauge_file", metavar="FILE",
              help="Readings of known lengths on your gauge: a sheet of known,read.")  # fmt: skip
@click.option("--reading", metavar="LENGTH", help="What your gauge shows, to be set right.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
@gather(MeasureOptions)
def command(style: str, hook: str | None, options: MeasureOptions) -> None:
    """Tell how long each part of a style should be on a hook, and what is still right.

    A gauge that reads long or short is set right by a few readings of known lengths.

    \b
    Example:
      flykin measure --style "dry upright" --sizes 12-16 \\
             --gauge examples/gauge.csv
    """
    from variants.geometry import read_gauge
    from variants.geometry.targets import targets
    from variants.rulebook import load_rulebook

    if options.reading and not options.gauge_file:
        raise click.UsageError("--reading is set right by --gauge FILE: name your readings.")
    rulebook = load_rulebook(options.folders)
    kind = entry_named("--style", style, rulebook.trade.style_names, "style")
    usual = _usual_hook(rulebook, kind.id, options.folders)
    hook = hook or (usual.material if usual else None)
    if hook is None:
        raise click.UsageError(f"No custom tells the hook of a {kind.name}: name it by --hook.")
    model = hook_named(hook, rulebook.trade)
    sizes = hook_sizes(options.sizes)
    sizes = sizes or (usual.sizes if usual else tuple(sorted(rulebook.scale)))
    gauge_file = options.gauge_file
    gauge = None if gauge_file is None else read_gauge(gauge_file)
    reading_mm = _length("--reading", options.reading)
    found = targets(rulebook, kind.id, sizes, model)
    if options.as_json:
        _print_json(found, gauge, reading_mm)
        return
    from variants.views.measures import gauge_lines, target_lines

    click.echo(f"{kind.name} on the {model.name}\n")
    click.echo("\n".join(target_lines(found, rulebook.trade, gauge)))
    if gauge is not None:
        click.echo("\n" + "\n".join(gauge_lines(gauge, reading_mm, _shown_size(rulebook))))


def _usual_hook(rulebook: Rulebook, style: str, folders: Sequence[str]) -> Custom | None:
    """Return the hook and sizes on which a style is tied by custom, if custom tells."""
    from pathlib import Path

    from variants.reading import own_rules_folder
    from variants.reading.words import load_glossary

    glossary = load_glossary([own_rules_folder(), *map(Path, folders)], rulebook.trade)
    return glossary.customs.of(style, "hook", None)


def _shown_size(rulebook: Rulebook) -> Any:
    from functools import partial

    from variants.geometry.targets import gauge_size

    return partial(gauge_size, rulebook)


def _length(option: str, text: str | None) -> float | None:
    from variants.units import UnitError, millimetres, parse_quantity

    if text is None:
        return None
    try:
        return millimetres(parse_quantity(text))
    except (UnitError, ValueError) as problem:
        raise click.BadParameter(f"{problem}; write 7.5 mm or 5/16 in", param_hint=option) from None


def _print_json(found: list[Target], gauge: Gauge | None, reading_mm: float | None) -> None:
    import json
    from dataclasses import asdict

    told: dict[str, Any] = {"version": 1, "targets": [asdict(one) for one in found]}
    if gauge is not None:
        told["gauge"] = {**asdict(gauge), "uncertainty_mm": gauge.uncertainty_mm}
        if reading_mm is not None:
            told["gauge"]["true_mm"] = gauge.true_mm(reading_mm)
    click.echo(json.dumps(told, indent=2, ensure_ascii=False))
