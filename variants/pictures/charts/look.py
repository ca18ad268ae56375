"""The look that pages, charts and the page at the bench share: a plate in an old handbook.

Colours come as tokens for light and dark; charts, which stand on their own paper, take the light
ones. Text keeps a contrast of at least 4.5 to its ground (W3C, WCAG 2.2, 1.4.3), which a test
reckons.
"""

from __future__ import annotations

from variants.pictures.paper import INK, PAPER

#: Token to its colour by day and by night.
TOKENS: dict[str, tuple[str, str]] = {
    "paper": (PAPER, "#1d1a16"),
    "card": ("#fbf7ec", "#27231d"),
    "ink": (INK, "#ece4d3"),
    "faint": ("#6a6054", "#b4a994"),
    "rule": ("#cdc2aa", "#4b4438"),
    "changed": ("#8a2f1c", "#eba48d"),
    "link": ("#2d5163", "#9cc4da"),
    "plate": (PAPER, PAPER),
    "plate-ink": (INK, INK),
}
#: Text and what it stands on.
ON = (
    ("ink", "paper"), ("faint", "paper"), ("changed", "paper"), ("link", "paper"),
    ("ink", "card"), ("faint", "card"), ("changed", "card"), ("link", "card"),
    ("plate-ink", "plate"),
)  # fmt: skip
SERIF = "'Libertinus Serif', 'Linux Libertine', 'Iowan Old Style', Palatino, Georgia, serif"
SANS = "'Gill Sans', 'Gill Sans MT', Optima, Candara, 'Noto Sans', 'DejaVu Sans', sans-serif"
LIGHT = {name: by_day for name, (by_day, _) in TOKENS.items()}


def tokens_css() -> str:
    """Return the tokens as custom properties of a stylesheet, by day, by night and on paper."""
    day, night = (_properties(place) for place in (0, 1))
    fonts = f"--serif: {SERIF}; --sans: {SANS};"
    return (
        f":root {{ color-scheme: light dark; {day} {fonts} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ {night} }} }}\n"
    )


def _properties(place: int) -> str:
    return " ".join(f"--{name}: {colours[place]};" for name, colours in TOKENS.items())


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours, 1 to 21 (WCAG 2.2, contrast ratio).

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    darker, lighter = sorted(map(_luminance, (one, other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    """Return the relative luminance of ``#RRGGBB`` (WCAG 2.2)."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in channels]
    red, green, blue = linear
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
