"""A good call of every public name, and the nonsense that makes sense for an argument; a new name needs its line.

All other nonsense has to raise a LatheworksError that names the argument.
"""

from latheworks import Span, material, materials, read_size, show
from latheworks.deflection import (
    BetweenCenters,
    Chuck,
    ChuckAndCenter,
    Shaft,
    deflected_shape,
    deflection,
    deflection_working,
)
from latheworks.shop import caution_kinds, cautions, lathe
from latheworks.units import Q_
from tests.bad_input_budget import BUDGET_CALLS, GIVEN_BY_BUDGET
from tests.bad_input_change import CHANGE_CALLS
from tests.bad_input_cutting import CUTTING_CALLS, GIVEN_BY_CUTTING
from tests.bad_input_drilling import DRILLING_CALLS, GIVEN_BY_DRILLING
from tests.bad_input_holding import HOLDING_CALLS
from tests.bad_input_orders import GIVEN_BY_ORDERS, ORDERS_CALLS
from tests.bad_input_plan import GIVEN_BY_PLAN, PLAN_CALLS
from tests.bad_input_rack import GIVEN_BY_RACK, RACK_CALLS
from tests.bad_input_reach import GIVEN_BY_REACH, REACH_CALLS
from tests.bad_input_review import GIVEN_BY_REVIEW, REVIEW_CALLS
from tests.bad_input_size_error import GIVEN_BY_SIZE_ERROR, SIZE_ERROR_CALLS
from tests.bad_input_threads import GIVEN_BY_THREADS, THREAD_CALLS
from tests.bad_input_turning import GIVEN_BY_TURNING, TURNING_CALLS
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, RIGID, Call

SHAFT = Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), Q_(8, "mm"), Q_(69, "GPa"))
SETUP = {"shaft": SHAFT, "holding": Chuck(), "force": Q_(150, "N"), "at": Q_(40, "mm")}
REST = (Q_(40, "mm"), Q_(20_000, "N/mm"))
STIFF = Q_(50_000, "N/mm")
TILT = Q_(1e8, "N*mm/rad")
SPRING = MAY_BE_LEFT_OUT | RIGID

CALLS: dict[str, Call] = {
    **THREAD_CALLS,
    **BUDGET_CALLS,
    **HOLDING_CALLS,
    **SIZE_ERROR_CALLS,
    # latheworks
    "material": Call(material, {"name": "brass"}, said={"name": "material"}),
    "materials": Call(materials),
    "read_size": Call(read_size, {"text": "1 1/4 in", "unit": "mm"}, {"unit": MAY_BE_LEFT_OUT},
                      {"text": "text|length"}),
    "show": Call(show, {"quantity": Q_(3.0, "mm"), "system": "inch", "digits": 3},
                 {"quantity": frozenset({"zero", "negative", "array", "wrong dimension", "huge"}),
                  "digits": MAY_BE_LEFT_OUT | {"whole number"}}),
    "Span.holds": Call(Span(Q_(4, "mm"), Q_(5, "mm")).holds, {"value": Q_(4.5, "mm")},
                       {"value": frozenset({"zero", "negative", "huge"})}),
    # latheworks.deflection
    "Shaft": Call(Shaft, {"sections": [(Q_(80, "mm"), Q_(20, "mm"), Q_(8, "mm"))], "material": Q_(69, "GPa")},
                  said={"sections": "section"}),
    "Shaft.bar": Call(Shaft.bar, {"length": Q_(80, "mm"), "outside": Q_(20, "mm"), "bore": Q_(8, "mm"),
                                  "material": Q_(69, "GPa")}, {"bore": MAY_BE_LEFT_OUT | MAY_BE_ZERO}),
    "Shaft.stickout": Call(SHAFT.stickout, {"grip": Q_(20, "mm")}),
    "Chuck": Call(Chuck, {"tilt": TILT, "radial": STIFF, "rest": REST},
                  {"tilt": SPRING, "radial": SPRING, "rest": MAY_BE_LEFT_OUT}),
    "ChuckAndCenter": Call(ChuckAndCenter, {"tilt": TILT, "radial": STIFF, "center": STIFF, "rest": REST},
                           {"tilt": SPRING, "radial": SPRING, "center": SPRING, "rest": MAY_BE_LEFT_OUT}),
    "BetweenCenters": Call(BetweenCenters, {"head": STIFF, "tail": STIFF, "rest": REST},
                           {"head": SPRING, "tail": SPRING, "rest": MAY_BE_LEFT_OUT}),
    "deflection": Call(deflection, SETUP, {"force": MAY_BE_ZERO, "at": MANY | MAY_BE_ZERO}),
    "deflected_shape": Call(deflected_shape, {**SETUP, "along": Q_([0.0, 80.0], "mm")},
                            {"force": MAY_BE_ZERO, "at": MAY_BE_ZERO, "along": MANY | MAY_BE_ZERO}),
    "deflection_working": Call(deflection_working, SETUP, {"force": MAY_BE_ZERO, "at": MAY_BE_ZERO}),
    **DRILLING_CALLS,
    # latheworks.cutting
    **CUTTING_CALLS,
    # latheworks.passes
    **TURNING_CALLS,
    **REACH_CALLS,
    **RACK_CALLS,
    # latheworks.plan
    **PLAN_CALLS,
    **CHANGE_CALLS,
    **REVIEW_CALLS,
    **ORDERS_CALLS,
    # latheworks.shop
    "lathe": Call(lathe, {"path": None}, {"path": MAY_BE_LEFT_OUT}),
    "cautions": Call(cautions, {"kind": "threading"}),
    "caution_kinds": Call(caution_kinds),
}  # fmt: skip
# Classes that a person is given and does not build, and methods that are kernels on plain floats.
GIVEN = {
    "Span", "Material", "Caution", "Lathe",
    *GIVEN_BY_DRILLING, *GIVEN_BY_CUTTING, *GIVEN_BY_TURNING, *GIVEN_BY_REACH, *GIVEN_BY_RACK,
    *GIVEN_BY_PLAN, *GIVEN_BY_REVIEW, *GIVEN_BY_ORDERS, *GIVEN_BY_THREADS, *GIVEN_BY_BUDGET, *GIVEN_BY_SIZE_ERROR,
}  # fmt: skip
KERNELS = {"base", "flexibility", "props", "springs"}
