"""Every bench that the library shows, by its kind."""

from latheworks import widgets

MAKERS = {name.removesuffix("_bench"): getattr(widgets, name) for name in widgets.__all__ if name.endswith("_bench")}
