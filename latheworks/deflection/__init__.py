"""How a part bends under the tool: shafts, holdings, deflection."""

from latheworks.deflection.bend import deflected_shape, deflection
from latheworks.deflection.by_hand import deflection_working
from latheworks.deflection.holding import BetweenCenters, Chuck, ChuckAndCenter
from latheworks.deflection.shaft import Shaft

__all__ = [
    "BetweenCenters", "Chuck", "ChuckAndCenter", "Shaft", "deflected_shape", "deflection", "deflection_working",
]  # fmt: skip
