"""Flykin: the closest valid variants of a fly's dressing, from your own box, in proven order.

A base dressing and the trade's rules form a constraint problem; the solver proposes the closest
valid variants and a graph shows how each derives from the original. The functions and types named
here are the whole public library; versions are semantic, and ``CHANGELOG.md`` beside this file
tells what changed.

Examples
--------
A dressing, a box and the rules of the trade go in; the closest variants come out:

>>> import variants
>>> rules = variants.load_rules()
>>> dressing = variants.load_dressing("examples/dressings/ferrymans-dun.toml", rules)
>>> box = variants.load_box("examples/box.csv", rules)
>>> design, found = variants.propose(dressing, box, rules, missing=["body"], best=3)
>>> [variant.rank for variant in found]
[1, 2, 3]
>>> found[0].departure <= found[1].departure <= found[2].departure
True
>>> found[0].changed
('body',)
>>> found[0].chosen["body"].words
'beaver fur'

Every variant has its reasons: what differs, by how much, and which rule was tested with which
numbers, each with its source.

>>> body = next(one for one in variants.reasons(design, found[0]).parts if one.part == "body")
>>> sum(term.cost for term in body.terms) == found[0].chosen["body"].cost
True
>>> body.judgements[0].rule.source != ""
True

How the variants descend from the dressing, what one fly uses, and its picture:

>>> graph = variants.derive(design, found)
>>> len(graph) > len(found)
True
>>> hackle = next(one for one in variants.uses(design, found[0]) if one.part == "hackle")
>>> hackle.pieces
1.0
>>> variants.draw(design, found[0]).startswith("<svg")
True

The same dressing for a water and what lives in it, within the law there: no variant left out is
nearer both to the dressing and to what is asked.

>>> (burn,) = variants.load_region("examples/regions/skirl-burn.toml", rules)
>>> answer = variants.adapt(dressing, box, rules, burn, natural="slate dun")
>>> answer.chosen in answer.front, answer.target.hook_size
(True, 15)

When nothing can be tied, everything that is in the way, and what would help:

>>> design, found = variants.propose(dressing, box, rules, keep=["body"])
>>> found
[]
>>> why, ways = variants.why_not(design)
>>> why.empty_parts
('body',)
>>> ways[0].says
'let the body change'

Bad input raises `InputError` with every fault, each with its file, line and field:

>>> try:
...     variants.load_box("examples/batch.toml", rules)
... except variants.InputError as problem:
...     print(problem.faults[0].origin)
examples/batch.toml:2
"""

from __future__ import annotations

#: Type checkers take it for true; importing it takes longer than all else here.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from variants.api import (
        Box,
        DesignProblem,
        Dressing,
        Explanation,
        InputError,
        Rulebook,
        Variant,
        adapt,
        derive,
        draw,
        instead,
        load_box,
        load_dressing,
        load_region,
        load_rules,
        propose,
        read_words,
        reasons,
        uses,
        why_not,
    )

__version__ = "0.2.0"
__all__ = [
    "Box",
    "DesignProblem",
    "Dressing",
    "Explanation",
    "InputError",
    "Rulebook",
    "Variant",
    "__version__",
    "adapt",
    "derive",
    "draw",
    "instead",
    "load_box",
    "load_dressing",
    "load_region",
    "load_rules",
    "propose",
    "read_words",
    "reasons",
    "uses",
    "why_not",
]


def __getattr__(name: str) -> object:
    """Load the public functions when first asked for: `import variants` itself stays light."""
    if name in __all__:
        import variants.api

        return getattr(variants.api, name)
    raise AttributeError(f"module 'variants' has no attribute '{name}'")


def __dir__() -> list[str]:
    """Name what is public, before it has been loaded too."""
    return list(__all__)
