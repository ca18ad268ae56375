"""Rule files (TOML) to rules: every field checked, every attribute and part known, nothing run."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from variants.model import Origin, Trade
from variants.reading import Faults, TomlDocument
from variants.rulebook.kind_fields import KIND_FIELDS
from variants.rulebook.kinds import KINDS, WATERS, Rule
from variants.rulebook.rule_record import RuleRecord
from variants.text import shown

_NO_RULES = ("is no file of rules", "it holds tables [[rule]] and no more")


def read_rules(
    path: Path, trade: Trade, faults: Faults, *, with_cases: bool = False
) -> dict[str, Rule]:
    """Read the rules of one file by id, noting every fault; the file holds tables ``[[rule]]``.

    The cases under ``keeps`` and ``breaks`` are for tests and `flykin check`; an answer to a tyer
    does not wait for them.
    """
    document = TomlDocument.read(path)
    if set(document.value) != {"rule"}:
        faults.add(document.origin(()), *_NO_RULES)
        return {}
    return rules_of(document, trade, faults, with_cases=with_cases)


def rules_of(
    document: TomlDocument, trade: Trade, faults: Faults, *, with_cases: bool = False
) -> dict[str, Rule]:
    """Return the rules in a document's tables ``[[rule]]``, by id, noting every fault."""
    tables = document.value.get("rule", [])
    if not isinstance(tables, list):
        faults.add(document.origin(("rule",)), *_NO_RULES)
        return {}
    rules: dict[str, Rule] = {}
    for index, table in enumerate(tables):
        record = RuleRecord(document, index, table, trade, faults, with_cases)
        rule = _rule(record, faults)
        if rule is not None and rule.id in rules:
            record.fields.wrong("id", f"the rule '{rule.id}' is given twice", "rename one of them")
        elif rule is not None:
            rules[rule.id] = rule
    return rules


def _rule(record: RuleRecord, faults: Faults) -> Rule | None:
    noted = len(faults)
    kind = record.fields.choice("kind", KINDS, None)
    common = _common(record)
    if kind not in KINDS:
        return None
    own = KIND_FIELDS[kind](record)
    record.fields.finish()
    return None if len(faults) > noted else KINDS[kind](**common, **own)


def _common(record: RuleRecord) -> dict[str, Any]:
    """Return the fields that every rule has."""
    fields = record.fields
    styles = [
        fields.lookup("styles", name, record.trade.style_names, "style")
        for name in fields.words("styles")
    ]
    waters = fields.words("waters")
    for water in waters:
        if water not in WATERS:
            fields.wrong("waters", f"{shown(water)} is no water", "write slow, medium or fast")
    rule_id = fields.text("id", None)
    named = record.trade.with_likes(style.id for style in styles if style)
    return {
        "id": rule_id,
        "says": fields.text("says", None),
        "source": fields.text("source", None),
        "styles": frozenset(
            style for style in named if rule_id not in record.trade.styles[style].sets_aside
        ),
        "waters": frozenset(waters),
        "weight": fields.number("weight", 0, 100),
        "school": fields.text("school"),
        "beside": record.part("beside") if fields.has("beside") else "",
        "without": record.part("without") if fields.has("without") else "",
        "keeps": record.flies("keeps"),
        "breaks": record.flies("breaks"),
        # Lines are looked up only where somebody checks the file: that takes a second parser.
        "origin": record.document.origin(("rule", record.index))
        if record.with_cases
        else Origin(record.document.file),
    }
