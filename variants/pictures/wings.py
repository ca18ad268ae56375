"""Wings, tails and other feathers by what they are of: slips, tips, sheets, hair, barbs, wisps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import atan, cos, degrees, pi, radians, sin
from xml.etree import ElementTree as ET

from variants.geometry import FeatherLook, PartShape
from variants.pictures.blades import Blade, draw_fold, draw_sheet, draw_slip, draw_tip
from variants.pictures.bunches import Bunch, draw_bunch
from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Point
from variants.pictures.spine import Axis, Spine

_BLADES: dict[str, Callable[[Paper, ET.Element, Blade, Inks, bool], None]] = {
    "slip": draw_slip, "tip": draw_tip, "sheet": draw_sheet,
}  # fmt: skip
#: Below this angle to the shank a wing lies out to the sides.
SPENT_BELOW_DEG = 3.0
_UPRIGHT_FROM_DEG = 60.0
#: What points at who looks is drawn downward, what points away upward, this much shortened: the
#: fly is looked at from a little above, as it is at the bench.
_TOWARDS, _AWAY = 0.62, 0.42
SPENT_NEAR_DEG, _SPENT_FAR_DEG = -62.0, 68.0


@dataclass(frozen=True, slots=True)
class Mount:
    """Where a feather or bunch is tied in, and how it is seen.

    Attributes
    ----------
    along_mm, up_mm : float
    angle_deg : float
        To the shank, negative below it.
    length_mm : float
        As seen.
    measured : bool
        Whether it is seen in its full length.
    """

    along_mm: float
    up_mm: float
    angle_deg: float
    length_mm: float
    measured: bool = True


def is_spent(shape: PartShape) -> bool:
    """Tell whether a wing lies out to the sides."""
    return shape.kind.form == "wing" and shape.angle_deg < SPENT_BELOW_DEG


def draw_feather(
    paper: Paper, spine: Axis, shape: PartShape, inks: Sequence[Inks], look: FeatherLook,
    mount: Mount, *, pair: bool = False, far_too: bool = True,
) -> None:  # fmt: skip
    """Draw a wing, tail or bunch in the manner of its stuff.

    Parameters
    ----------
    pair : bool
        Whether blades come in pairs, the far one behind the near one.
    far_too : bool
        Whether the far one of a pair is drawn here.
    """
    group = paper.group(shape.part, data_manner=look.manner)
    root = spine.stand(mount.along_mm, mount.up_mm)
    if look.manner not in _BLADES:
        draw_bunch(paper, group, spine, _bunch(shape, look, mount, root), inks,
                   measured=mount.measured)  # fmt: skip
        return
    upright = mount.angle_deg > _UPRIGHT_FROM_DEG
    draw = _BLADES[look.manner]
    width = look.width if upright else look.width * 0.82
    if pair and far_too:
        lean = 10.0 if upright else 4.0
        far = _blade(spine, mount, root, width, lean)
        draw(paper, group, far, inks[-1].shade(-0.12), False)
    draw(paper, group, _blade(spine, mount, root, width, 0.0), inks[0], mount.measured)


def draw_spent(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], look: FeatherLook,
    up: float, near: bool,
) -> None:  # fmt: skip
    """Draw one of two wings that lie out to the sides, shortened as it is seen from the side."""
    along = (shape.rear_mm + shape.front_mm) / 2
    length = (shape.length_mm or 0.0) * (_TOWARDS if near else _AWAY)
    angle, height = (SPENT_NEAR_DEG, -up * 0.1) if near else (_SPENT_FAR_DEG, up * 0.75)
    wider = replace(look, width=look.width * (1.5 if near else 1.7))
    own = inks if near else [one.fade(0.25) for one in inks]
    mount = Mount(along, height, angle, length, measured=False)
    draw_feather(paper, spine, shape, own, wider, mount)


def _blade(spine: Axis, mount: Mount, root: Point, width: float, lean: float) -> Blade:
    angle = pi - radians(mount.angle_deg + lean) + spine.heading(mount.along_mm)
    out = (cos(angle), sin(angle))
    # The leading edge is the one towards the eye, or the upper one where it lies along the body.
    side = -1.0 if mount.angle_deg < 0 else 1.0
    return Blade(root, out, (out[1] * side, -out[0] * side), mount.length_mm, width)


def _bunch(shape: PartShape, look: FeatherLook, mount: Mount, root: Point) -> Bunch:
    upright = abs(mount.angle_deg) > _UPRIGHT_FROM_DEG
    spread = (
        2 * degrees(atan(look.width / 2)) * (1.0 if upright or look.manner == "fibres" else 0.7)
    )
    told = shape.counts.get("fibres") or shape.counts.get("strands")
    bare = Bunch(mount.along_mm, root, mount.angle_deg, mount.length_mm, spread, told or 0)
    if look.manner == "hair":
        return replace(bare, count=min(64, max(22, told or 56)), width_mm=0.06, uneven=0.14,
                       bow=0.035, thick_mm=0.42, wave=0.012, wash=0.75, thin=0.2)  # fmt: skip
    if look.manner == "wisps":
        return replace(bare, count=min(48, max(16, told or 40)), width_mm=0.055, uneven=0.28,
                       bow=-0.04, thick_mm=0.3, wave=0.09, wash=0.5, thin=0.25)  # fmt: skip
    count = min(48, max(3, told or (42 if shape.kind.form == "wing" else 14)))
    if count > 18:
        return replace(bare, count=count, width_mm=0.085, uneven=0.08, bow=0.02, thick_mm=0.3,
                       wash=0.3, thin=0.5)  # fmt: skip
    return replace(bare, count=count, width_mm=0.085, uneven=0.08, bow=0.02, thin=0.3)


def draw_wing_case(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], up: float
) -> None:
    """Draw a wing case: a strip drawn over the thorax."""
    group = paper.group(shape.part)
    span = shape.front_mm - shape.rear_mm
    places = (
        spine.stand(shape.rear_mm - span * 0.06, up * 0.62),
        spine.stand(shape.rear_mm + span * 0.3, up * 1.06),
        spine.stand(shape.front_mm - span * 0.25, up * 1.04),
        spine.stand(shape.front_mm + span * 0.02, up * 0.35),
    )
    draw_fold(paper, group, places, max(0.1, up * 0.16), inks[0])
