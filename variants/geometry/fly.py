"""A dressing as written, or a variant of it, laid out on its hook in millimetres.

Candidates by part come in, with the hook's dimensions and the counts that the rules chose among
their attributes; a `FlyGeometry` comes out. Lengths are those that the rules test.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from variants.design import DesignProblem, idle_counts
from variants.geometry.layout import Layout, Position, Proportion
from variants.geometry.shapes import FlyGeometry, HookShape, PartShape
from variants.geometry.solids import Cone
from variants.geometry.when import stuffs_of
from variants.model import (
    FRAME,
    HEAD,
    HOOK,
    STANDARD_HOOK,
    THREAD,
    WOUND_OVER,
    Attributes,
    Build,
    Candidate,
    Variant,
)
from variants.rulebook import LENGTH, Measure
from variants.units import thread_diameter_mm

#: Counts that rules choose or dressings state.
COUNTS = ("turns", "turns_behind", "turns_front", "fibres", "strands", "pairs")
_USUAL_DENSITY = 1.38
#: What is seen of the thread behind a bead (common practice: as little as will hold).
_COLLAR_MM = 0.3


def fly_geometry(
    design: DesignProblem,
    layout: Layout,
    variant: Variant | None = None,
    *,
    stated: bool = False,
) -> FlyGeometry:
    """Return the layout of a variant, or of the dressing as written.

    Parameters
    ----------
    design : DesignProblem
    layout : Layout
    variant : Variant, optional
        One of the design's; the dressing as written without one.
    stated : bool
        Whether the dressing has its own counts also where the request names a water.

    Raises
    ------
    ValueError
        When the hook's dimensions are not known.
    """
    base = design.stated if stated else design.base
    chosen = variant.chosen if variant is not None else base
    return _Drafter(design, layout, chosen).geometry()


class _Drafter:
    """Lays out one fly."""

    def __init__(
        self, design: DesignProblem, layout: Layout, chosen: Mapping[str, Candidate]
    ) -> None:
        self.design, self.layout = design, layout
        self.chosen = {part: one for part, one in chosen.items() if one.ingredients}
        trade = design.rulebook.trade
        self.style = trade.styles[design.request.base.style]
        self.kinds = {part: trade.part_kind(part) for part in (*self.chosen, HEAD)}
        self.stuffs = stuffs_of(self.chosen, trade.hook_models, trade.parts)
        self.water = design.request.water
        self.hook = self._hook_shape()
        self.thread_mm = self._thread_mm()
        # Two layers of thread lie on the bare wire before anything else is tied in.
        self.core_mm = self.hook.wire_mm + 2 * self.thread_mm
        printed = self._proportion(HEAD, "length")
        self.head_mm = (printed.nominal if printed else 1.0) * self.hook.eye_mm
        # A bead sits at the eye; what is whipped behind it is a narrow collar of thread.
        self.bead_mm = 0.0
        self.bead = next((part for part, kind in self.kinds.items() if kind.form == "bead"), "")
        if self.bead:
            self.head_mm = min(self.head_mm, _COLLAR_MM)
            self.bead_mm = self._bead_mm()
        self.cones: dict[str, Cone] = {}

    @property
    def _working_mm(self) -> float:
        """The shank from the bend to where the head begins."""
        return max(0.0, self.hook.shank_mm - self.bead_mm - self.head_mm)

    def _bead_mm(self) -> float:
        usual = (self._place(self.bead).length or 0.5) * self.hook.gape_mm
        across = self._strand_mm(self.bead) or usual
        # No bead is longer than the shank has room for beside the head.
        return min(across, 0.9 * self.hook.shank_mm - self.head_mm)

    def _length_of(self, place: Position) -> float:
        return max(0.0, place.front - place.rear) * self._working_mm

    def geometry(self) -> FlyGeometry:
        order = [
            part
            for part in self.style.in_tying_order(self.chosen)
            if self.kinds[part].form not in FRAME
        ]
        built = [part for part in order if self.kinds[part].is_built]
        # The underbody lies under the body, whichever is tied first.
        for part in sorted(built, key=lambda part: self.kinds[part].form != "underlay"):
            self.cones[part] = self._cone(part)
        shapes = {part: self._shape(part) for part in order}
        shapes[HEAD] = self._head()
        return FlyGeometry(
            self.style.id, self.hook, self.thread_mm, self.core_mm, shapes, self.style.kin
        )

    def _hook_shape(self) -> HookShape:
        hook = self.chosen.get(HOOK)
        told = hook.attributes if hook else {}
        sizes = [told.get(name) for name in ("gape_mm", "shank_mm", "wire_mm", "eye_mm")]
        numbers = [float(one) for one in sizes if isinstance(one, int | float)]
        size = told.get("size")
        if hook is None or len(numbers) < len(sizes) or not isinstance(size, int):
            raise ValueError("the hook's dimensions are not known")
        models = self.design.rulebook.trade.hook_models
        model = models.get(hook.ingredients[0].material.id, STANDARD_HOOK)
        gape, shank, wire, eye = numbers
        return HookShape(size, gape, shank, wire, eye, model.eye, model.bend, model.is_barbed)

    def _thread_mm(self) -> float:
        thread = self.chosen.get(THREAD)
        told = thread.attributes if thread else {}
        denier, density = told.get("denier"), told.get("density_g_cm3")
        if not isinstance(denier, int | float):
            usual = self._proportion(THREAD, "denier")
            denier = usual.nominal if usual else 70.0
        if not isinstance(density, int | float):
            density = _USUAL_DENSITY
        return thread_diameter_mm(float(denier), float(density))

    def _build(self, part: str) -> Build | None:
        material = self.chosen[part].ingredients[0].material
        return self.layout.builds.get(material.kind)

    def _place(self, part: str) -> Position:
        return self.layout.place(self.style.lineage, self.kinds[part].lineage, self.stuffs)

    def _proportion(self, part: str, measure: str) -> Proportion | None:
        lineage = self.design.rulebook.trade.part_kind(part).lineage
        return self.layout.proportion(self.style.lineage, lineage, measure)

    def _strand_mm(self, part: str) -> float | None:
        told = self.chosen[part].attributes.get("thickness_mm")
        if isinstance(told, int | float):
            return float(told)
        build = self._build(part)
        return build.thickness_mm if build else None

    def _cone(self, part: str) -> Cone:
        """Return the body that a part builds on what lies under it."""
        place, build = self._place(part), self._build(part)
        length = self._length_of(place)
        core = self._under(part)
        if part == self.bead:
            return Cone(self.bead_mm, self.bead_mm, self.bead_mm, self.hook.wire_mm)
        if build is None:
            return Cone(length, core, core, core)
        front = core + build.added_mm(self._strand_mm(part))
        if build.gapes is not None:
            gapes = self._dubbed_gapes(part, build.gapes)
            front = max(front if build.build == "wound" else core, gapes * self.hook.gape_mm)
        rear = max(core, front * build.taper)
        return Cone(length, min(rear, front), front, core)

    def _dubbed_gapes(self, part: str, usual: float) -> float:
        """Return how thick a dubbed body is, in gapes: by the water where print tells."""
        if self.kinds[part].form == "thorax":
            wider = self._proportion(part, "diameter")
            return usual * (wider.nominal if wider else 1.5)
        measure = f"diameter in {self.water} water" if self.water else "diameter"
        told = self._proportion(part, measure)
        return told.nominal if told and told.unit == "gape" else usual

    def _under(self, part: str) -> float:
        """Return the diameter of what a part is built on."""
        if self.kinds[part].form in ("underlay", "band"):
            return self.core_mm
        below = [cone for one, cone in self.cones.items() if self.kinds[one].form == "underlay"]
        return max([self.core_mm, *(cone.front_mm for cone in below)])

    def _over(self, part: str) -> Cone:
        """Return what a part that is wound over others lies on."""
        place = self._place(part)
        length, over = self._length_of(place), self.kinds[part].over
        bodies = [one for one in self.cones if self.kinds[one].is_like(over)]
        if not bodies:
            return Cone(length, self.core_mm, self.core_mm, self.core_mm)
        ends = [self._diameter_mm(bodies, end) for end in (place.rear, place.front)]
        return Cone(length, ends[0], ends[1], self.core_mm)

    def _diameter_mm(self, bodies: Sequence[str], end: float) -> float:
        """Return how thick the body is at a share of the shank, of several the nearest there."""
        places = {part: self._place(part) for part in bodies}

        def apart(part: str) -> float:
            return max(places[part].rear - end, end - places[part].front, 0.0)

        part = min(bodies, key=apart)
        if self.kinds[part].form == "thorax":  # its front is where a hackle is wound
            return self.cones[part].front_mm
        span = (places[part].front - places[part].rear) or 1.0
        share = min(1.0, max(0.0, (end - places[part].rear) / span))
        return self.cones[part].diameter_mm(share)

    def _shape(self, part: str) -> PartShape:
        place = self._place(part)
        low, high, right, chosen, rule = self._length(part, place)
        cone = self._over(part) if self.kinds[part].form in WOUND_OVER else self.cones.get(part)
        rear, front = place.rear * self._working_mm, place.front * self._working_mm
        if part == self.bead:
            rear, front = self.hook.shank_mm - self.bead_mm, self.hook.shank_mm
            right = chosen = self.bead_mm
        return PartShape(
            part,
            rear,
            front,
            place.angle_deg,
            chosen,
            low,
            high,
            right,
            rule,
            self._counts(part),
            cone,
            self._strand_mm(part),
            self.kinds[part],
        )

    def _length(
        self, part: str, place: Position
    ) -> tuple[float | None, float | None, float | None, float | None, str]:
        """Return low, high, right and chosen length in mm, and the rule that says so."""
        fly: dict[str, Attributes] = {name: one.attributes for name, one in self.chosen.items()}
        for rule in self.design.rules:
            if not isinstance(rule, Measure) or rule.part != part or rule.attribute != LENGTH:
                continue
            if not all(condition.holds(fly) for condition in rule.when):
                continue
            unit_mm = rule.unit_mm(fly[HOOK])
            if unit_mm is None:
                continue
            right = rule.nominal * unit_mm
            numbers = rule.judge(fly).numbers
            tied = numbers[0].value if numbers else right
            chosen = float(tied) if isinstance(tied, int | float) else right
            return rule.low * unit_mm, rule.high * unit_mm, right, chosen, rule.id
        if place.length is None:
            return None, None, None, None, ""
        unit = self.hook.gape_mm if place.unit == "gape" else self.hook.shank_mm
        return None, None, place.length * unit, place.length * unit, ""

    def _counts(self, part: str) -> dict[str, int]:
        told = self.chosen[part].attributes
        idle = idle_counts(part, self.design.rules, self.chosen)
        counts = {
            name: value
            for name in COUNTS
            if isinstance(value := told.get(name), int) and name not in idle
        }
        for name, measure in (("turns", "turns"), ("fibres", "fibre count")):
            printed = self._proportion(part, measure)
            if name not in counts and printed is not None and not self.kinds[part].is_built:
                counts[name] = round(printed.nominal)
        return counts

    def _head(self) -> PartShape:
        """Return the head: the thread's own whipping, or herl and the like over it."""
        across = self.core_mm + 4 * self.thread_mm
        strand = self.thread_mm
        if HEAD in self.chosen:
            strand = self._strand_mm(HEAD) or strand
            across = max(across, self.core_mm + 2 * strand)
        cone = Cone(self.head_mm, across * 1.1, across, self.core_mm)
        front = self.hook.shank_mm - self.bead_mm
        rear = front - self.head_mm
        return PartShape(HEAD, rear, front, 0.0, cone=cone, strand_mm=strand, kind=self.kinds[HEAD])
