"""A good call of `size_error` and of `thread_size_error`; see `bad_input_table`."""

from latheworks.deflection import ChuckAndCenter, Shaft, size_error, thread_size_error
from latheworks.threads import infeed
from latheworks.units import Q_
from tests.nonsense import MANY, MAY_BE_LEFT_OUT, MAY_BE_ZERO, RIGID, Call

BAR = Shaft.bar(Q_(120, "mm"), Q_(16, "mm"), material="6061-T6")
CUT = size_error(BAR, ChuckAndCenter(), Q_(0.5, "mm"), Q_(0.1, "mm/rev"), Q_([30.0, 90.0], "mm"), spring_passes=1)

SIZE_ERROR_CALLS: dict[str, Call] = {
    "size_error": Call(
        size_error,
        {"shaft": BAR, "holding": ChuckAndCenter(), "depth": Q_(0.5, "mm"), "feed": Q_(0.1, "mm/rev"),
         "at": Q_(60, "mm"), "material": "6061-T6", "nose_radius": Q_(0.4, "mm"), "entering_angle": Q_(90, "degree"),
         "spring_passes": 2, "edge_force": Q_(1, "N"), "tool_stiffness": Q_(30_000, "N/mm"),
         "off_center": Q_(0.1, "mm"), "direction": "toward the chuck",
         "stretch": (Q_(0, "mm"), Q_(120, "mm")), "center_push": Q_(100, "N")},
        {"at": MANY | MAY_BE_ZERO, "material": MAY_BE_LEFT_OUT, "nose_radius": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
         "entering_angle": MAY_BE_LEFT_OUT, "spring_passes": frozenset({"whole number"}),
         "edge_force": MAY_BE_LEFT_OUT | MAY_BE_ZERO, "tool_stiffness": MAY_BE_LEFT_OUT | RIGID,
         "off_center": MAY_BE_LEFT_OUT | MAY_BE_ZERO | frozenset({"negative"}), "stretch": MAY_BE_LEFT_OUT,
         "center_push": MAY_BE_LEFT_OUT | MAY_BE_ZERO},
    ),
    "thread_size_error": Call(
        thread_size_error,
        {"schedule": infeed("M16x1.5-6g"), "shaft": BAR, "holding": ChuckAndCenter(), "at": Q_(110, "mm"),
         "start": Q_(104, "mm"), "radial_share": 0.5, "edge_force": Q_(1, "N"),
         "tool_stiffness": Q_(30_000, "N/mm")},
        {"at": MAY_BE_LEFT_OUT, "start": MAY_BE_LEFT_OUT, "edge_force": MAY_BE_LEFT_OUT | MAY_BE_ZERO,
         "tool_stiffness": MAY_BE_LEFT_OUT | RIGID},
        {"start": "start|at"},
    ),
    "SizeError.copied": Call(CUT.copied, {"error": Q_([0.1, 0.2], "mm")},
                             {"error": MANY | MAY_BE_ZERO | frozenset({"negative"})}),
}  # fmt: skip
GIVEN_BY_SIZE_ERROR = {"SizeError", "ThreadSizeError"}
