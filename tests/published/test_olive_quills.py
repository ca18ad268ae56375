"""The olive quills of 1886: from the dark one, with the parts of a sibling, comes the sibling.

Dark: dark or medium starling wing, peacock quill body dyed dark, dark olive hackle and whisk.
Medium: light starling, quill dyed medium olive, medium olive hackle and whisk.
Pale: palest starling, pale quill slightly dyed, palest olive hackle and whisk.
"""

import pytest

from tests.real import box, fly, propose

DARK = {
    "hook": "dry fly hook",
    "thread": "silk tying thread, primrose",
    "tail": "rooster-spade, dark olive",
    "body": "stripped peacock quill, dark olive",
    "wing": "starling wing quill, dark starling",
    "hackle": "rooster-neck-dry, dark olive",
}
SIBLINGS = {
    "medium": ("light starling", "medium olive"),
    "pale": ("palest starling", "pale olive"),
}


@pytest.mark.source("halford-1886", "list of dressings, Nos. 4 to 6")
@pytest.mark.parametrize("sibling", SIBLINGS)
def test_a_box_for_the_sibling_gives_the_sibling_part_for_part(sibling: str) -> None:
    wing, olive = SIBLINGS[sibling]
    stock = box(
        [
            "hooks,dry fly hook,,14,,20 hooks",
            "silk,silk tying thread,primrose,,,30 m",
            f"whisks,rooster-spade,{olive},,12-20 mm,30 feathers",
            f"quill,stripped peacock quill,{olive},,,20 strands",
            f"slips,starling wing quill,{wing},,,12 pairs",
            f"cape,rooster-neck-dry,{olive},12-18,,60 feathers",
        ]
    )
    _design, found = propose(fly(DARK), stock, best=1)
    chosen = found[0].chosen
    assert set(found[0].changed) == {"tail", "body", "wing", "hackle"}
    assert {part: [one.id for one in chosen[part].items[0]] for part in chosen} == {
        "hook": ["hooks"],
        "thread": ["silk"],
        "tail": ["whisks"],
        "body": ["quill"],
        "wing": ["slips"],
        "hackle": ["cape"],
    }
