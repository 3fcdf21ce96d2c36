"""The whole job: a part, its setups and operations, and what would come out of them."""

from latheworks.plan.change import (
    add_operation,
    change_operation,
    change_part,
    change_plan,
    change_setup,
    drop_operation,
    find_operation,
    move_operation,
)
from latheworks.plan.costs import CostRow, Costs, costs
from latheworks.plan.economics import PieceCost, edge_cost, piece_cost
from latheworks.plan.examples import barrel_plan, corer_barrel, cutting_shoe, shoe_plan
from latheworks.plan.feature import Feature
from latheworks.plan.file import read_part, read_plan, write_part, write_plan
from latheworks.plan.late_thread import late_thread_plan
from latheworks.plan.mass import Balance, balance, length_for_balance
from latheworks.plan.operation import Operation
from latheworks.plan.orders import orders
from latheworks.plan.orders_result import Orders, Ranked
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.price import Measured, Price, Redesign, price_of
from latheworks.plan.review import review
from latheworks.plan.review_result import FeatureRow, Finding, OperationRow, Review, Where
from latheworks.plan.setup import Setup
from latheworks.plan.sheet import setup_sheet

__all__ = [
    "Balance", "CostRow", "Costs", "Feature", "FeatureRow", "Finding", "Measured", "Operation", "OperationRow",
    "Orders", "Part", "PieceCost", "Plan", "Price", "Ranked", "Redesign", "Review", "Setup", "Where", "add_operation",
    "balance", "barrel_plan", "change_operation", "change_part", "change_plan", "change_setup", "corer_barrel",
    "costs", "cutting_shoe", "drop_operation", "edge_cost", "find_operation", "late_thread_plan",
    "length_for_balance", "move_operation", "orders", "piece_cost", "price_of", "read_part", "read_plan", "review",
    "setup_sheet", "shoe_plan", "write_part", "write_plan",
]  # fmt: skip
