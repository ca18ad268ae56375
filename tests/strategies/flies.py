"""Small random dressings and boxes made of the real tables."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.real import box, fly
from variants.model import Box, Dressing

HACKLES = ["rooster-neck-dry", "rooster-saddle-dry", "hen-neck", "badger-hackle"]
BODIES = ["synthetic-fine-dubbing", "muskrat-dubbing", "silk-floss", "peacock-herl", "mole-dubbing"]
TAILS = ["rooster-spade", "rooster-neck-dry", "coq-de-leon"]
WINGS = ["duck-quill-slip", "starling-quill", "hackle-tips", "mallard-flank"]
COLOURS = ["ginger", "black", "medium-olive", "grizzly", "cree", "white"]
FIXED = (
    "hooks 14,hook-dry-standard,,14,,20 hooks,",
    "hooks 16,hook-dry-standard,,16,,20 hooks,",
    "thread,thread-polyester,black,,,30 m,",
)
#: Lengths that cover every hook of the dressings.
ANY_LENGTH = "2-30 mm"
_COLUMNS = "item,material,colour,sizes,length,amount,side"
_FEATHERS = {*HACKLES, *TAILS, *WINGS}


def held(told: list[str]) -> Box:
    """Return a box of these rows."""
    return box(told, _COLUMNS)


def dressings(*, mixed: bool = True) -> st.SearchStrategy[Dressing]:
    """Dry flies, some with a wing, some (if ``mixed``) with two feathers wound together."""
    return st.builds(
        _fly,
        st.sampled_from(TAILS),
        st.sampled_from(BODIES),
        st.none() | st.sampled_from(WINGS),
        st.lists(st.sampled_from(HACKLES), min_size=1, max_size=2 if mixed else 1),
        st.lists(st.sampled_from(COLOURS), min_size=5, max_size=5),
        st.booleans(),
    )


def _fly(
    tail: str, body: str, wing: str | None, hackles: list[str], colours: list[str], ours: bool
) -> Dressing:
    parts = {"hook": "hook-dry-standard", "thread": "thread-polyester, black"}
    parts |= {"tail": f"{tail}, {colours[0]}", "body": f"{body}, {colours[1]}"}
    if wing is not None:
        parts["wing"] = f"{wing}, {colours[2]} | signature = {'true' if ours else 'false'}"
    parts["hackle"] = f"{hackles[0]}, {colours[3]}"
    if len(hackles) > 1 and colours[3] != colours[4]:
        second = f'material = "{hackles[1]}", colour = "{colours[4]}"'
        parts["hackle"] += f" | also = [{{ {second} }}]"
    return fly(parts, sizes="14,16")


def row(number: int | str) -> st.SearchStrategy[str]:
    """One thing of a box: some with sizes, some measured, some scarce, some one side only."""

    def told(material: str, colour: str, sizes: str, length: str, amount: str, side: str) -> str:
        if material not in _FEATHERS:
            sizes, length, amount = "", "", ""
        elif sizes:
            length = ""
        side = side if material in WINGS else ""
        return f"thing {number},{material},{colour},{sizes},{length},{amount},{side}"

    return st.builds(
        told,
        st.sampled_from(HACKLES + BODIES + TAILS + WINGS),
        st.sampled_from(COLOURS),
        st.sampled_from(["", "12-16", "16-20", "10"]),
        st.sampled_from(["", ANY_LENGTH, "5-8 mm", "3 mm"]),
        st.sampled_from(["", "1 piece", "2 pieces", "30 pieces", "0 pieces"]),
        st.sampled_from(["", "left", "right", "pair"]),
    )


def rows() -> st.SearchStrategy[list[str]]:
    """The rows of a box: hooks and thread, and two to nine other things."""
    return st.integers(2, 9).flatmap(
        lambda count: st.tuples(*(row(number) for number in range(count))).map(
            lambda more: [*FIXED, *more]
        )
    )


def rows_of(dressing: Dressing) -> list[str]:
    """Return the rows of a box that holds a dressing, every feather of it in any length."""
    return [
        *FIXED,
        *(
            f"own {part.id} {number},{one.material.id},{one.colour.id if one.colour else ''},,"
            f"{ANY_LENGTH if one.material.id in _FEATHERS else ''},,"
            for part in dressing.parts
            if part.id not in ("hook", "thread")
            for number, one in enumerate(part.ingredients)
        ),
    ]
