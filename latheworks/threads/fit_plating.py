"""Plating on a thread: how thick it may be, and the limits to cut to so that the plated part still fits."""

import math
from dataclasses import dataclass
from typing import Any

from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads.fit_door import own, parallel_thread, system_of, written
from latheworks.threads.fit_kernel import plating_factor
from latheworks.threads.thread import Limits, Thread
from latheworks.units import Span, U, show
from latheworks.working import Line, Working

# What ASME B1.1 takes for the thickest spot where only a least thickness is named.
_SCATTER = 1.5


@dataclass(frozen=True, slots=True)
class Plating(Result):
    """A plated thread. Lengths are in the thread's own unit.

    Fields: thread; thickness, of the layer on one side (Span); factor, change of the pitch diameter over the
    thickness; growth, change of the pitch diameter (Span); allowance, the room that the class leaves to basic size;
    thickest, the layer that this room takes; uses_allowance, whether the class has such room; before, the limits to
    cut to (`.major`, `.pitch_diameter`, `.minor`); after, the pitch diameter's limits once plated.
    """

    thread: Thread
    thickness: Span
    factor: float
    growth: Span
    allowance: Any
    thickest: Any
    uses_allowance: bool
    before: Limits
    after: Span

    @property
    def class_limits_hold(self) -> bool:
        """Whether the thread can be cut to its class as it stands: the allowance takes the thickest layer."""
        return bool(self.uses_allowance and self.thickness.max.magnitude <= self.thickest.magnitude * (1 + 1e-9))

    def title(self) -> str:
        return f"Plating of {self.thread.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        digits = 5 if system == "inch" else 4
        layer = f"{show(self.thickness.min, system, digits)} to {show(self.thickness.max, system, digits)} a side"
        room = f"{show(self.allowance, system)} takes a layer of {show(self.thickest, system, digits)}"
        changes = f"{self.factor:.4g} x the layer, {written(self.growth, system)}"
        said = [("layer", layer), ("changes the pitch diameter by", changes)]
        said.append(("allowance", room if self.uses_allowance else "none"))
        said += [
            (f"{name} diameter before", written(span, system))
            for name, span in (
                ("major", self.before.major),
                ("pitch", self.before.pitch_diameter),
                ("minor", self.before.minor),
            )
        ]
        said.append(("pitch diameter after", written(self.after, system)))
        if self.class_limits_hold:
            said.append(
                ("note", "The allowance is there for this: cut to the class, gage after plating to basic size.")
            )
        elif self.uses_allowance:
            said.append(("note", "The layer is thicker than the allowance takes: cut to the limits before plating."))
        said.append(
            ("note", "Plating builds up more at crests and edges than the mean: ask the plater, gage the part.")
        )
        return tuple(said)

    @property
    def working(self) -> Working:
        """Factor, growth, and the limits before plating."""
        system, half = system_of(self.thread), self.thread.included_angle.m_as(U.deg) / 2
        digits = 5 if system == "inch" else 4
        end = "max" if self.thread.external else "min"
        return Working(self.title(), (
            Line("factor", "2 / sin a", f"2 / sin {half:g}", f"{self.factor:.4f}", cite("plating_article")),
            Line("growth", "factor x layer", f"{self.factor:.4f} x {show(self.thickness.max, system, digits)}",
                 show(self.growth.max, system, digits), cite("plating_article")),
            Line(f"pitch diameter {end} before", "limit after, less the growth", "",
                 show(getattr(self.before.pitch_diameter, end), system), cite("plating_gages")),
            Line("thickest layer", "allowance / factor", f"{show(self.allowance, system)} / {self.factor:.4f}",
                 show(self.thickest, system, digits), cite("iso4042_web")),
        ))  # fmt: skip


