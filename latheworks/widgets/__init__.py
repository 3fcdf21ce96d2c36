"""Benches: controls, a picture, and a reading, for the lessons."""

from latheworks.widgets.display import display_system
from latheworks.widgets.exercise import exercise
from latheworks.widgets.holding import holding_bench
from latheworks.widgets.infeeding import infeed_bench
from latheworks.widgets.tapping import thread_bench

__all__ = ["display_system", "exercise", "holding_bench", "infeed_bench", "thread_bench"]
