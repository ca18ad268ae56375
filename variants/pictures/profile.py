"""The fly in profile: every part laid on the paper in its manner, what lies farther off first."""

from __future__ import annotations

import hashlib
import random
from collections.abc import Mapping
from dataclasses import dataclass, replace

from variants.geometry import (
    Cone,
    FlyGeometry,
    HackleLook,
    Layout,
    PartShape,
    Texture,
    stuffs_of,
)
from variants.model import Candidate
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

#: In which order parts are laid on the paper: what is drawn later hides what was drawn before.
_LAYERS = (
    "tail", "shuck", "tag", "tip", "butt", "body", "rib", "palmer", "throat", "legs", "thorax",
    "wing-case", "wing", "post", "topping", "cheek", "hackle", "collar", "feelers", "head", "eyes",
    "bead",
)  # fmt: skip
_BODIES = ("tag", "tip", "butt", "body", "thorax")
#: Parts that lie under others and are not seen.
HIDDEN = ("weight", "underbody", "body-coating")


@dataclass(frozen=True)
class Sitter:
    """What is drawn: a fly, what fills its parts, and the tables that say how it looks."""

    geometry: FlyGeometry
    layout: Layout
    chosen: Mapping[str, Candidate]

    @property
    def shown(self) -> list[PartShape]:
        """The parts that are seen, what lies farther off first; the head is always one of them."""
        parts = self.geometry.parts
        return [
            parts[part]
            for part in _LAYERS
            if part in parts and (part == "head" or self.is_filled(part))
        ]

    @property
    def thread(self) -> Inks:
        """The inks of the tying thread."""
        return self.inks("thread")[0] if "thread" in self.chosen else Inks((INK,))

    @property
    def is_covered_in_front(self) -> bool:
        """Whether anything is wound over the shank between the body and the head."""
        return self.is_filled("thorax") or any(
            self.hackle(part).manner != "flat"
            for part in ("hackle", "collar")
            if self.is_filled(part)
        )

    def is_filled(self, part: str) -> bool:
        """Tell whether there is anything in a part."""
        return part in self.chosen and bool(self.chosen[part].ingredients)

    def hackle(self, part: str) -> HackleLook:
        """Return how a hackle stands on this fly."""
        return self.layout.looks.hackle(self.geometry.style, part, stuffs_of(self.chosen, {}))

    def seed(self, part: str) -> str:
        """Return what seeds chance for a part: the same stuff in it is the same drawing."""
        filled = self.chosen[part].identity if part in self.chosen else ""
        return hashlib.sha256(f"{self.geometry.style}\n{part}={filled}".encode()).hexdigest()

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
        for name in ("body", "thorax"):
            part = self.geometry.parts.get(name)
            if part is None or part.cone is None or not part.rear_mm <= along_mm <= part.front_mm:
                continue
            span = part.front_mm - part.rear_mm
            share = (along_mm - part.rear_mm) / span if span else 1.0
            height = max(height, part.cone.diameter_mm(share) / 2)
        return height

    def foot_of_post(self, hackle: PartShape) -> float:
        """Return how high above the wire's middle a hackle lies that is wound round a post."""
        along = (hackle.rear_mm + hackle.front_mm) / 2
        return self.height_mm(along) + self.geometry.hook.gape_mm * 0.16


def draw_profile(paper: Paper, sitter: Sitter) -> Spine:
    """Draw the fly from the side, and return the line that it stands along."""
    geometry, looks = sitter.geometry, sitter.layout.looks
    spine = Spine(geometry.hook, looks.bends.get(geometry.hook.bend) or looks.bends["round"])
    wing = geometry.parts.get("wing")
    if wing is not None and is_spent(wing) and sitter.is_filled("wing"):
        paper.chance = random.Random(sitter.seed("wing"))
        _spent_wing(paper, spine, sitter, wing, near=False)
    draw_hook(paper, spine, looks.eyes.get(geometry.hook.eye, 0.0))
    # No thread is wound further back than the rearmost part asks.
    rearmost = max(0.0, min(shape.rear_mm for shape in geometry.parts.values()))
    front = geometry.parts["head"].front_mm
    draw_thread_base(paper, spine, geometry.core_mm, rearmost, front, sitter.thread.main)
    for shape in sitter.shown:
        _draw_part(paper, spine, sitter, shape)
    return spine