def plating(thread: Thread | str, least: Any, most: Any = None) -> Plating:
    """Return what a plating does to a thread, and the limits of size to cut before it.

    The layer grows square to each surface: major and minor diameter change by 2 t, the pitch diameter by
    2 t / sin a = 4 t at 60 degrees, 7.99 t at 29, 7.73 t at 30 (a is half the angle). A class with an allowance (1A,
    2A, e, f, g; G inside) keeps it for plating: cut to the class, and the plated part may reach basic size; where
    the layer is thicker than allowance / factor, the maximum-material limit before plating is basic less factor x
    most. A class without allowance (3A, h; B and H inside) is cut short by factor x most at the maximum-material
    limit and by factor x least at the other.
    Parameters: thread, a parallel Thread or its designation; least, the thinnest layer on a side [length, 0 to a
    tenth of the pitch]; most, the thickest [length, least to a tenth of the pitch; 1.5 x least when not given, as
    ASME B1.1 assumes]. Raises LatheworksError, also where the layer eats the whole tolerance.
    Source: factor and 4 : 1 read in a gage maker's article on ASME B1.1-2019 section 7; limits before plating and
    1.5 read in another gage maker's page on the same section; zero line after plating ISO 4042, read on a page that
    restates it; use of the allowance of 2A from memory of ASME B1.1.

    >>> from latheworks.units import Q_
    >>> layer = plating("1/4-28 UNF-2B", Q_(0.0002, "in"), Q_(0.0003, "in"))
    >>> show(layer.before.pitch_diameter.min, "inch"), show(layer.before.pitch_diameter.max, "inch")
    ('0.2280 in', '0.2319 in')
    """
    with Door("plating") as door:
        cut = parallel_thread(door, thread, "thread", example="1/2-13 UNC-2A")
        limit = cut.pitch.m_as(U.mm) / 10
        thin = door.number(least, "least", "mm", least=0, most=limit, example='least=Q_(0.005, "mm")')
        thick = _SCATTER * thin
        if most is not None:
            thick = door.number(most, "most", "mm", least=0, most=limit, example='most=Q_(0.008, "mm")')
        if thick < thin and not door.complaints:
            door.complain("most", f"{thick:.4g} mm", f"at least {thin:.4g} mm, the thinnest layer",
                          f'most=Q_({_SCATTER * thin:.4g}, "mm")', OutOfRange)  # fmt: skip
    half = math.radians(cut.included_angle.m_as(U.deg)) / 2
    factor = plating_factor(half, half)
    room = _rooms(cut)["pitch_diameter"]
    found = _before(cut, factor, thin, thick)
    pitch = found["pitch_diameter"]
    if pitch.min > pitch.max:
        with Door("plating") as door:
            door.complain("most", f"{thick:.4g} mm", "a layer that leaves some of the tolerance to cut to",
                          "a thinner layer, or a wider class", Impossible)  # fmt: skip
    sign = 1 if cut.external else -1
    after = (pitch.min + sign * factor * own(cut, thin if cut.external else thick),
             pitch.max + sign * factor * own(cut, thick if cut.external else thin))  # fmt: skip
    return Plating(cut, Span(own(cut, thin), own(cut, thick)), factor,
                   Span(own(cut, factor * thin), own(cut, factor * thick)), own(cut, room), own(cut, room / factor),
                   room > 0, Limits(**found), Span(*after))  # fmt: skip


def _rooms(cut: Thread) -> dict[str, float]:
    """The room [mm] between the maximum-material limit and basic size, by the name of the diameter."""
    room = abs(cut.allowance.m_as(U.mm))
    if cut.included_angle.m_as(U.deg) == 60:
        return dict.fromkeys(("major", "pitch_diameter", "minor"), room)
    found = {"pitch_diameter": room}
    for name in ("major", "minor"):
        limits = getattr(cut.limits, name)
        end, sign = (limits.max, 1) if cut.external else (limits.min, -1)
        found[name] = 0.0 if end is None else max(sign * (getattr(cut, name) - end).m_as(U.mm), 0.0)
    return found


def _before(cut: Thread, factor: float, thin: float, thick: float) -> dict[str, Span]:
    """The limits before plating, by the name of the diameter."""
    found, rooms = {}, _rooms(cut)
    for name in ("major", "pitch_diameter", "minor"):
        limits = getattr(cut.limits, name)
        times = factor if name == "pitch_diameter" else 2.0
        if rooms["pitch_diameter"] > 0:
            # The class's own limits hold before plating, as long as the plated part does not pass basic size.
            most_metal, least_metal = max(times * thick - rooms[name], 0.0), 0.0
        else:
            most_metal, least_metal = times * thick, times * thin
        if cut.external:
            low, high = (limits.min, -least_metal), (limits.max, -most_metal)
        else:
            low, high = (limits.min, most_metal), (limits.max, least_metal)
        ends = [None if end is None else end + own(cut, moved) for end, moved in (low, high)]
        found[name] = Span(*ends)
    return found
