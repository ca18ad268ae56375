"""`flykin check`: validate dressings, boxes, batches, prices, gauges, regions and rule folders."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from variants.cli.group import InputRefused

if TYPE_CHECKING:
    from variants.model import Dressing
    from variants.rulebook import Rulebook

#: The exit code where box and journal do not agree.
NOT_AGREED = 1
#: Sheets are files of these kinds; all else is TOML.
_SHEETS = (".csv", ".tsv", ".xlsx")


@click.command("check", short_help="Check any of your files, and folders of rules.")
@click.argument("files", nargs=-1)
@click.option("--box", help="Hold a box against its journal.")
@click.option("--rebuild", is_flag=True, help="Build the box again from its journal.")
@click.option("--new-journal", is_flag=True,
              help="Begin another journal with the box as it stands.")  # fmt: skip
@click.option("--rules", "folders", multiple=True, metavar="FOLDER",
              help="A folder of your own rules and tables.")  # fmt: skip
def command(
    files: tuple[str, ...],
    box: str | None,
    rebuild: bool,
    new_journal: bool,
    folders: tuple[str, ...],
) -> None:
    """Check FILES, and tell what each of them is.

    Dressings, batches and regions are TOML; boxes, prices and gauges are sheets (CSV, TSV, XLSX),
    told apart by the names of their columns; a folder holds rules and tables.

    With --box a box is held against the journal of what Flykin did to it; what does not fit is
    explained, and the box can be built again. Exit code 1: they do not agree.

    \b
    Example:
      flykin check examples/dressings/*.toml examples/box.csv
    """
    if not files and box is None:
        raise click.UsageError("Name files to check, or a box with --box.")
    if (rebuild or new_journal) and box is None:
        raise click.UsageError("Name the box with --box.")
    if rebuild and new_journal:
        raise click.UsageError("Either --rebuild or --new-journal.")
    refused = _check_files(files, folders) if files else 0
    agrees = box is None or _check_box(box, rebuild, new_journal, folders)
    if refused:
        sys.exit(InputRefused.exit_code)
    if not agrees:
        sys.exit(NOT_AGREED)


def _check_box(box: str, rebuild: bool, new_journal: bool, folders: tuple[str, ...]) -> bool:
    """Print how a box and its journal stand to each other; return whether they agree."""
    from variants.box import audit as audits
    from variants.rulebook import load_rulebook
    from variants.views.box_check import aside_lines, audit_lines

    if rebuild or new_journal:
        aside = audits.rebuild(box) if rebuild else audits.restart_journal(box)
        for line in aside_lines(aside):
            click.echo(line)
    found = audits.audit(box, load_rulebook(folders).trade)
    click.echo("\n".join(audit_lines(found, box)))
    return found.agrees


def _check_files(files: tuple[str, ...], folders: tuple[str, ...]) -> int:
    """Print what each file is; return how many were refused."""
    from variants.reading import InputError
    from variants.rulebook import load_rulebook

    rulebook = load_rulebook(folders)
    refused = 0
    for file in files:
        path = Path(file)
        try:
            told: list[str] = []
            if path.is_dir():
                found, told = _folder(path, folders)
            elif path.suffix.lower() in _SHEETS:
                found = _sheet(path, rulebook)
            else:
                found = _document(path, rulebook, folders)
            click.echo("\n".join([f"{file}: good: {found}", *(f"  {line}" for line in told)]))
        except InputError as problem:
            refused += 1
            click.echo(str(problem), err=True)
    return refused


def _folder(path: Path, folders: Sequence[str]) -> tuple[str, list[str]]:
    """Return what a folder of rules is, and what of its parts and styles no table speaks of."""
    from variants.geometry import load_layout
    from variants.reading import InputError, own_rules_folder
    from variants.reading.words import read_customs, read_tellings
    from variants.regions import load_law
    from variants.rulebook import find_clashes, judge_cases, load_rulebook, without_cases
    from variants.views.sheet import load_steps, uncovered

    every: tuple[str | Path, ...] = (*folders, path)
    own = load_rulebook(every, with_cases=True)
    load_law(own.trade, every)
    layout, steps = load_layout(every), load_steps(own.trade, every)
    readers = [own_rules_folder(), *map(Path, every)]
    customs, tellings = read_customs(readers, own.trade), read_tellings(readers, own.trade)
    here = [rule for rule in own.rules if Path(rule.origin.file).is_relative_to(path)]
    faults = [*judge_cases(here), *find_clashes(own.rules, {rule.id for rule in here})]
    if faults:
        raise InputError(faults)
    told = uncovered(own, layout, steps, customs, tellings)
    told += [
        f"the rule {id_}: no flies under keeps and breaks show that it says what it means"
        for id_ in without_cases(here)
    ]
    return f"{len(own.rules)} rules with those that come with Flykin", told


def _sheet(path: Path, rulebook: Rulebook) -> str:
    from variants.geometry import read_gauge
    from variants.reading import read_box, read_header, read_sheet
    from variants.reading.prices import read_prices

    names = read_header(read_sheet(path))
    if "item" not in names and {"known", "read"} & names:
        return f"a gauge, {read_gauge(path).readings} readings"
    if "item" not in names and "price" in names:
        return f"a file of {len(read_prices(path, rulebook.trade).rows)} prices"
    return f"a box of {len(read_box(path, rulebook.trade).items)} items"


def _document(path: Path, rulebook: Rulebook, folders: Sequence[str]) -> str:
    from variants.reading import InputError, TomlDocument, parse_dressing
    from variants.reading.batches import is_batch, read_batch
    from variants.reading.regions import is_region
    from variants.regions import load_law, places_of
    from variants.rulebook import find_clashes

    document = TomlDocument.read(path)
    if is_region(document):
        law = load_law(rulebook.trade, folders)
        places = places_of(document, rulebook.trade, law)
        region = places[0].region
        own = {rule.id for rule in places[0].rules}
        faults = find_clashes(places[0].joined(rulebook).rules, own)
        if faults:
            raise InputError(faults)
        return f"the region “{region.name}”, {len(region.naturals)} naturals"
    if is_batch(document):
        batch = read_batch(path, rulebook.trade)
        flies = sum(one.count for one in batch.flies)
        return f"the batch “{batch.name}”, {flies} flies of {len(batch.flies)} kinds"
    dressing = parse_dressing(document, rulebook.trade)
    style = rulebook.trade.styles[dressing.style].name
    told = f"the dressing “{dressing.name}”, {style}, {len(dressing.parts)} parts"
    return "\n".join([told, *_own_words(dressing, rulebook)])


def _own_words(dressing: Dressing, rulebook: Rulebook) -> list[str]:
    """Return a note for each count and measure that the dressing states against a rule."""
    from variants.design import Request, build_problem
    from variants.explain import judge_own_measures
    from variants.model import Box
    from variants.views.columns import wrap
    from variants.views.reasons import own_measure_words

    design = build_problem(Request(dressing, Box(())), rulebook)
    return [
        line
        for one in judge_own_measures(design)
        for line in wrap(own_measure_words(one), 80,
                         initial_indent="  note: ", subsequent_indent="        ")
    ]  # fmt: skip
