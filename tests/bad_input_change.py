"""Good calls of what changes a plan, and the nonsense that makes sense there."""

from latheworks import Span
from latheworks.plan import (
    Feature,
    Operation,
    add_operation,
    barrel_plan,
    change_operation,
    change_part,
    change_plan,
    change_setup,
    corer_barrel,
    drop_operation,
    find_operation,
    late_thread_plan,
    move_operation,
)
from latheworks.units import Q_
from tests.nonsense import MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

LEFT = MAY_BE_LEFT_OUT
TEXT = frozenset({"text"})
ANY_TEXT = TEXT | {"empty text"}
COUNT = frozenset({"whole number"})
BOOL = LEFT | {"bool"}


def mm(value):
    """Millimeters."""
    return Q_(float(value), "mm")


PLAN = barrel_plan()
NOSE = Feature("nose", "cylinder", mm(215), mm(250), mm(30), limits=Span(mm(29.9), mm(30)))
CHANGE_CALLS: dict[str, Call] = {
    "change_plan": Call(change_plan, {"plan": PLAN, "part": corer_barrel(), "setups": PLAN.setups, "name": "mine",
                                      "note": "of mine"},
                        {"part": LEFT, "setups": LEFT, "name": LEFT | ANY_TEXT, "note": LEFT | ANY_TEXT}),
    "change_part": Call(change_part, {"part": corer_barrel(), "features": [NOSE], "stock_diameter": mm(36),
                                      "stock_length": mm(256), "quantity": 2, "name": "mine"},
                        {"features": LEFT, "stock_diameter": LEFT, "stock_length": LEFT, "quantity": LEFT | COUNT,
                         "name": LEFT | TEXT}),
    "change_setup": Call(change_setup, {
        "plan": PLAN, "setup": 1, "stickout": mm(80), "holding": "collet", "support": "center", "rest": mm(40),
        "jaw_force": Q_(9000.0, "N"), "runout": mm(0.05), "zero_error": mm(0.05), "stop": True,
        "tailstock_locked": True, "quill_locked": True, "name": "one",
    }, {
        "setup": COUNT, "stickout": LEFT, "holding": LEFT, "support": LEFT, "rest": LEFT, "jaw_force": LEFT,
        "runout": LEFT | MAY_BE_ZERO, "zero_error": LEFT | MAY_BE_ZERO, "stop": BOOL, "tailstock_locked": BOOL,
        "quill_locked": BOOL, "name": LEFT | TEXT,
    }),
    "change_operation": Call(change_operation, {
        "plan": PLAN, "setup": 1, "operation": 40, "tool": "8 mm drill", "spindle": Q_(600.0, "rev/min"),
        "surface_speed": None, "feed": Q_(0.1, "mm/rev"), "depth": mm(1), "passes": 3, "spring_passes": 1,
        "leave": mm(0.3), "peck": mm(8), "drill_depth": mm(40), "method": "radial", "coolant": True,
        "features": ("bore",),
    }, {
        "setup": COUNT, "features": LEFT | {"empty list"}, "tool": LEFT | TEXT, "spindle": LEFT,
        "surface_speed": LEFT, "feed": LEFT, "depth": LEFT, "passes": LEFT | COUNT, "spring_passes": LEFT | COUNT,
        "leave": LEFT | MAY_BE_ZERO, "peck": LEFT, "drill_depth": LEFT, "method": LEFT, "coolant": BOOL,
    }),
    "find_operation": Call(find_operation, {"plan": PLAN, "kind": "drill", "feature": "bore", "which": 2},
                           {"which": COUNT}),
    "move_operation": Call(move_operation, {"plan": PLAN, "setup": 1, "operation": 40, "to_setup": 2, "before": 30},
                           {"setup": COUNT, "to_setup": LEFT | COUNT, "before": LEFT}),
    "drop_operation": Call(drop_operation, {"plan": PLAN, "setup": 1, "operation": 40}, {"setup": COUNT}),
    "add_operation": Call(add_operation, {"plan": PLAN, "setup": 1, "added": Operation("deburr"), "before": 30},
                          {"setup": COUNT, "before": LEFT}),
    "late_thread_plan": Call(late_thread_plan),
}  # fmt: skip