def _draw_part(paper: Paper, spine: Spine, sitter: Sitter, shape: PartShape) -> None:
    part, looks = shape.part, sitter.layout.looks
    paper.chance = random.Random(sitter.seed(part))
    if part == "head" and not sitter.is_filled("head"):
        draw_head(paper, spine, shape, sitter.thread)
        return
    inks = sitter.inks(part)
    material = sitter.chosen[part].ingredients[0].material
    up = sitter.height_mm((shape.rear_mm + shape.front_mm) / 2)
    if part == "head":
        if material.kind == "thread":
            draw_head(paper, spine, shape, inks[0])
        else:
            draw_body(paper, spine, shape, inks, sitter.texture(part), measure="head")
    elif part in _BODIES:
        draw_body(paper, spine, shape, inks, sitter.texture(part))
        if part == "body" and not sitter.is_covered_in_front:
            _fill_before_head(paper, spine, sitter, shape)
    elif part == "bead":
        draw_bead(paper, spine, shape, inks, sitter.texture(part).gloss)
    elif part == "rib":
        draw_rib(paper, spine, shape, inks, sitter.texture(part))
    elif part in ("hackle", "palmer", "collar"):
        _draw_hackle(paper, spine, sitter, shape)
    elif part == "wing" and is_spent(shape):
        _spent_wing(paper, spine, sitter, shape, near=True)
    elif part == "wing-case":
        draw_wing_case(paper, spine, shape, inks, up * 1.1)
    else:
        look = looks.feather(part, material.id, material.kind)
        if look.manner == "ball":
            _eyes(paper, spine, sitter, shape)
            return
        draw_feather(paper, spine, shape, inks, look, _mount(sitter, shape, up),
                     pair=part == "wing")  # fmt: skip
        if part == "wing" and look.manner == "hair":
            _hair_butts(paper, spine, sitter, shape, inks, up)


def _eyes(paper: Paper, spine: Spine, sitter: Sitter, shape: PartShape) -> None:
    """Draw the near one of two eyes, at the side of the head."""
    across = shape.strand_mm or 0.36 * sitter.geometry.hook.gape_mm
    middle = spine.stand((shape.rear_mm + shape.front_mm) / 2)
    ink = sitter.inks(shape.part)[0].main
    group = paper.group(shape.part)
    draw_ball(paper, group, middle, across / 2, ink, sitter.texture(shape.part).gloss)
    paper.circle(group, middle, across / 6, INK, "none", 0.0)


def _hair_butts(
    paper: Paper, spine: Spine, sitter: Sitter, wing: PartShape, inks: list[Inks], up: float
) -> None:
    """Draw the butts of a hair wing where print asks that they stand over the head."""
    printed = sitter.layout.proportion(sitter.geometry.style, "head", "hair butts")
    if printed is None or printed.unit != "eye":
        return
    along = wing.front_mm
    bunch = Bunch(
        along, spine.stand(along, 0.75 * up), 150.0,
        printed.nominal * sitter.geometry.hook.eye_mm, spread_deg=34.0, count=26, width_mm=0.08,
        uneven=0.25, bow=0.0, thick_mm=0.42, wash=0.6, thin=0.8,
    )  # fmt: skip
    draw_bunch(paper, paper.group("wing-butts"), spine, bunch, inks, measured=False)


def _mount(sitter: Sitter, shape: PartShape, up: float) -> Mount:
    """Return where a feather or bunch comes out of the fly."""
    along, length = (shape.rear_mm + shape.front_mm) / 2, shape.length_mm or 0.0
    if shape.part in ("tail", "shuck"):
        return Mount(shape.rear_mm, 0.5 * up, shape.angle_deg * 0.7, length)
    if shape.part in ("throat", "legs"):
        return Mount(along, -0.6 * up, -shape.angle_deg, length)
    if shape.part == "cheek":
        return Mount(along, 0.2 * up, shape.angle_deg, length)
    return Mount(along, 0.75 * up, shape.angle_deg, length)


def _spent_wing(
    paper: Paper, spine: Spine, sitter: Sitter, shape: PartShape, *, near: bool
) -> None:
    material = sitter.chosen["wing"].ingredients[0].material
    look = sitter.layout.looks.feather("wing", material.id, material.kind)
    up = sitter.height_mm((shape.rear_mm + shape.front_mm) / 2)
    draw_spent(paper, spine, shape, sitter.inks("wing"), look, up, near)


def _draw_hackle(paper: Paper, spine: Spine, sitter: Sitter, shape: PartShape) -> None:
    look = sitter.hackle(shape.part)
    inks = sitter.inks(shape.part)
    if look.manner != "flat":
        draw_wound(paper, spine, shape, inks, look)
        return
    along = (shape.rear_mm + shape.front_mm) / 2
    root = spine.stand(along, sitter.foot_of_post(shape))
    for near in (False, True):
        draw_flat(paper, root, shape, inks, look, near)


def _fill_before_head(paper: Paper, spine: Spine, sitter: Sitter, body: PartShape) -> None:
    """Carry the body's stuff round the foot of post or wing to the head, as it is tied."""
    head = sitter.geometry.parts["head"]
    if body.cone is None or head.rear_mm - body.front_mm < 0.12 * head.front_mm:
        return
    cone = body.cone
    after = PartShape(
        "body-front", body.front_mm - 0.15, head.rear_mm, 0.0,
        cone=Cone(head.rear_mm - body.front_mm, cone.front_mm, cone.front_mm * 0.85,
                        cone.core_mm),
    )  # fmt: skip
    draw_body(paper, spine, after, sitter.inks("body"), sitter.texture("body"), measure="front")
