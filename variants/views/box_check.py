"""A box held against its journal, as a screen tells it: what was found, and what can be done."""

from __future__ import annotations

from pathlib import Path

from variants.box.audit import NOTES, Audit, AuditFinding, FindingKind
from variants.explain.wording import pluralize
from variants.text import printable
from variants.views.changes import change_words
from variants.views.columns import wrap, wrap_indented

_MOST_CHANGES = 12


def audit_lines(audit: Audit, name: str) -> list[str]:
    """Return what was found about a box, line by line.

    Parameters
    ----------
    audit : Audit
    name : str
        The box as the user named it.
    """
    is_gone = any(one.kind is FindingKind.BOX_GONE for one in audit.findings)
    items = "no box" if is_gone else "a box that can't be read"
    items = items if audit.items is None else pluralize(audit.items, "item")
    entries = "1 entry" if audit.entries == 1 else f"{audit.entries} entries"
    lines = wrap(f"{printable(name)}: {items}, {entries} in its journal", subsequent_indent="  ")
    if audit.agrees and audit.entries:
        lines.append("Box and journal agree to the last byte.")
    for one in audit.findings:
        lines += _finding_lines(one)
    return lines + _ways_out(audit, name)


def _finding_lines(finding: AuditFinding) -> list[str]:
    where = (
        f"Entry {finding.entry}: "
        if finding.entry and finding.kind is not FindingKind.BY_HAND
        else ""
    )
    mark = "Note: " if finding.kind in NOTES else ""
    says = finding.kind.value
    line = f"{where}{says}." if where else f"{says[0].upper()}{says[1:]}."
    lines = wrap(f"{mark}{line}", subsequent_indent="  ")
    if finding.detail:
        lines += [f"  {line}" for line in finding.detail.splitlines()]
    for change in finding.changes[:_MOST_CHANGES]:
        lines += wrap_indented(change_words(change), 2)
    if len(finding.changes) > _MOST_CHANGES:
        lines.append(f"  and {len(finding.changes) - _MOST_CHANGES} more")
    if finding.kind is FindingKind.BY_HAND and not finding.changes:
        lines.append("  comments, order or the way of writing only")
    return lines


def _ways_out(audit: Audit, name: str) -> list[str]:
    kinds = {one.kind for one in audit.findings}
    damaged = kinds & {FindingKind.DAMAGED, FindingKind.UNSOUND}
    lines: list[str] = []
    if damaged:
        what_for = "keeps the box as it stands and begins a new journal"
        lines += _way(f"flykin check --box {name} --new-journal", what_for)
    if audit.entries and (damaged or kinds & {FindingKind.BOX_GONE, FindingKind.BOX_FAULTY}):
        last = "up to the damage" if damaged else f"up to entry {audit.entries}"
        what_for = f"builds the box from the journal, {last}"
        lines += _way(f"flykin check --box {name} --rebuild", what_for)
    elif audit.entries and FindingKind.BY_HAND in kinds:
        what_for = "goes back to the box of the last entry"
        lines += _way(f"flykin check --box {name} --rebuild", what_for)
    if not lines:
        return []
    return ["", "What can be done (what is replaced is set aside, nothing is deleted)", *lines]


def _way(command: str, what_for: str) -> list[str]:
    return [f"  {printable(command)}", *wrap_indented(what_for, 6)]


def aside_lines(aside: list[Path]) -> list[str]:
    """Return what was set aside, line by line."""
    return [f"set aside: {printable(str(path))}" for path in aside]
