"""The fly's picture: drawn to scale from the numbers that the rules test."""

from variants.drawing.fly import draw_fly
from variants.drawing.frame import Picture
from variants.drawing.sheet_of_flies import plate
from variants.drawing.to_png import PngUnavailableError, as_png

__all__ = ["Picture", "PngUnavailableError", "as_png", "draw_fly", "plate"]
