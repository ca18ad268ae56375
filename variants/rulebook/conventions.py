"""The decisions that hold for the whole tool, read from ``rules/conventions.toml``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.reading import Faults, Fields, TomlDocument


@dataclass(frozen=True, slots=True)
class Conventions:
    """Numbers and choices that no single rule owns; each has a source in its file.

    Attributes
    ----------
    gauge_gapes : float
        Barb length, in gapes, that a hackle gauge calls right for a hook size.
    hook_scale : str
        Which scale of hook dimensions is used.
    long_reading : str
        What "2X long" means: ``single``, ``even`` or ``gape``.
    left_out_least, left_out_most : float
        Departure, before the part's weight, of leaving out an optional part: of the slightest, and
        of one of weight 1; in between it grows with the weight.
    mixed_part : float
        Departure of winding one feather where the dressing mixes two, for the one that is lost.
    variant_within : float
        Departure beyond which a fly counts as another one.
    feather_barbs, wound_barbs : float
        Barbs that one feather gives, and those that a body or a back of them takes at most.
    slight_part : float
        Weight of a part up to which flies that differ only in it are told in one line.
    size_step : float
        Departure, before the hook's weight, of each hook size away from the dressing's sizes.
    thickness_tenth : float
        Departure, before the part's weight, of each tenth away from a thickness that the dressing
        states, where no rule weighs it.
    shank_like, wire_like : float
        Departure, before the hook's weight, of a shank or wire one size off the hook's model.
    bend_like : float
        Departure, before the hook's weight, of a bend on which a fly is built otherwise.
    blended : tuple of str
        Classes of stuff that are blended before they are spun on the thread.
    blend_within : float
        CIEDE2000 from the wanted shade within which a blend serves.
    schools : tuple of str
        The schools of tying that are held to; rules of other schools are silent.
    blend_trouble : float
        Departure, before the part's weight, of blending two instead of taking one.
    """

    gauge_gapes: float
    hook_scale: str
    long_reading: str
    left_out_least: float
    left_out_most: float
    mixed_part: float
    variant_within: float
    feather_barbs: float
    wound_barbs: float
    slight_part: float
    size_step: float
    thickness_tenth: float
    shank_like: float
    wire_like: float
    bend_like: float
    blended: tuple[str, ...]
    blend_within: float
    blend_trouble: float
    schools: tuple[str, ...]

    @property
    def ceiling(self) -> int:
        """Thousandths beyond which a fly counts as another one."""
        return round(self.variant_within * 1000)


LONG_READINGS = ("single", "even", "gape")


def read_conventions(folders: Sequence[Path]) -> Conventions:
    """Read the conventions; each folder overrides the values it states.

    Raises
    ------
    InputError
        When a value is missing, out of range or without a source.
    """
    faults = Faults()
    values: dict[str, object] = {}
    for folder in folders:
        path = folder / "conventions.toml"
        if path.is_file():
            values.update(_values(TomlDocument.read(path), faults))
    faults.stop_if_any()
    return Conventions(**values)  # type: ignore[arg-type]


def _values(document: TomlDocument, faults: Faults) -> dict[str, object]:
    read: dict[str, object] = {}
    for name, table in document.value.items():
        fields = Fields(
            table if isinstance(table, dict) else {},
            lambda field, name=name: document.origin((name, field)),  # type: ignore[misc]
            faults,
        )
        fields.text("says", None)
        fields.text("source", None)
        if name == "hook_scale":
            read[name] = fields.text("value", None)
        elif name in ("blended", "schools"):
            read[name] = fields.words("value")
        elif name == "long_reading":
            read[name] = fields.choice("value", LONG_READINGS, None)
        elif name in Conventions.__dataclass_fields__:
            read[name] = fields.number("value", 0, 100)
        else:
            fields.wrong("", f"'{name}' is no convention", "", Conventions.__dataclass_fields__)
        fields.finish()
    return read
