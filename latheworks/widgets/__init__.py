"""Benches: controls, a picture, and a reading, for the lessons."""

from latheworks.widgets.budgeting import budget_bench
from latheworks.widgets.costing import cost_bench
from latheworks.widgets.display import display_system
from latheworks.widgets.drilling import hole_bench
from latheworks.widgets.exercise import exercise
from latheworks.widgets.facing import facing_bench
from latheworks.widgets.holding import holding_bench
from latheworks.widgets.hole_ways import ways_bench
from latheworks.widgets.infeeding import infeed_bench
from latheworks.widgets.mating import fit_bench
from latheworks.widgets.measuring import wires_bench
from latheworks.widgets.ordering import order_bench
from latheworks.widgets.passing import passes_bench
from latheworks.widgets.picking_up import pickup_bench
from latheworks.widgets.planning import plan_bench
from latheworks.widgets.plunging import groove_bench
from latheworks.widgets.reaching import reach_bench
from latheworks.widgets.sizing import size_bench
from latheworks.widgets.tapping import thread_bench

__all__ = [
    "budget_bench",
    "cost_bench",
    "display_system",
    "exercise",
    "facing_bench",
    "fit_bench",
    "groove_bench",
    "holding_bench",
    "hole_bench",
    "infeed_bench",
    "order_bench",
    "passes_bench",
    "pickup_bench",
    "plan_bench",
    "reach_bench",
    "size_bench",
    "thread_bench",
    "ways_bench",
    "wires_bench",
]
