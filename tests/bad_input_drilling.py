"""Good calls of the drilling room's public names, and the nonsense that makes sense for an argument."""

from latheworks.drilling import (
    drill_feed,
    drill_hole,
    drilling_load,
    drills,
    hole_travel,
    peck_depths,
    point_length,
    ways_to_size,
)
from latheworks.shop import rack
from latheworks.units import Q_, Span
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, Call

D10 = Q_(10, "mm")
TRAVEL = hole_travel(D10, Q_(50, "mm"))
WAYS = ways_to_size("M16x1.5-6H", Q_(20, "mm"), "brass")
LEFT_OR_ZERO = MAY_BE_LEFT_OUT | MAY_BE_ZERO
BOOL = frozenset({"bool"})
PLAIN = frozenset({"no unit", "whole number"})

DRILLING_CALLS: dict[str, Call] = {
    "drills": Call(drills, {"set": "letter"}),
    "point_length": Call(point_length, {"diameter": D10, "point_angle": Q_(118, "degree")},
                         {"diameter": MANY, "point_angle": MAY_BE_LEFT_OUT}),
    "hole_travel": Call(hole_travel, {"diameter": D10, "depth": Q_(50, "mm"), "through": True,
                                      "point_angle": Q_(118, "degree"), "approach": Q_(2, "mm"),
                                      "overrun": Q_(2, "mm")},
                        {"through": BOOL, "point_angle": MAY_BE_LEFT_OUT, "approach": LEFT_OR_ZERO,
                         "overrun": LEFT_OR_ZERO}),
    "HoleTravel.time": Call(TRAVEL.time, {"feed": Q_(0.2, "mm/rev"), "spindle": Q_(600, "rev/min")}),
    "drilling_load": Call(drilling_load, {"diameter": D10, "feed": Q_(0.2, "mm/rev"), "material": "steel 1018",
                                          "pilot": Q_(3, "mm"), "point": "split", "point_angle": Q_(135, "degree"),
                                          "wear": 1.3, "hardness": 150.0, "spindle": Q_(600, "rev/min"),
                                          "system": "inch"},
                          {"pilot": MAY_BE_LEFT_OUT, "point_angle": MAY_BE_LEFT_OUT, "hardness": MAY_BE_LEFT_OUT,
                           "spindle": MAY_BE_LEFT_OUT}),
    "drill_feed": Call(drill_feed, {"diameter": D10, "material": "brass", "depth": Q_(60, "mm")},
                       {"depth": MAY_BE_LEFT_OUT}),
    "peck_depths": Call(peck_depths, {"diameter": D10, "depth": Q_(60, "mm"), "first": 2.0, "ratio": 0.7,
                                      "least": 0.5}, {"first": PLAIN}),
    "drill_hole": Call(drill_hole, {"diameter": Q_(20, "mm"), "depth": Q_(250, "mm"), "material": "aluminum 6061-T6",
                                    "through": True, "from_both_ends": "auto", "lathe": None, "rack": None,
                                    "pilot": "auto", "grip_diameter": Q_(32, "mm"), "stop": True, "friction": 0.2,
                                    "wear": 1.3, "overlap": Q_(3, "mm"), "runout": Q_(0.1, "mm"),
                                    "drift": Q_(0.1, "mm")},
                       {"through": BOOL, "from_both_ends": BOOL, "stop": BOOL, "pilot": BOOL,
                        "lathe": MAY_BE_LEFT_OUT, "rack": MAY_BE_LEFT_OUT, "grip_diameter": MAY_BE_LEFT_OUT,
                        "friction": MAY_BE_LEFT_OUT, "overlap": LEFT_OR_ZERO, "runout": LEFT_OR_ZERO,
                        "drift": LEFT_OR_ZERO}),
    "ways_to_size": Call(ways_to_size, {"hole": Span(Q_(16, "mm"), Q_(16.03, "mm")), "depth": Q_(30, "mm"),
                                        "material": "steel 1018", "position": Q_(0.1, "mm"), "drift": Q_(0.1, "mm"),
                                        "lathe": None, "rack": None},
                         {"position": MAY_BE_LEFT_OUT, "drift": LEFT_OR_ZERO, "lathe": MAY_BE_LEFT_OUT,
                          "rack": MAY_BE_LEFT_OUT}, {"hole": "hole|designation"}),
    "WaysToSize.best": Call(WAYS.best, {"priority": "time"}),
    "WaysToSize.why": Call(WAYS.why, {"priority": "time"}),
    "rack": Call(rack, {"path": None}, {"path": MAY_BE_LEFT_OUT}),
}  # fmt: skip
GIVEN_BY_DRILLING = {
    "DrillFeed", "DrilledHole", "DrillingLoad", "Drills", "HoleStep", "HoleTravel", "Meeting", "Pecks", "Rack", "Tool",
    "Way", "WaysToSize",
}  # fmt: skip
