"""The fly drawn to scale as SVG and PNG, from the numbers that the rules test."""

from variants.pictures.fly import draw_fly
from variants.pictures.frame import Picture
from variants.pictures.sheet_of_flies import plate
from variants.pictures.to_png import PngUnavailableError, as_png

__all__ = ["Picture", "PngUnavailableError", "as_png", "draw_fly", "plate"]
