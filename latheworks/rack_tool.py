"""One tool of a rack: its kinds, the headings that each kind has in a file, and what is taken where one is left out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from latheworks.units import U, show

_EDGES = ("high-speed steel", "carbide", "coated carbide")
_HANDS = ("right", "left", "neutral")


class Heading(NamedTuple):
    """A number of a file: the field of `Tool` it goes to, its unit, the least and the most that any tool could have."""

    field: str
    unit: str
    least: float
    most: float


HEADINGS: Mapping[str, Heading] = {
    "diameter [mm]": Heading("diameter", "mm", 0.1, 200.0),
    "reach [mm]": Heading("reach", "mm", 0.5, 2000.0),
    "point angle [degree]": Heading("point_angle", "degree", 60.0, 180.0),
    "smallest bore [mm]": Heading("smallest_bore", "mm", 0.5, 500.0),
    "shank [mm]": Heading("shank", "mm", 1.0, 200.0),
    "tip [mm]": Heading("tip", "mm", 0.05, 100.0),
    "entering angle [degree]": Heading("entering_angle", "degree", 10.0, 150.0),
    "nose radius [mm]": Heading("nose_radius", "mm", 0.0, 50.0),
    "blade width [mm]": Heading("blade_width", "mm", 0.2, 50.0),
    "least pitch [mm]": Heading("least_pitch", "mm", 0.1, 25.0),
    "largest pitch [mm]": Heading("largest_pitch", "mm", 0.1, 25.0),
    "thread angle [degree]": Heading("thread_angle", "degree", 20.0, 90.0),
    "stickout [mm]": Heading("stickout", "mm", 1.0, 1000.0),
    "edge price [money]": Heading("edge_price", "money", 0.0, 100_000.0),
    "change time [min]": Heading("change_time", "min", 0.0, 600.0),
}
WORDS: Mapping[str, tuple[str, ...] | None] = {"insert": None, "hand": _HANDS, "edge": _EDGES}

_HOLE, _BAR = ("diameter [mm]", "reach [mm]"), ("diameter [mm]", "reach [mm]", "smallest bore [mm]")
_SHANK, _SHAPE = ("shank [mm]", "reach [mm]"), ("insert", "nose radius [mm]")
_PITCHES = ("least pitch [mm]", "largest pitch [mm]")
_COSTS = {"edge": "carbide", "edge price [money]": 4.0, "change time [min]": 2.0}
_GROUND = {"edge": "high-speed steel", "edge price [money]": 1.5, "change time [min]": 3.0}
_POINTED = {"entering angle [degree]": None, "hand": "right", **_COSTS}
_BLADE = {"nose radius [mm]": 0.0, "hand": "right", **_COSTS}
_BORE = {"tip [mm]": None}
_OUT = {"stickout [mm]": None}

# Kind: what each of its tools must say, and what it may, with what is taken where it is left out. None stands for what
# follows from the rest: the usual entering angle, a tip as long as the smallest bore leaves room for, and a stickout of
# 1.5 times the shank, or of the reach.
# Prices and times are invented: put your own in your rack.
KINDS: Mapping[str, tuple[tuple[str, ...], Mapping[str, Any]]] = {
    "center_drill": (_HOLE, _GROUND),
    "drill": ((*_HOLE, "point angle [degree]"), _GROUND),
    "reamer": (_HOLE, _GROUND),
    "end_mill": (_HOLE, _GROUND),
    "boring_bar": (_BAR, {"insert": "C", "nose radius [mm]": 0.4, **_BORE, **_POINTED}),
    "turning_tool": ((*_SHAPE, *_SHANK), {**_POINTED, **_OUT}),
    "chamfer_tool": ((*_SHAPE, *_SHANK), {**_POINTED, **_OUT, "hand": "neutral"}),
    "grooving_tool": (("blade width [mm]", *_SHANK), {**_BLADE, **_OUT}),
    "parting_tool": (("blade width [mm]", *_SHANK), {**_BLADE, **_OUT}),
    "threading_tool": ((*_PITCHES, *_SHANK), {"thread angle [degree]": 60.0, **_OUT, **_COSTS}),
    "inside_chamfer_tool": ((*_SHAPE, *_BAR), {**_BORE, **_POINTED, "hand": "neutral"}),
    "inside_grooving_tool": (("blade width [mm]", *_BAR), {**_BORE, **_BLADE}),
    "inside_threading_tool": ((*_PITCHES, *_BAR), {"thread angle [degree]": 60.0, **_BORE, **_COSTS}),
}
ON_AXIS = ("center_drill", "drill", "reamer", "end_mill")
STICKOUT = 1.5  # of the shank: common practice, no source


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool: kind, name, and what its kind has, None for the rest.

    On the axis: diameter [mm]; reach, how far it works into a hole [mm]; point_angle of a drill [deg]. On a bar inside
    a bore: diameter of the bar, reach, its free length, smallest_bore that it enters, and tip, how far the edge stands
    out of the bar [mm]. On a shank outside: shank, its side, and reach, how far the edge stands out of the shank toward
    the work [mm]. Insert, a letter of ISO 1832, or blade_width [mm]; entering_angle [deg]; nose_radius, of a blade its
    corners' [mm]; hand. Threads: least_pitch and largest_pitch [mm], thread_angle [deg]. Of all: stickout from its
    holder [mm]; edge, what it is made of; edge_price, of one edge or one grinding [money, a plain number]; change_time
    [min].
    """

    kind: str
    name: str
    diameter: Any = None
    reach: Any = None
    point_angle: Any = None
    smallest_bore: Any = None
    shank: Any = None
    tip: Any = None
    insert: str | None = None
    entering_angle: Any = None
    nose_radius: Any = None
    blade_width: Any = None
    hand: str | None = None
    least_pitch: Any = None
    largest_pitch: Any = None
    thread_angle: Any = None
    stickout: Any = None
    edge: str | None = None
    edge_price: float = 0.0
    change_time: Any = None

    @property
    def side(self) -> str:
        """Where it works: "axis", "inside" or "outside"."""
        if self.kind in ON_AXIS:
            return "axis"
        return "outside" if self.smallest_bore is None else "inside"

    @property
    def threads(self) -> bool:
        """Whether it cuts threads."""
        return self.largest_pitch is not None

    @property
    def order(self) -> tuple[float, float]:
        """Where it stands among its kind: smallest first, of one size the longest first."""
        size = next(each for each in (self.blade_width, self.diameter, self.shank) if each is not None)
        return size.m_as(U.mm), -self.reach.m_as(U.mm)

    def __str__(self) -> str:
        shape = [show(self.diameter)] if self.diameter is not None else []
        shape += [f"insert {self.insert}"] if self.insert else []
        shape += [f"blade {show(self.blade_width)}"] if self.blade_width is not None else []
        shape += [f"nose {show(self.nose_radius)}"] if self.insert else []
        if self.threads:
            shape.append(f"pitch {show(self.least_pitch)} to {show(self.largest_pitch)}")
        return ", ".join([self.name, *shape, f"reaches {show(self.reach, digits=0)}"])
