"""Benches: controls, a picture, and a reading, for the lessons."""

from latheworks.widgets.budgeting import budget_bench
from latheworks.widgets.display import display_system
from latheworks.widgets.exercise import exercise
from latheworks.widgets.holding import holding_bench
from latheworks.widgets.infeeding import infeed_bench
from latheworks.widgets.mating import fit_bench
from latheworks.widgets.measuring import wires_bench
from latheworks.widgets.picking_up import pickup_bench
from latheworks.widgets.sizing import size_bench
from latheworks.widgets.tapping import thread_bench

__all__ = [
    "budget_bench",
    "display_system",
    "exercise",
    "fit_bench",
    "holding_bench",
    "infeed_bench",
    "pickup_bench",
    "size_bench",
    "thread_bench",
    "wires_bench",
]
