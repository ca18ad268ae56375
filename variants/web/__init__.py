"""The page at the bench: the same answers in a browser, served to this machine alone."""

from variants.web.app import Settings, make_app

__all__ = ["Settings", "make_app"]
