"""The fly in profile: every part laid on the paper in its manner, what lies farther off first."""

from __future__ import annotations

import hashlib
import random
from collections.abc import Mapping
from dataclasses import dataclass, replace

from variants.geometry import (
    Cone,
    FeatherLook,
    FlyGeometry,
    HackleLook,
    Layout,
    PartShape,
    Texture,
    stuffs_of,
)
from variants.model import HEAD, THREAD, Candidate
from variants.pictures.bodies import (
    draw_ball,
    draw_bead,
    draw_body,
    draw_head,
    draw_rib,
    draw_thread_base,
)
from variants.pictures.bunches import Bunch, draw_bunch
from variants.pictures.hackles import draw_flat, draw_wound
from variants.pictures.hook import draw_hook
from variants.pictures.inks import Inks, inks_of
from variants.pictures.paper import INK, Paper
from variants.pictures.spine import Spine
from variants.pictures.wings import Mount, draw_feather, draw_spent, draw_wing_case, is_spent


@dataclass(frozen=True)
class FlyView:
    """What is drawn: a fly, what fills its parts, and the tables that say how it looks."""

    geometry: FlyGeometry
    layout: Layout
    chosen: Mapping[str, Candidate]

    @property
    def shown(self) -> list[PartShape]:
        """The parts that are seen, what lies farther off first; the head is always one of them."""
        seen = [
            shape
            for part, shape in self.geometry.parts.items()
            if part == HEAD or (shape.kind.is_seen and self.is_filled(part))
        ]
        return sorted(seen, key=lambda shape: shape.kind.layer)

    @property
    def thread(self) -> Inks:
        """The inks of the tying thread."""
        return self.inks(THREAD)[0] if THREAD in self.chosen else Inks((INK,))

    @property
    def is_covered_in_front(self) -> bool:
        """Whether anything is wound over the shank between the body and the head."""
        return any(
            shape.kind.form == "thorax" or self.hackle(shape).manner != "flat"
            for shape in self.shown
            if shape.kind.goes_in_front
        )

    def is_filled(self, part: str) -> bool:
        """Tell whether there is anything in a part."""
        return part in self.chosen and bool(self.chosen[part].ingredients)

    def hackle(self, shape: PartShape) -> HackleLook:
        """Return how a hackle stands on this fly."""
        kinds = {part: one.kind for part, one in self.geometry.parts.items()}
        stuffs = stuffs_of(self.chosen, {}, kinds)
        return self.layout.looks.hackle(self.geometry.styles, shape.kind.lineage, stuffs)

    def feather(self, shape: PartShape) -> FeatherLook:
        """Return how what is tied in by its butts looks."""
        material = self.chosen[shape.part].ingredients[0].material
        return self.layout.looks.feather(shape.kind.lineage, material.id, material.kind)

    def seed(self, part: str) -> str:
        """Return what seeds chance for a part: the same stuff in it is the same drawing."""
        filled = self.chosen[part].identity if part in self.chosen else ""
        style = self.geometry.styles[-1]
        return hashlib.sha256(f"{style}\n{part}={filled}".encode()).hexdigest()

    def inks(self, part: str) -> list[Inks]:
        """Return the inks of what fills a part."""
        return inks_of(self.chosen[part], self.layout.looks)

    def texture(self, part: str) -> Texture:
        """Return how what fills a part looks as a body."""
        material = self.chosen[part].ingredients[0].material
        found = self.layout.looks.texture(material.id, material.kind, material.texture)
        if material.sheen is None or found.gloss >= material.sheen:
            return found
        gloss = (found.gloss + material.sheen) / 2
        return replace(found, gloss=gloss)

    def height_mm(self, along_mm: float) -> float:
        """Return how high the fly's back stands above the wire's middle."""
        height = self.geometry.core_mm / 2
        for part in self.geometry.of_form("body", "thorax"):
            if part.cone is None or not part.rear_mm <= along_mm <= part.front_mm:
                continue
            span = part.front_mm - part.rear_mm
            share = (along_mm - part.rear_mm) / span if span else 1.0
            height = max(height, part.cone.diameter_mm(share) / 2)
        return height

    def foot_of_post(self, hackle: PartShape) -> float:
        """Return how high above the wire's middle a hackle lies that is wound round a post."""
        along = (hackle.rear_mm + hackle.front_mm) / 2
        return self.height_mm(along) + self.geometry.hook.gape_mm * 0.16


def draw_profile(paper: Paper, fly: FlyView) -> Spine:
    """Draw the fly from the side, and return the line that it stands along."""
    geometry, looks = fly.geometry, fly.layout.looks
    spine = Spine(geometry.hook, looks.bends.get(geometry.hook.bend) or looks.bends["round"])
    for wing in filter(is_spent, fly.shown):
        paper.chance = random.Random(fly.seed(wing.part))
        _draw_spent_wing(paper, spine, fly, wing, near=False)
    draw_hook(paper, spine, looks.eyes.get(geometry.hook.eye, 0.0))
    # No thread is wound further back than the rearmost part asks.
    rearmost = max(0.0, min(shape.rear_mm for shape in geometry.parts.values()))
    front = geometry.parts[HEAD].front_mm
    draw_thread_base(paper, spine, geometry.core_mm, rearmost, front, fly.thread.main)
    for shape in fly.shown:
        _draw_part(paper, spine, fly, shape)
    return spine


