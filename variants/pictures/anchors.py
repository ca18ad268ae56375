"""Where on a drawing each part may be pointed at, so that it can be named beside it."""

from __future__ import annotations

from dataclasses import dataclass

from variants.geometry import PartShape
from variants.pictures.paper import Paper, Point
from variants.pictures.profile import Sitter
from variants.pictures.spine import Spine
from variants.pictures.wings import SPENT_NEAR_DEG, is_spent

#: Parts that are named above the fly; the others are named below it.
_ABOVE = ("wing", "post", "topping", "wing-case", "cheek", "eyes", "feelers")
_BUILT = ("tag", "tip", "butt", "body", "thorax")
_HANGING = ("throat", "legs")
_WOUND = ("hackle", "palmer", "collar")


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place to point at.

    Attributes
    ----------
    place : Point
        In mm from the picture's upper left corner.
    is_above : bool
        Whether the part is named above the fly.
    span : tuple of Point or None
        Both ends of a part that runs along the shank.
    """

    place: Point
    is_above: bool
    span: tuple[Point, Point] | None = None


def anchors_of(paper: Paper, sitter: Sitter, spine: Spine, corner: Point) -> dict[str, Anchor]:
    """Return where each part that is seen may be pointed at.

    Parameters
    ----------
    paper : Paper
    sitter : Sitter
    spine : Spine
    corner : Point
        The picture's upper left corner, in SVG's directions.
    """

    def on_page(place: Point) -> Point:
        return paper.eye_mm - place[0] - corner[0], -place[1] - corner[1]

    found: dict[str, Anchor] = {}
    shapes = {shape.part: shape for shape in sitter.shown}
    for part, shape in shapes.items():
        place = on_page(_place(sitter, spine, shape))
        span = None
        if part in _BUILT and shape.cone is not None:
            below = -shape.cone.front_mm / 2 - 0.3
            rear, front = (
                on_page(spine.stand(at, below)) for at in (shape.rear_mm, shape.front_mm)
            )
            span = rear, front
            place = ((rear[0] + front[0]) / 2, (rear[1] + front[1]) / 2)
        is_above = part in _ABOVE and not is_spent(shape)
        found[part] = Anchor(place, is_above, span)
    *_, end = spine.controls
    low = (end[0] + 0.15 * sitter.geometry.hook.gape_mm, end[1])
    found["hook"] = Anchor(on_page(low), is_above=False)
    head = shapes["head"]
    found.setdefault("thread", Anchor(on_page(_place(sitter, spine, head)), is_above=False))
    return found


def _place(sitter: Sitter, spine: Spine, shape: PartShape) -> Point:
    part, middle = shape.part, (shape.rear_mm + shape.front_mm) / 2
    length, up = shape.length_mm or 0.0, sitter.height_mm(middle)
    root = spine.stand(middle)
    if part in ("tail", "shuck"):
        return spine.away(shape.rear_mm, spine.stand(shape.rear_mm), shape.angle_deg * 0.7,
                          length * 0.6)  # fmt: skip
    if part in _HANGING:
        return spine.away(middle, root, -shape.angle_deg, length * 0.7)
    if part in _WOUND:
        look = sitter.hackle(part)
        if look.manner == "flat":
            return spine.stand(middle + length * 0.7, sitter.foot_of_post(shape))
        lean = 90.0 if look.manner == "collar" else shape.angle_deg
        return spine.away(middle, root, -lean, length * 0.72 + up)
    if part == "wing" and is_spent(shape):
        return spine.away(middle, root, SPENT_NEAR_DEG, length * 0.4)
    if part == "rib":
        turn = (shape.front_mm - shape.rear_mm) / max(1, shape.counts.get("turns", 1))
        return spine.stand(shape.rear_mm + turn * 0.7, -up)
    if part == "wing-case":
        return spine.stand(middle, up * 1.1)
    if part in ("head", "bead"):
        return spine.stand(middle, -(shape.cone.front_mm / 2 if shape.cone else 0.0) * 0.7)
    return spine.away(middle, root, shape.angle_deg, length * 0.8 + up)
