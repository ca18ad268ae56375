"""Charts as SVG: the derivation, proportions, the box at a glance, a departure part by part."""

from variants.pictures.charts.box import box_svg
from variants.pictures.charts.departure import departure_svg
from variants.pictures.charts.derivation_svg import derivation_svg
from variants.pictures.charts.flies import fly_pictures
from variants.pictures.charts.front import front_chart
from variants.pictures.charts.proportions import proportions_svg

__all__ = [
    "box_svg",
    "departure_svg",
    "derivation_svg",
    "fly_pictures",
    "front_chart",
    "proportions_svg",
]
