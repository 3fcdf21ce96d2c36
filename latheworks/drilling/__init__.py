"""Drilling: the drills there are, what a drill asks of the lathe, the plan of a hole, and the ways to its size."""

from latheworks.drill_sets import Drills, drills
from latheworks.drilling.feeds import DrillFeed, drill_feed
from latheworks.drilling.hole import drill_hole
from latheworks.drilling.hole_result import DrilledHole, HoleStep, Meeting
from latheworks.drilling.load import drilling_load
from latheworks.drilling.load_result import DrillingLoad
from latheworks.drilling.pecking import Pecks, peck_depths
from latheworks.drilling.travel import HoleTravel, hole_travel, point_length
from latheworks.drilling.ways import ways_to_size
from latheworks.drilling.ways_result import Way, WaysToSize

__all__ = [
    "DrillFeed", "DrilledHole", "DrillingLoad", "Drills", "HoleStep", "HoleTravel", "Meeting", "Pecks", "Way",
    "WaysToSize", "drill_feed", "drill_hole", "drilling_load", "drills", "hole_travel", "peck_depths", "point_length",
    "ways_to_size",
]  # fmt: skip
