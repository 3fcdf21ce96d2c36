"""The time of one straight, tapered, facing or parting cut, at constant turns or constant surface speed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from latheworks.cutting.plain_numbers import machine
from latheworks.door import Door, given
from latheworks.errors import Impossible
from latheworks.passes.turning_door import read_turns
from latheworks.passes.turning_kernel import Turns, clamp_diameter, minutes, turns_at
from latheworks.results import Result
from latheworks.units import Q_, U, check_system, show
from latheworks.working import Line, Working

MOST_CUTS = 500
_RATE = Q_(1.0, "cm**3/min").units


class Stretch(NamedTuple):
    """A part of a cut at one surface speed [m/min], or with that 0 at one spindle [rev/min]: the way [mm], the
    diameters where it begins and ends [mm], the time [min]."""

    path: float
    first: float
    last: float
    surface: float
    spindle: float
    time: float


@dataclass(frozen=True, slots=True)
class CutTime(Result):
    """The time of a cut.

    Fields: what, "turning", "facing" or "parting"; path of one cut, without approach [mm]; feed [mm/rev]; cuts; pecks
    of each; diameter where it begins and last_diameter where it ends [mm]; spindle and last_spindle [rev/min],
    surface_speed and last_surface_speed [m/min] there; constant, "surface speed" or "turns"; clamp_diameter, below
    which the spindle turns at its fastest, None where it is not reached [mm]; time_at_clamp, of all cuts [min];
    cutting_time with approach and overrun, idle_time of return and pecks [min]; depth [mm] with removal_rate and
    last_removal_rate [cm^3/min] and volume of one cut [cm^3], None where no depth is given; stretches of one cut, split
    where the spindle comes to its fastest or slowest; system.
    """

    what: str
    path: Any
    feed: Any
    cuts: int
    pecks: int
    diameter: Any
    last_diameter: Any
    spindle: Any
    last_spindle: Any
    surface_speed: Any
    last_surface_speed: Any
    constant: str
    clamp_diameter: Any
    time_at_clamp: Any
    cutting_time: Any
    idle_time: Any
    depth: Any
    removal_rate: Any
    last_removal_rate: Any
    volume: Any
    stretches: tuple[Stretch, ...]
    system: str

    @property
    def time(self) -> Any:
        """Cutting and idle time together [min]."""
        return self.cutting_time + self.idle_time

    def title(self) -> str:
        """What is cut."""
        return f"{self.what} {show(self.diameter, self.system)} to {show(self.last_diameter, self.system)}"

    def facts(self) -> list[tuple[str, str]]:
        """Speeds at both ends, the clamp, and the time."""
        facts = [
            ("constant", self.constant),
            ("spindle", f"{show(self.spindle)} to {show(self.last_spindle)}"),
            ("surface speed",
             f"{show(self.surface_speed, self.system)} to {show(self.last_surface_speed, self.system)}"),
            ("time", f"{self.time.m_as('min'):.2f} min, of which {self.cutting_time.m_as('min'):.2f} min in cut"),
        ]  # fmt: skip
        if self.clamp_diameter is not None:
            at = f"below {show(self.clamp_diameter, self.system)}, for {self.time_at_clamp.m_as('min'):.2f} min"
            facts.append(("spindle at its fastest", at))
        if self.volume is not None:
            low, high = (rate.m_as(_RATE) for rate in (self.removal_rate, self.last_removal_rate))
            facts.append(("removal rate", f"{low:.2f} to {high:.2f} cm³/min"))
        return facts

    @property
    def working(self) -> Working:
        """The time of every stretch, and their sum: the time in cut."""
        f = self.feed.m_as(U.mm_per_rev)
        many = len(self.stretches) > 1 or self.cuts > 1
        lines = []
        for i, one in enumerate(self.stretches, 1):
            name, done = f"t{i}" if many else "t", f"{one.time:.5g} min"
            if one.surface:
                formula = "path × pi (D0 + D1) / (2000 v f)"
                numbers = f"{one.path:.6g} × pi × ({one.first:.6g} + {one.last:.6g}) / (2000 × {one.surface:g} × {f:g})"
            else:
                formula, numbers = "path / (f n)", f"{one.path:.6g} / ({f:g} × {one.spindle:.6g})"
            lines.append(Line(name, formula, numbers, done, "geometry"))
        if many:
            formula = f"cuts × ({' + '.join(line.symbol for line in lines)})"
            numbers = f"{self.cuts} × ({' + '.join(f'{one.time:.5g}' for one in self.stretches)})"
            lines.append(Line("t", formula, numbers, f"{self.cutting_time.m_as(U.min):.5g} min", "geometry"))
        return Working(self.title(), tuple(lines))


def turning_time(length: Any, diameter: Any, feed: Any, *, end_diameter: Any = None, depth: Any = None,
                 surface_speed: Any = None, spindle: Any = None, most_spindle: Any = None, cuts: Any = 1,
                 approach: Any = None, overrun: Any = None, return_speed: Any = None, lathe: Any = None,
                 system: Any = "metric") -> CutTime:  # fmt: skip
    """Return the time of turning a cylinder or a taper.

    t = cuts (L + approach + overrun)/(f n); with a constant surface speed n = 1000 v/(pi D) within its clamp, and
    along a taper pi L (D0 + D1)/(2000 v f), L being its sloping side. Removal rate pi/4 (D^2 - d^2) f n, exactly.

    Parameters: length along the axis [mm, above 0 to 10000]; diameter before the cut, where it begins [mm, above 0 to
    5000]; feed [mm/rev, above 0 to 5]; end_diameter of a taper [mm, 0 to 5000]; depth on the radius, to know what is
    removed [mm, above 0 to half of the diameter]; surface_speed [m/min, above 0 to 5000] or else spindle [rev/min, of
    the lathe]; most_spindle [rev/min]; cuts [1 to 500]; approach and overrun [mm, 0 to 1000; 0]; return_speed [mm/min,
    1 to 100000; no return when left out]; lathe; system, "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, or a depth past the center.
    Source: geometry.

    >>> turning_time(Q_(150, "mm"), Q_(32, "mm"), Q_(0.15, "mm/rev"), spindle=Q_(1000, "rev/min")).time
    <Quantity(1.0, 'minute')>
    """
    system = check_system(system)
    with Door("turning_time") as door:
        chosen = machine(door, lathe)
        long = door.number(length, "length", "mm", above=0, most=10_000, example='length=Q_(150, "mm")')
        first = door.number(diameter, "diameter", "mm", above=0, most=5000, example='diameter=Q_(32, "mm")')
        last = first if end_diameter is None else door.number(end_diameter, "end_diameter", "mm", least=0, most=5000)
        ap = _depth(door, depth, min(first, last))
        turns = read_turns(door, surface_speed, spindle, most_spindle, chosen)
        track = Track.read(door, feed, cuts, approach, overrun, return_speed)
    side = float(np.hypot(long, (first - last) / 2))
    # Rings of the end sections, at right angles to the axis; along a taper the feed is along its side.
    areas = [None if ap is None else np.pi / 4 * (d**2 - (d - 2 * ap) ** 2) * long / side for d in (first, last)]
    inner = [max(d - 2 * (ap or 0.0), 0.0) for d in (first, last)]
    volume = None if ap is None else _cone(long, first, last) - _cone(long, *inner)
    return cut_time("turning", track, turns, side, first, last, areas, ap, volume, system)


def _cone(length: float, first: float, last: float) -> float:
    """Volume of a cone's stump [mm^3]."""
    return float(np.pi / 12 * length * (first**2 + first * last + last**2))


