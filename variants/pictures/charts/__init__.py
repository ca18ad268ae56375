"""Charts as SVG: the derivation, proportions, the box at a glance, a departure part by part."""

from variants.pictures.charts.box import box_svg
from variants.pictures.charts.departure import departure_svg
from variants.pictures.charts.derivation import PlacedNode, edge_words, lay_out
from variants.pictures.charts.derivation_svg import derivation_svg
from variants.pictures.charts.flies import fly_pictures
from variants.pictures.charts.front import front_chart
from variants.pictures.charts.look import LIGHT, tokens_css
from variants.pictures.charts.proportions import proportions_svg
from variants.pictures.charts.shelf import SHELF_PREFIX, Shelf

__all__ = [
    "LIGHT",
    "SHELF_PREFIX",
    "PlacedNode",
    "Shelf",
    "box_svg",
    "departure_svg",
    "derivation_svg",
    "edge_words",
    "fly_pictures",
    "front_chart",
    "lay_out",
    "proportions_svg",
    "tokens_css",
]
