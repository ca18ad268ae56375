"""Formulas of amounts: plain numbers in, plain numbers out; mm, mg, g/cm3."""

from __future__ import annotations

from math import pi

from variants.geometry.shapes import FlyGeometry, HookShape
from variants.geometry.solids import Cone, helix_mm, turns_for
from variants.model import HEAD


def cylinder_mg(length_mm: float, across_mm: float, density_g_cm3: float) -> float:
    """Return the mass of a round strand.

    Notes
    -----
    ``pi/4 d² L`` in mm3, times g/cm3, which is mg/mm3.

    Examples
    --------
    >>> round(cylinder_mg(1000.0, 0.2, 8.96), 1)
    281.5
    """
    return pi / 4.0 * across_mm**2 * length_mm * density_g_cm3


def hook_mg(hook: HookShape, steel_g_cm3: float) -> float:
    """Return the mass of a hook from the length of its wire.

    Notes
    -----
    Wire length is the shank, half a circle over the gape for the bend, half the shank for the
    point's side, and a circle for the eye: common practice, good to about a fifth.
    """
    wire = hook.shank_mm * 1.5 + pi * hook.gape_mm / 2.0 + pi * hook.eye_mm * 0.7
    return cylinder_mg(wire, hook.wire_mm, steel_g_cm3)


def thread_mm(
    fly: FlyGeometry, *, base_pitch: float, tie_in_turns: float, head_layers: float
) -> float:
    """Return the length of thread that stays on a fly.

    Parameters
    ----------
    fly : FlyGeometry
    base_pitch : float
        Thread widths from turn to turn of the base.
    tie_in_turns : float
        Turns that tie one part in and off.
    head_layers : float

    Notes
    -----
    A base over the whole shank, turns for each part round the core, and a close-wound head: each a
    helix on a cylinder.
    """
    shank, thread, core = fly.hook.shank_mm, fly.thread_mm, fly.core_mm
    base = helix_mm(
        Cone(shank, fly.hook.wire_mm, fly.hook.wire_mm),
        turns_for(shank, base_pitch * thread),
        thread,
    )
    tied_in = max(0, len(fly.parts) - 1) * tie_in_turns * pi * core
    head = fly.parts[HEAD].cone
    whipped = 0.0
    if head is not None:
        turns = turns_for(head.length_mm, thread) * head_layers
        whipped = helix_mm(Cone(head.length_mm, core, core), turns, thread)
    return base + tied_in + whipped
