"""What the tyer asks: a base dressing, a box, and the limits of the search."""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import Box, Dressing


@dataclass(frozen=True, slots=True)
class Request:
    """One question to answer.

    Attributes
    ----------
    base : Dressing
    box : Box
    sizes : tuple of int
        Hook sizes to tie; empty for the dressing's own, its usual size preferred.
    water : str or None
        ``slow``, ``medium`` or ``fast``; None for the dressing as the books give it.
    missing : frozenset of str
        Ids of parts whose written material is gone, of items, or of materials. A word that names
        a part of the dressing means the part, though an item may be called so too.
    keep : frozenset of str
        Ids of parts that must stay as written.
    max_changes : int or None
        How many parts may differ from the dressing.
    """

    base: Dressing
    box: Box
    sizes: tuple[int, ...] = ()
    water: str | None = None
    missing: frozenset[str] = frozenset()
    keep: frozenset[str] = frozenset()
    max_changes: int | None = None

    @property
    def missing_stuff(self) -> frozenset[str]:
        """Ids of the items and materials that are missing."""
        return self.missing - {part.id for part in self.base.parts}
