"""Hook sizes as text, such as ``12-16``, to numbers."""

from __future__ import annotations

import re

from variants.text import shown

SMALLEST_HOOK, LARGEST_HOOK = 24, 2
_RANGE = re.compile(r"([0-9]{1,2})\s*(?:-|–|to)\s*([0-9]{1,2})")
_ONE = re.compile(r"[0-9]{1,2}")
_OUGHT = re.compile(r"[0-9]{1,2}/0")
_KNOWN = f"sizes run from {LARGEST_HOOK} (large) to {SMALLEST_HOOK} (small)"


class SizesError(ValueError):
    """A text is no hook size nor several: what is wrong, and what would be right."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}: {remedy}")
        self.problem, self.remedy = problem, remedy


def parse_sizes(text: str) -> tuple[int, ...]:
    """Return hook sizes, largest hook first, from ``"14"``, ``"12-16"`` or ``"12, 14"``.

    A range steps by even numbers when both its ends are even, since hooks are sold so.

    Raises
    ------
    SizesError
        When the text is no such thing, or names a size that the hook tables lack.

    Examples
    --------
    >>> parse_sizes("12-16")
    (12, 14, 16)
    """
    sizes: set[int] = set()
    for part in re.split(r"[,;]", text):
        sizes.update(_part(part.strip()))
    return tuple(sorted(sizes))


def _part(text: str) -> range:
    match = _RANGE.fullmatch(text)
    if match:
        low, high = int(match[1]), int(match[2])
        if low > high:
            raise SizesError(f"{shown(text)} runs backwards", f"write {high}-{low}")
    elif _ONE.fullmatch(text):
        low = high = int(text)
    elif _OUGHT.fullmatch(text):
        raise SizesError(f"size {text} is larger than the hook tables hold", _KNOWN)
    else:
        found = f"{shown(text)} is not a hook size or a range of them"
        raise SizesError(found if text else "a size is missing", "write 14, 12-16, or 12, 14")
    for size in (low, high):
        if not LARGEST_HOOK <= size <= SMALLEST_HOOK:
            raise SizesError(f"size {size} is not in the hook tables", _KNOWN)
    return range(low, high + 1, 2 if low % 2 == high % 2 == 0 else 1)
