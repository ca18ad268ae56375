"""What one fly uses: stems, barbs, strands and dubbing, computed from its layout.

A `FlyGeometry` and what fills its parts come in; one `Use` for each ingredient comes out, with the
formula in words and its source. Lengths are in mm, masses in mg.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import pi

from variants.geometry.formulas import cylinder_mg, hook_mg, thread_mm
from variants.geometry.layout import Layout
from variants.geometry.shapes import FlyGeometry, PartShape
from variants.geometry.solids import Cone, helix_mm, turns_for
from variants.model import HOOK, THREAD, TIED_IN, Candidate, Ingredient, Item

#: Classes whose strands lie flatter than they are thick, and the entry of the winding table.
_FLAT = {
    "floss": "floss_pitch",
    "thread": "floss_pitch",
    "tinsel": "tinsel_pitch",
    "stripped quill": "quill_pitch",
    "biot": "quill_pitch",
}
#: Density of a body of stuff that no table tells it of, g/cm3 (common practice).
_USUAL_PACKING = 0.3


@dataclass(frozen=True, slots=True)
class Use:
    """What one fly takes of one ingredient.

    Attributes
    ----------
    part : str
    ingredient : Ingredient
    items : tuple of Item
        Those of the box that it may be taken from; none when the dressing is laid out as written.
    pieces : float or None
        Hooks, beads, feathers: a tail takes a share of a feather.
    length_mm, mass_mg : float or None
        As cut or plucked, waste included.
    tied_mg : float or None
        What stays on the fly.
    how, source : str
        The formula in words with its numbers, and where it comes from.
    barbs : float or None
        Single barbs, where they are counted.
    is_of_barbs : bool
        Whether it is made of single barbs of a feather.
    """

    part: str
    ingredient: Ingredient
    items: tuple[Item, ...]
    pieces: float | None
    length_mm: float | None
    mass_mg: float | None
    tied_mg: float | None
    how: str
    source: str
    barbs: float | None = None
    is_of_barbs: bool = False

    def of(self, item: Item) -> float | None:
        """Return how much one fly takes of an item, in the unit in which the item is counted.

        None when the item's amount is not counted, or not in a unit that this use is known in.
        """
        if item.amount is None:
            return None
        if self.is_of_barbs and str(item.amount.units) == "strand":
            return self.barbs
        if item.amount.check("[piece]"):
            unit = float((1 * item.amount.units).to("piece").magnitude)
            return None if self.pieces is None else self.pieces / unit
        if item.amount.check("[length]"):
            unit = float((1 * item.amount.units).to("mm").magnitude)
            return None if self.length_mm is None else self.length_mm / unit
        if item.amount.check("[mass]"):
            unit = float((1 * item.amount.units).to("mg").magnitude)
            return None if self.mass_mg is None else self.mass_mg / unit
        return None


def uses_of(
    geometry: FlyGeometry, chosen: Mapping[str, Candidate], layout: Layout
) -> tuple[Use, ...]:
    """Return what one fly uses, part by part in the order of the dressing.

    Parameters
    ----------
    geometry : FlyGeometry
        Of these very candidates.
    chosen : mapping of part id to Candidate
    layout : Layout
    """
    reckoner = _Reckoner(geometry, layout)
    return tuple(use for part, one in chosen.items() for use in reckoner.part(part, one))


def dressed_mass_mg(uses: Iterable[Use]) -> float:
    """Return what a dressed fly weighs, in mg: the sum of what stays on the hook."""
    return sum(use.tied_mg or 0.0 for use in uses)


@dataclass(frozen=True, slots=True)
class _Taken:
    """What is taken of one part, before it is shared among the ingredients."""

    how: str
    source: str
    pieces: float | None = None
    length_mm: float | None = None
    mass_mg: float | None = None
    tied_mg: float | None = None
    barbs: float | None = None


class _Reckoner:
    def __init__(self, geometry: FlyGeometry, layout: Layout) -> None:
        self.geometry, self.layout = geometry, layout

    def part(self, part: str, candidate: Candidate) -> list[Use]:
        count = len(candidate.ingredients)
        return [
            self._use(part, candidate, place, share)
            for place, share in enumerate(_shares(candidate, count))
        ]

    def _use(self, part: str, candidate: Candidate, place: int, share: float) -> Use:
        ingredient = candidate.ingredients[place]
        taken = self._taken(part, candidate, ingredient, share)
        items = candidate.items[place] if place < len(candidate.items) else ()
        return Use(
            part,
            ingredient,
            items,
            taken.pieces,
            taken.length_mm,
            taken.mass_mg,
            taken.tied_mg,
            taken.how,
            taken.source,
            taken.barbs,
            candidate.share is not None,
        )

    def _taken(
        self, part: str, candidate: Candidate, ingredient: Ingredient, share: float
    ) -> _Taken:
        if part == HOOK:
            steel = self._value("steel")
            mass = hook_mg(self.geometry.hook, steel)
            return _Taken("one hook", "the dressing", 1.0, None, mass, mass)
        if part == THREAD:
            return self._thread(ingredient)
        shape = self.geometry.parts.get(part)
        if shape is None:
            return _Taken("not reckoned", "common practice")
        if shape.kind.form == "bead":
            how = f"one bead of {shape.cone.front_mm:.1f} mm" if shape.cone else "one bead"
            return _Taken(how, "the dressing", 1.0, None, *self._bead(shape, ingredient))
        if shape.kind.form == "wound":
            return self._wound_feather(candidate, shape, share)
        if shape.kind.form in TIED_IN:
            return self._fibres(candidate, shape, share)
        build = self.layout.builds.get(ingredient.material.kind)
        if build is not None and build.build in ("dubbed", "spun", "laid") and shape.cone:
            return self._bulk(shape.cone, self._packing(candidate), share)
        pieces = None if candidate.share is None else float(candidate.share)
        return self._strand(shape, ingredient, pieces)

    def _packing(self, candidate: Candidate) -> float:
        """Return the density of a body as built, in g/cm3; of a blend, by the weights in it."""
        volume = 0.0
        for one, share in zip(
            candidate.ingredients, _shares(candidate, len(candidate.ingredients)), strict=True
        ):
            build = self.layout.builds.get(one.material.kind)
            volume += share / ((build.packing_g_cm3 if build else None) or _USUAL_PACKING)
        return 1.0 / volume

    def _value(self, name: str) -> float:
        return self.layout.winding[name].value

    def _thread(self, ingredient: Ingredient) -> _Taken:
        fly = self.geometry
        tied = thread_mm(
            fly,
            base_pitch=self._value("base_pitch"),
            tie_in_turns=self._value("tie_in_turns"),
            head_layers=self._value("head_layers"),
        )
        length = tied + self._value("thread_waste")
        density = ingredient.material.density_g_cm3 or self._value("keratin")
        how = (
            f"base turns, {self._value('tie_in_turns'):g} turns for each of"
            f" {len(fly.parts) - 1} parts, a head of {self._value('head_layers'):g} layers,"
            f" {self._value('thread_waste'):g} mm cut away"
        )
        mass = [cylinder_mg(one, fly.thread_mm, density) for one in (length, tied)]
        return _Taken(how, "geometry; turns common practice", None, length, *mass)

    def _bead(self, shape: PartShape, ingredient: Ingredient) -> tuple[float | None, float | None]:
        density, cone = ingredient.material.density_g_cm3, shape.cone
        if density is None or cone is None:
            return None, None
        # A ball less the drilled hole, taken as two fifths across (common practice).
        mass = density * (pi / 6.0) * cone.front_mm**3 * (1.0 - 0.4**2 * 1.5)
        return mass, mass

    def _wound_feather(self, candidate: Candidate, shape: PartShape, share: float) -> _Taken:
        cone, turns = shape.cone, shape.counts.get("turns", 0) * share
        assert cone is not None  # what is wound lies on something
        stem = shape.strand_mm or 0.3
        length = helix_mm(cone, turns, stem)
        barbs = turns * self._value("barbs_to_a_turn")
        density = self._value("feather")
        tied = cylinder_mg(length, stem, density) + cylinder_mg(
            barbs * (shape.length_mm or 0.0), self._value("barb"), density
        )
        how = f"{turns:g} turns of stem round {(cone.rear_mm + cone.front_mm) / 2:.2f} mm"
        return _Taken(how, "helix on the body", float(candidate.uses), length, None, tied)

    def _fibres(self, candidate: Candidate, shape: PartShape, share: float) -> _Taken:
        fibres = (shape.counts.get("fibres") or 0) * share
        length = shape.length_mm or 0.0
        is_hair = candidate.ingredients[0].material.kind == "hair"
        density = self._value("keratin" if is_hair else "feather")
        tied = cylinder_mg(fibres * length, self._value("barb"), density)
        if not fibres:
            return _Taken("one piece", "the dressing", float(candidate.uses), None, None, None)
        # Counted in feathers, it is the share of a feather that its barbs are; but a part that the
        # rules count in whole feathers takes those.
        pieces = float(candidate.uses if candidate.share is None else candidate.share)
        how = f"{fibres:g} fibres of {length:.1f} mm"
        return _Taken(how, "counts: the rules; barbs to a feather: common practice", pieces,
                      None, tied, tied, fibres)  # fmt: skip

    def _bulk(self, cone: Cone, packing: float, share: float) -> _Taken:
        tied = cone.volume_mm3 * packing * share
        mass = tied / (1.0 - self._value("dubbing_waste"))
        how = f"{cone.volume_mm3 * share:.1f} mm3 packed to {packing:.2f} g/cm3"
        return _Taken(how, "volume of a cone less its core; packing common practice", None,
                      None, mass, tied)  # fmt: skip

    def _strand(self, shape: PartShape, ingredient: Ingredient, pieces: float | None) -> _Taken:
        cone, strand = shape.cone, shape.strand_mm or 0.1
        if cone is None:
            return _Taken("one piece", "the dressing", 1.0)
        build = self.layout.builds.get(ingredient.material.kind)
        layers = build.layers if build else 1
        under = Cone(cone.length_mm, cone.core_mm, cone.core_mm)
        over = cone if shape.kind.form == "rib" else under
        turns = float(shape.counts.get("turns", 0))
        if not turns:
            flat = _FLAT.get(ingredient.material.kind)
            pitch = self._value(flat) if flat else strand * self._value("strand_pitch")
            turns = turns_for(cone.length_mm, max(pitch, 0.01)) * layers
        tied = helix_mm(over, turns, strand)
        length = tied + self._value("strand_waste")
        density = ingredient.material.density_g_cm3
        waste = self._value("strand_waste")
        how = f"{turns:.0f} turns over {cone.length_mm:.1f} mm, {waste:g} mm cut away"
        mass = tied_mass = None
        if density:
            mass = cylinder_mg(length, strand, density)
            tied_mass = cylinder_mg(tied, strand, density)
        source = "helix on the tapered body; waste common practice"
        return _Taken(how, source, pieces, length, mass, tied_mass)


def _shares(candidate: Candidate, count: int) -> list[float]:
    """Return the share of a part that each ingredient makes: as blended, else alike."""
    blend = candidate.attributes.get("blend")
    if isinstance(blend, str):
        parts = [float(one) for one in blend.split(":")]
        if len(parts) == count:
            return [one / sum(parts) for one in parts]
    return [1.0 / count] * count if count else []
