"""Good calls of orders, costs and prices, and the nonsense that makes sense there."""

from concurrent.futures import ThreadPoolExecutor

from latheworks.plan import Operation, Plan, Setup, barrel_plan, costs, edge_cost, orders, piece_cost, price_of
from latheworks.shop import lathe, rack
from latheworks.units import Q_
from tests.nonsense import MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call
from tests.order_parts import stub

LEFT = MAY_BE_LEFT_OUT
NONE = frozenset({"empty list"})
SMALL = Plan(stub(), [Setup("one", "A", Q_(35.0, "mm"), stop=True, operations=[
    Operation("face", ["face B"], "right-hand tool"), Operation("turn", ["nose"], "finishing tool"),
])])  # fmt: skip
# A plain number is what these ask for, and so is a whole one.
PLAIN = frozenset({"no unit", "whole number"})
MONEY = {"lathe_rate": LEFT | PLAIN, "labor_rate": LEFT | PLAIN, "stock_price": LEFT | PLAIN}


def minutes(value):
    """Minutes."""
    return Q_(float(value), "min")


ORDERS_CALLS: dict[str, Call] = {
    "orders": Call(orders, {
        "part": SMALL, "lathe": lathe(), "rack": rack(), "executor": ThreadPoolExecutor(1), "progress": None,
        "limit": Q_(5.0, "s"), "most_setups": 1, "before": [("face B end B", "turn nose end B")],
        "avoid": ["jaws on a thread"], "most_plans": 3,
    }, {
        "lathe": LEFT, "rack": LEFT, "executor": LEFT, "progress": LEFT | {"bool"}, "limit": LEFT,
        "most_setups": LEFT | {"whole number"}, "before": NONE, "avoid": NONE,
        "most_plans": frozenset({"whole number"}),
    }),
    "costs": Call(costs, {"plan": barrel_plan(), "lathe_rate": 20.0, "labor_rate": 40.0, "stock_price": 8.0}, MONEY),
    "price_of": Call(price_of, {"plan": barrel_plan(), "feature": "edge A", "lathe_rate": 20.0, "labor_rate": 40.0,
                                "stock_price": 8.0}, MONEY),
    "piece_cost": Call(piece_cost, {
        "cutting_time": minutes(5), "edge_life": minutes(60), "change_time": minutes(2), "edge_cost": 3.0,
        "hourly_rate": 60.0, "handling_time": minutes(2), "setup_time": minutes(30), "batch": 10, "stock_cost": 5.0,
        "whole_edges": True,
    }, {
        "change_time": MAY_BE_ZERO, "edge_cost": PLAIN, "hourly_rate": PLAIN, "handling_time": LEFT | MAY_BE_ZERO,
        "setup_time": LEFT | MAY_BE_ZERO, "batch": frozenset({"whole number"}), "stock_cost": PLAIN,
        "whole_edges": frozenset({"bool"}),
    }),
    "edge_cost": Call(edge_cost, {"price": 20.0, "edges": 15, "grinding_cost": 2.0},
                      {"price": PLAIN, "edges": frozenset({"whole number"}), "grinding_cost": PLAIN}),
}  # fmt: skip
GIVEN_BY_ORDERS = {"CostRow", "Costs", "Measured", "Orders", "PieceCost", "Price", "Ranked", "Redesign"}
