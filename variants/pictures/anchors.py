"""Where on a drawing each part may be pointed at, so that it can be named beside it."""

from __future__ import annotations

from dataclasses import dataclass

from variants.geometry import PartShape
from variants.model import HEAD, HOOK, THREAD
from variants.pictures.paper import Paper, Point
from variants.pictures.profile import FlyView
from variants.pictures.spine import Spine
from variants.pictures.wings import SPENT_NEAR_DEG, is_spent

#: What stands so is named above the fly; all else is named below it.
_ABOVE = ("above", "upright", "beside")


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


def anchors_of(paper: Paper, fly: FlyView, spine: Spine, corner: Point) -> dict[str, Anchor]:
    """Return where each part that is seen may be pointed at.

    Parameters
    ----------
    paper : Paper
    fly : FlyView
    spine : Spine
    corner : Point
        The picture's upper left corner, in SVG's directions.
    """

    def on_page(place: Point) -> Point:
        return paper.eye_mm - place[0] - corner[0], -place[1] - corner[1]

    found: dict[str, Anchor] = {}
    shapes = {shape.part: shape for shape in fly.shown}
    for part, shape in shapes.items():
        place = on_page(_place(fly, spine, shape))
        span = None
        if shape.kind.form in ("band", "body", "thorax") and shape.cone is not None:
            below = -shape.cone.front_mm / 2 - 0.3
            rear, front = (
                on_page(spine.stand(at, below)) for at in (shape.rear_mm, shape.front_mm)
            )
            span = rear, front
            place = ((rear[0] + front[0]) / 2, (rear[1] + front[1]) / 2)
        is_above = shape.kind.stands in _ABOVE and not is_spent(shape)
        found[part] = Anchor(place, is_above, span)
    *_, end = spine.controls
    low = (end[0] + 0.15 * fly.geometry.hook.gape_mm, end[1])
    found[HOOK] = Anchor(on_page(low), is_above=False)
    head = shapes[HEAD]
    found.setdefault(THREAD, Anchor(on_page(_place(fly, spine, head)), is_above=False))
    return found


def _place(fly: FlyView, spine: Spine, shape: PartShape) -> Point:
    kind, middle = shape.kind, (shape.rear_mm + shape.front_mm) / 2
    length, up = shape.length_mm or 0.0, fly.height_mm(middle)
    root = spine.stand(middle)
    if kind.stands == "rear":
        return spine.away(shape.rear_mm, spine.stand(shape.rear_mm), shape.angle_deg * 0.7,
                          length * 0.6)  # fmt: skip
    if kind.hangs:
        return spine.away(middle, root, -shape.angle_deg, length * 0.7)
    if kind.form == "wound":
        look = fly.hackle(shape)
        if look.manner == "flat":
            return spine.stand(middle + length * 0.7, fly.foot_of_post(shape))
        lean = 90.0 if look.manner == "collar" else shape.angle_deg
        return spine.away(middle, root, -lean, length * 0.72 + up)
    if is_spent(shape):
        return spine.away(middle, root, SPENT_NEAR_DEG, length * 0.4)
    if kind.form == "rib":
        turn = (shape.front_mm - shape.rear_mm) / max(1, shape.counts.get("turns", 1))
        return spine.stand(shape.rear_mm + turn * 0.7, -up)
    if kind.form == "strip":
        return spine.stand(middle, up * 1.1)
    if kind.form in ("head", "bead"):
        return spine.stand(middle, -(shape.cone.front_mm / 2 if shape.cone else 0.0) * 0.7)
    return spine.away(middle, root, shape.angle_deg, length * 0.8 + up)