def _depth(door: Door, depth: Any, size: float) -> float | None:
    """The depth on the radius, or None."""
    if depth is None:
        return None
    ap = door.number(depth, "depth", "mm", above=0, most=2500, example='depth=Q_(1.0, "mm")')
    if 2 * ap > size and not door.complaints:
        door.complain("depth", given(depth), f"at most {size / 2:g} mm: it is counted on the radius",
                      f'depth=Q_({size / 10:.3g}, "mm")', Impossible)  # fmt: skip
    return ap


@dataclass(frozen=True)
class Track:
    """How the tool runs: feed [mm/rev], how often, approach and overrun [mm], return [mm/min, 0 for none], pecks."""

    feed: float
    cuts: int
    approach: float
    overrun: float
    back: float
    pecks: int = 1
    lift: float = 0.0

    @classmethod
    def read(cls, door: Door, feed: Any, cuts: Any, approach: Any, overrun: Any, return_speed: Any) -> Track:
        """Everything checked at the door."""
        f = door.number(feed, "feed", "mm/rev", above=0, most=5, example='feed=Q_(0.15, "mm/rev")')
        count = door.whole(cuts, "cuts", least=1, most=MOST_CUTS)
        sizes = [
            0.0 if value is None else door.number(value, name, "mm", least=0, most=1000, example=f'{name}=Q_(2, "mm")')
            for name, value in (("approach", approach), ("overrun", overrun))
        ]
        back = 0.0 if return_speed is None else door.number(return_speed, "return_speed", "mm/min", least=1, most=1e5,
                                                            example='return_speed=Q_(1200, "mm/min")')  # fmt: skip
        return cls(f, count, sizes[0], sizes[1], back)


