"""Good calls of the plan's data, mass and files, and the nonsense that makes sense there."""

from latheworks import Span
from latheworks.plan import (
    Feature,
    Operation,
    Part,
    Plan,
    Setup,
    balance,
    barrel_plan,
    corer_barrel,
    cutting_shoe,
    length_for_balance,
    read_part,
    read_plan,
    setup_sheet,
    shoe_plan,
    write_part,
    write_plan,
)
from latheworks.shop import lathe, rack
from latheworks.units import Q_
from tests.nonsense import MAY_BE_LEFT_OUT, MAY_BE_ZERO, RIGID, Call

LEFT = MAY_BE_LEFT_OUT
TEXT = frozenset({"text"})
ANY_TEXT = TEXT | {"empty text"}
COUNT = frozenset({"whole number"})


def mm(value):
    """Millimeters."""
    return Q_(float(value), "mm")


BODY = Feature("body", "cylinder", mm(0), mm(60), mm(20))
BOTH = [(corer_barrel(), mm(0), False), (cutting_shoe(), mm(230), False)]
GROOVES = {"name": "grooves", "kind": "groove", "start": mm(5), "end": mm(8), "diameter": mm(18), "end_diameter": None,
           "side": "outside", "limits": Span(mm(17.9), mm(18.1)), "length_limits": None, "finish": Q_(1.6, "um"),
           "designation": None, "count": 3, "spacing": mm(6), "floor_radius": mm(0.2), "runout": mm(0.1),
           "datum": "body"}  # fmt: skip

PLAN_CALLS: dict[str, Call] = {
    "Feature": Call(Feature, GROOVES, {
        "name": TEXT, "end_diameter": LEFT, "limits": LEFT, "length_limits": LEFT,
        "finish": LEFT, "designation": LEFT, "count": COUNT, "floor_radius": LEFT | MAY_BE_ZERO, "runout": LEFT,
        "datum": LEFT | TEXT,
    }, {"start": "start|spacing", "end": "end|start"}),
    "Part": Call(Part, {"name": "pin", "material": "brass", "features": [BODY], "stock_diameter": mm(22),
                        "stock_length": mm(62), "stock_bore": mm(0), "stock_before": mm(1), "quantity": 2,
                        "note": "of brass"},
                 {"name": TEXT, "material": frozenset(), "stock_bore": LEFT | MAY_BE_ZERO,
                  "stock_before": LEFT | MAY_BE_ZERO, "quantity": COUNT, "note": ANY_TEXT}),
    "Part.feature": Call(corer_barrel().feature, {"name": "body"}),
    "Operation": Call(Operation, {
        "kind": "drill", "features": ("body",), "tool": "8 mm drill", "spindle": Q_(600.0, "rev/min"),
        "surface_speed": None, "feed": Q_(0.1, "mm/rev"), "depth": mm(1), "passes": 3, "spring_passes": 1,
        "leave": mm(0.3), "peck": mm(8), "drill_depth": mm(40), "method": "radial", "coolant": True, "note": "slow",
    }, {
        "features": frozenset({"empty list"}), "tool": LEFT | TEXT, "spindle": LEFT, "surface_speed": LEFT,
        "feed": LEFT, "depth": LEFT, "passes": LEFT | COUNT, "spring_passes": COUNT, "leave": LEFT | MAY_BE_ZERO,
        "peck": LEFT, "drill_depth": LEFT, "method": LEFT, "coolant": LEFT | {"bool"}, "note": ANY_TEXT,
    }),
    "Setup": Call(Setup, {
        "name": "one", "grips": "A", "stickout": mm(80), "holding": "collet", "support": "center", "rest": mm(40),
        "operations": (Operation("deburr"),), "jaw_force": Q_(9000.0, "N"), "runout": mm(0.05), "zero": "the stop",
        "zero_error": mm(0.05), "stop": True, "tailstock_locked": True, "quill_locked": True,
        "tilt": Q_(1e8, "N*mm/rad"), "radial": Q_(5e4, "N/mm"), "center": Q_(3e4, "N/mm"), "note": "",
    }, {
        "name": TEXT, "rest": LEFT, "operations": frozenset({"empty list"}), "jaw_force": LEFT,
        "runout": LEFT | MAY_BE_ZERO, "zero": ANY_TEXT, "zero_error": LEFT | MAY_BE_ZERO,
        "stop": frozenset({"bool"}), "tailstock_locked": frozenset({"bool"}), "quill_locked": frozenset({"bool"}),
        "tilt": LEFT | RIGID, "radial": LEFT | RIGID, "center": LEFT | RIGID, "note": ANY_TEXT,
    }),
    "Plan": Call(Plan, {"part": corer_barrel(), "setups": barrel_plan().setups, "name": "mine", "lathe": None,
                        "rack": None, "note": ""},
                 {"name": ANY_TEXT, "lathe": LEFT, "rack": LEFT, "note": ANY_TEXT}),
    "balance": Call(balance, {"pieces": BOTH, "system": "inch"}),
    "length_for_balance": Call(length_for_balance, {
        "pieces": BOTH, "part": "cutting shoe", "feature": "collar", "wanted": mm(200), "least": mm(1),
        "most": mm(500),
    }, {"least": LEFT, "most": LEFT}, {"wanted": "wanted", "least": "least", "most": "most"}),
    "write_plan": Call(write_plan, {"plan": barrel_plan(), "path": None}, {"path": LEFT}),
    "write_part": Call(write_part, {"part": corer_barrel(), "path": None}, {"path": LEFT}),
    "setup_sheet": Call(setup_sheet, {"plan": barrel_plan(), "path": None, "system": "inch"}, {"path": LEFT}),
    "read_plan": Call(read_plan, {"source": write_plan(barrel_plan()), "lathe": lathe(), "rack": rack()},
                      {"lathe": LEFT, "rack": LEFT}, {"source": "read_plan"}),
    "read_part": Call(read_part, {"source": write_part(corer_barrel())}, {}, {"source": "read_part"}),
    "barrel_plan": Call(barrel_plan),
    "corer_barrel": Call(corer_barrel),
    "cutting_shoe": Call(cutting_shoe),
    "shoe_plan": Call(shoe_plan),
}  # fmt: skip
GIVEN_BY_PLAN = {"Balance"}
