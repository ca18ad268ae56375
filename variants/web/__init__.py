"""The page at the bench, served to this machine alone."""

__all__ = [
    "serving",
]