def cut_time(what: str, track: Track, turns: Turns, path: float, first: float, last: float, areas: list[float | None],
             depth: float | None, volume: float | None, system: str) -> CutTime:  # fmt: skip
    """Put a cut's time and speeds together; `areas` are the sections swept at both ends by the feed [mm^2]."""
    ends = [float(turns_at(turns, d)) for d in (first, last)]
    way = ((track.approach, first, first), (path, first, last), (track.overrun, last, last))
    stretches = tuple(piece for more, a, b in way if more > 0 for piece in _stretches(turns, more, track.feed, a, b))
    clamp = clamp_diameter(turns)
    held = turns.surface > 0 and min(first, last) < clamp
    low, high = min(first, last), min(max(first, last), clamp)
    share = 1.0 if first == last else max(high - low, 0.0) / abs(first - last)
    at_clamp = track.cuts * share * path / (track.feed * turns.most) if held else 0.0
    whole = path + track.approach + track.overrun
    idle = 0.0
    if track.back:
        idle = track.cuts * (whole + 2 * track.lift * (track.pecks - 1)) / track.back
    rates = [
        None if area is None else Q_(area * track.feed * n / 1000.0, _RATE) for area, n in zip(areas, ends, strict=True)
    ]
    return CutTime(
        what=what, path=Q_(path, U.mm), feed=Q_(track.feed, U.mm_per_rev), cuts=track.cuts, pecks=track.pecks,
        diameter=Q_(first, U.mm), last_diameter=Q_(last, U.mm), spindle=Q_(ends[0], U.rpm),
        last_spindle=Q_(ends[1], U.rpm), surface_speed=Q_(np.pi * first * ends[0] / 1000.0, U.m_per_min),
        last_surface_speed=Q_(np.pi * last * ends[1] / 1000.0, U.m_per_min),
        constant="surface speed" if turns.surface else "turns", clamp_diameter=Q_(clamp, U.mm) if held else None,
        time_at_clamp=Q_(at_clamp, U.min), cutting_time=Q_(track.cuts * sum(piece.time for piece in stretches), U.min),
        idle_time=Q_(idle, U.min), depth=None if depth is None else Q_(depth, U.mm), removal_rate=rates[0],
        last_removal_rate=rates[1], volume=None if volume is None else Q_(volume / 1000.0, "cm**3"),
        stretches=stretches, system=system,
    )  # fmt: skip


def _stretches(turns: Turns, path: float, feed: float, first: float, last: float) -> list[Stretch]:
    """A way over which the diameter changes evenly, split where the clamp of the spindle begins and ends."""
    fast = clamp_diameter(turns)
    slow = fast * turns.most / turns.least
    low, high = min(first, last), max(first, last)
    inner = [d for d in (fast, slow) if low < d < high] if turns.surface else []
    found = []
    for a, b in pairwise([first, *sorted(inner, reverse=first > last), last]):
        more = path if first == last else path * (a - b) / (first - last)
        clamped = not turns.surface or not fast <= (a + b) / 2 <= slow
        found.append(Stretch(more, a, b, 0.0 if clamped else turns.surface, float(turns_at(turns, (a + b) / 2)),
                             float(minutes(turns, more, feed, a, b))))  # fmt: skip
    return found
