"""How a part bends under the tool: shafts, holdings, deflection."""

from latheworks.deflection.bend import deflected_shape, deflection
from latheworks.deflection.boring_bar import boring_bar_error
from latheworks.deflection.by_hand import deflection_working
from latheworks.deflection.grip import clamping_friction, grip
from latheworks.deflection.heat import thermal_growth
from latheworks.deflection.holding import BetweenCenters, Chuck, ChuckAndCenter
from latheworks.deflection.jaw_squeeze import jaw_squeeze
from latheworks.deflection.rules import rules_of_thumb
from latheworks.deflection.series import in_series
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_error import size_error
from latheworks.deflection.size_result import SizeError
from latheworks.deflection.thread_error import thread_size_error
from latheworks.deflection.thread_result import ThreadSizeError
from latheworks.deflection.thrust import center_thrust
from latheworks.deflection.vibration import natural_frequency

__all__ = [
    "BetweenCenters", "Chuck", "ChuckAndCenter", "Shaft", "SizeError", "ThreadSizeError", "boring_bar_error",
    "center_thrust", "clamping_friction", "deflected_shape", "deflection", "deflection_working", "grip", "in_series",
    "jaw_squeeze", "natural_frequency", "rules_of_thumb", "size_error", "thermal_growth", "thread_size_error",
]  # fmt: skip
