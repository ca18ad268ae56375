"""A material: what it is, what it can do on a fly, how it behaves."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Substitute:
    """A published stand-in and the difference it makes."""

    material: str
    difference: str


@dataclass(frozen=True, slots=True)
class Material:
    """An entry of the trade's materials tables.

    Attributes
    ----------
    id, name : str
        Its name in files and its trade name.
    also : tuple of str
        Other names.
    kind : str
        The class of stuff, such as ``"rooster hackle"``.
    comes_from : str
        The animal or the stuff.
    functions : frozenset of str
        What it can be on a fly.
    stiffness, sheen, durability, translucency, web : int or None
        Grades 0 to 4; None where the table states none.
    water : str
        ``floats``, ``neutral``, ``soaks`` or ``sinks``.
    texture : str
        ``smooth``, ``fuzzy``, ``spiky``, ``segmented`` or ``flat``.
    hollow : bool or None
        Whether a hair flares under thread.
    fibre_mm : tuple of float or None
        Shortest and longest useful fibre.
    thickness_mm, density_g_cm3 : float or None
        Of one strand as tied in.
    dyes_well : bool or None
    colours : tuple of str
        Ids of the colours it comes in; the first is its natural one; ``any`` means dyed.
    substitutes : tuple of Substitute
        Published stand-ins in order of preference.
    caution : str
        What health asks for, and what the tables of law make of it; see `reading.law_tables`.
    restriction : str
        Empty, ``restricted`` (barred, or only with leave, in some place) or ``protected`` (in all
        that speak of it).
    taxa, origins : tuple of str
        The animals or metals that are sold under the name, and where the stuff may come from.
    weighs : str
        How it puts weight on a hook: ``wound``, ``bead``, ``eyes``, ``moulded``, or empty.
    ask : str
        What to ask the seller where law hangs on it.
    source, note : str
    graded_like : str
        Id of the material whose grades it takes, where nobody has graded it by itself.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    kind: str = ""
    comes_from: str = ""
    functions: frozenset[str] = frozenset()
    stiffness: int | None = None
    water: str = "neutral"
    texture: str = "smooth"
    sheen: int | None = None
    durability: int | None = None
    translucency: int | None = None
    web: int | None = None
    hollow: bool | None = None
    fibre_mm: tuple[float, float] | None = None
    thickness_mm: float | None = None
    density_g_cm3: float | None = None
    dyes_well: bool | None = None
    colours: tuple[str, ...] = ()
    substitutes: tuple[Substitute, ...] = ()
    caution: str = ""
    restriction: str = ""
    taxa: tuple[str, ...] = ()
    origins: tuple[str, ...] = ()
    weighs: str = ""
    ask: str = ""
    source: str = ""
    note: str = ""
    graded_like: str = ""

    @property
    def natural_colour(self) -> str | None:
        """The colour meant when a dressing names the material alone."""
        return next((colour for colour in self.colours if colour != "any"), None)


@dataclass(frozen=True, slots=True)
class HookModel:
    """How a hook differs from the standard of its size.

    Attributes
    ----------
    length_x, wire_x : int
        Sizes longer (+) or shorter (-) in the shank; stouter (+) or finer (-) in the wire.
    eye, bend : str
    is_barbed : bool
    points, shanks : int
        A double has two points on one shank, a treble three.
    """

    length_x: int = 0
    wire_x: int = 0
    eye: str = "down"
    bend: str = "round"
    is_barbed: bool = True
    points: int = 1
    shanks: int = 1


STANDARD_HOOK = HookModel()


@dataclass(frozen=True, slots=True)
class Hook:
    """One hook's dimensions in millimetres."""

    size: int
    gape_mm: float
    shank_mm: float
    eye_mm: float
    wire_mm: float
