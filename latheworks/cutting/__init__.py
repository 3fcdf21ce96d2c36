"""Taking a chip: its section and forces, power and speed, the life of the edge, and the finish it leaves."""

from latheworks.cutting.chip_result import CuttingForces
from latheworks.cutting.economy import EconomicSpeed, economic_speed
from latheworks.cutting.finish import Roughness, roughness
from latheworks.cutting.force import cutting_force
from latheworks.cutting.forces import cutting_forces
from latheworks.cutting.kernel import kienzle as kienzle
from latheworks.cutting.life import Taylor, edges, taylor, tool_life
from latheworks.cutting.parting import PartingForce, parting_force
from latheworks.cutting.plain_numbers import angle_in_degrees as angle_in_degrees
from latheworks.cutting.plain_numbers import pair as pair
from latheworks.cutting.power import Power, power
from latheworks.cutting.speed import SpindleSpeed, spindle_for, surface_speed

__all__ = [
    "CuttingForces", "EconomicSpeed", "PartingForce", "Power", "Roughness", "SpindleSpeed", "Taylor", "cutting_force",
    "cutting_forces", "economic_speed", "edges", "parting_force", "power", "roughness", "spindle_for", "surface_speed",
    "taylor", "tool_life",
]  # fmt: skip