def _draw_part(paper: Paper, spine: Spine, fly: FlyView, shape: PartShape) -> None:
    part, form = shape.part, shape.kind.form
    paper.chance = random.Random(fly.seed(part))
    if part == HEAD and not fly.is_filled(part):
        draw_head(paper, spine, shape, fly.thread)
        return
    inks = fly.inks(part)
    material = fly.chosen[part].ingredients[0].material
    up = fly.height_mm((shape.rear_mm + shape.front_mm) / 2)
    if form == "head":
        if material.kind == "thread":
            draw_head(paper, spine, shape, inks[0])
        else:
            draw_body(paper, spine, shape, inks, fly.texture(part), measure=HEAD)
    elif form in ("band", "body", "thorax"):
        draw_body(paper, spine, shape, inks, fly.texture(part))
        foremost = max(fly.geometry.of_form("body"), key=lambda one: one.front_mm, default=None)
        if shape is foremost and not fly.is_covered_in_front:
            _fill_before_head(paper, spine, fly, shape)
    elif form == "bead":
        draw_bead(paper, spine, shape, inks, fly.texture(part).gloss)
    elif form == "rib":
        draw_rib(paper, spine, shape, inks, fly.texture(part))
    elif form == "wound":
        _draw_hackle(paper, spine, fly, shape)
    elif is_spent(shape):
        _draw_spent_wing(paper, spine, fly, shape, near=True)
    elif form == "strip":
        draw_wing_case(paper, spine, shape, inks, up * 1.1)
    else:
        look = fly.feather(shape)
        if look.manner == "ball":
            _draw_eyes(paper, spine, fly, shape)
            return
        draw_feather(paper, spine, shape, inks, look, _mount(fly, shape, up),
                     pair=form == "wing")  # fmt: skip
        if form == "wing" and look.manner == "hair":
            _draw_hair_butts(paper, spine, fly, shape, inks, up)


def _draw_eyes(paper: Paper, spine: Spine, fly: FlyView, shape: PartShape) -> None:
    """Draw the near one of two eyes, at the side of the head."""
    across = shape.strand_mm or 0.36 * fly.geometry.hook.gape_mm
    middle = spine.stand((shape.rear_mm + shape.front_mm) / 2)
    ink = fly.inks(shape.part)[0].main
    group = paper.group(shape.part)
    draw_ball(paper, group, middle, across / 2, ink, fly.texture(shape.part).gloss)
    paper.circle(group, middle, across / 6, INK, "none", 0.0)


def _draw_hair_butts(
    paper: Paper, spine: Spine, fly: FlyView, wing: PartShape, inks: list[Inks], up: float
) -> None:
    """Draw the butts of a hair wing where print asks that they stand over the head."""
    printed = fly.layout.proportion(fly.geometry.styles, (HEAD,), "hair butts")
    if printed is None or printed.unit != "eye":
        return
    along = wing.front_mm
    bunch = Bunch(
        along, spine.stand(along, 0.75 * up), 150.0,
        printed.nominal * fly.geometry.hook.eye_mm, spread_deg=34.0, count=26, width_mm=0.08,
        uneven=0.25, bow=0.0, thick_mm=0.42, wash=0.6, thin=0.8,
    )  # fmt: skip
    draw_bunch(paper, paper.group("wing-butts"), spine, bunch, inks, measured=False)


def _mount(fly: FlyView, shape: PartShape, up: float) -> Mount:
    """Return where a feather or bunch comes out of the fly."""
    along, length = (shape.rear_mm + shape.front_mm) / 2, shape.length_mm or 0.0
    if shape.kind.stands == "rear":
        return Mount(shape.rear_mm, 0.5 * up, shape.angle_deg * 0.7, length)
    if shape.kind.hangs:
        return Mount(along, -0.6 * up, -shape.angle_deg, length)
    if shape.kind.stands == "beside":
        return Mount(along, 0.2 * up, shape.angle_deg, length)
    return Mount(along, 0.75 * up, shape.angle_deg, length)


def _draw_spent_wing(
    paper: Paper, spine: Spine, fly: FlyView, shape: PartShape, *, near: bool
) -> None:
    up = fly.height_mm((shape.rear_mm + shape.front_mm) / 2)
    draw_spent(paper, spine, shape, fly.inks(shape.part), fly.feather(shape), up, near)


def _draw_hackle(paper: Paper, spine: Spine, fly: FlyView, shape: PartShape) -> None:
    look = fly.hackle(shape)
    inks = fly.inks(shape.part)
    if look.manner != "flat":
        draw_wound(paper, spine, shape, inks, look)
        return
    along = (shape.rear_mm + shape.front_mm) / 2
    root = spine.stand(along, fly.foot_of_post(shape))
    for near in (False, True):
        draw_flat(paper, root, shape, inks, look, near)


def _fill_before_head(paper: Paper, spine: Spine, fly: FlyView, body: PartShape) -> None:
    """Carry the body's stuff round the foot of post or wing to the head, as it is tied."""
    head = fly.geometry.parts[HEAD]
    if body.cone is None or head.rear_mm - body.front_mm < 0.12 * head.front_mm:
        return
    cone = body.cone
    after = PartShape(
        "body-front", body.front_mm - 0.15, head.rear_mm, 0.0,
        cone=Cone(head.rear_mm - body.front_mm, cone.front_mm, cone.front_mm * 0.85,
                        cone.core_mm),
    )  # fmt: skip
    draw_body(paper, spine, after, fly.inks(body.part), fly.texture(body.part), measure="front")
