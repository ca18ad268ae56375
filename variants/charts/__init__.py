"""Charts as SVG: the derivation, proportions, the box at a glance, a departure part by part."""

from variants.charts.box import box_svg
from variants.charts.departure import departure_svg
from variants.charts.derivation_svg import derivation_svg
from variants.charts.flies import fly_pictures
from variants.charts.front import front_chart
from variants.charts.proportions import proportions_svg

__all__ = [
    "box_svg",
    "departure_svg",
    "derivation_svg",
    "fly_pictures",
    "front_chart",
    "proportions_svg",
]
