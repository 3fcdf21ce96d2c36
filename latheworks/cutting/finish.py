"""The roughness that a tool's shape and feed leave, and what a real surface makes of it."""

import math
from dataclasses import dataclass
from typing import Any

from latheworks.cutting.plain_numbers import angle_in_degrees, entering
from latheworks.door import Door, given
from latheworks.errors import Impossible
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, Span, U, check_system, show
from latheworks.working import Line, Working

# Mean deviation over peak to valley: 4/(9 sqrt(3)) for shallow arcs, 1/4 for straight flanks.
ARC, FLANKS = 4.0 / (9.0 * math.sqrt(3.0)), 0.25
# What turning rarely goes below, and how far a ductile metal at low speed stays above the ideal.
USUAL_BEST, WORST_RATIO = 0.4, 2.0  # micrometers of Ra; times the ideal


@dataclass(frozen=True, slots=True)
class Roughness(Result):
    """The roughness along a turned surface.

    Fields: ra, mean deviation, and rt, peak to valley, as shape and feed leave them at best [um]; expected, the Ra
    to reckon with [um]; feed [mm/rev]; nose_radius [mm]; feed_limit, up to which the nose alone makes the surface
    [mm/rev], None when no trailing angle is known; made_by, in words; system.
    """

    ra: Any
    rt: Any
    expected: Span
    feed: Any
    nose_radius: Any
    feed_limit: Any
    made_by: str
    system: str

    @property
    def within_range(self) -> bool:
        """Whether the nose alone makes the surface, as far as the trailing angle is known."""
        return self.feed_limit is None or bool(self.feed <= self.feed_limit)

    def title(self) -> str:
        """Feed and nose."""
        return f"roughness at {show(self.feed, self.system)}, nose {show(self.nose_radius, self.system)}"

    def facts(self) -> list[tuple[str, str]]:
        """The ideal, the real range, and the range of the formula."""
        check_system(self.system)
        low, high = _fine(self.expected.min, self.system), _fine(self.expected.max, self.system)
        limit = "give the trailing angle to know it"
        if self.feed_limit is not None:
            limit = f"feeds up to {show(self.feed_limit, self.system)}" + ("" if self.within_range else ": passed here")
        return [
            ("Ra at best", _fine(self.ra, self.system)),
            ("Rt at best", _fine(self.rt, self.system)),
            ("Ra to reckon with", f"{low} to {high}"),
            ("made by", self.made_by),
            ("the nose alone", limit),
            ("what it is worth", "a floor, no promise: built-up edge, wear and chatter come on top"),
            ("source of that range", f"{cite('b46_chart_memory')}; {cite('groover_taylor_memory')}"),
        ]

    @property
    def working(self) -> Working:
        """The formulas of the nose arc with the numbers."""
        f, r = self.feed.m_as(U.mm_per_rev), self.nose_radius.m_as(U.mm)
        rt, ra = self.rt.m_as(U.um), self.ra.m_as(U.um)
        if self.made_by != "the nose":
            note = "the flanks take part: meeting point of arc and flanks"
            return Working(self.title(), (Line("Rt", note, f"f {f:g}, r {r:g}", f"{rt:.3f} µm", "geometry"),))
        lines = (
            Line("Rt", "r - sqrt(r² - f²/4)", f"{r:g} - sqrt({r:g}² - {f:g}²/4)", f"{rt:.3f} µm", "geometry"),
            Line("Rt, nearly", "f²/(8 r)", f"{f:g}² / (8 x {r:g})", f"{1000 * f * f / (8 * r):.3f} µm", "geometry"),
            Line("Ra", "0.2566 Rt", f"0.2566 x {rt:.3f}", f"{ra:.3f} µm", "geometry"),
        )  # fmt: skip
        return Working(self.title(), lines)


def roughness(feed: Any, nose_radius: Any, trailing_angle: Any = None, entering_angle: Any = None,
              system: Any = "metric") -> Roughness:  # fmt: skip
    """Return the roughness that a round-nosed or sharp tool leaves, at best and in the shop.

    Rt = r - sqrt(r^2 - f^2/4), nearly f^2/(8 r), and Ra = 0.2566 Rt, nearly f^2/(31.2 r); books also print f^2/(32 r).
    They hold up to f = 2 r sin(trailing angle); above it the trailing edge takes part and levels some of the ridge,
    and a sharp corner leaves f/(cot kappa + cot trailing). Reckon with an Ra from there, or 0.4 um, to twice as much.

    Parameters: feed [mm/rev, above 0 to 5]; nose_radius [mm, 0 to 20]; trailing_angle between the trailing edge and
    the axis [deg, 1 to 80; the nose alone when not given]; entering_angle [deg, 10 to 135, 90 when not given]; system,
    "metric" or "inch" for the text.
    Raises LatheworksError for a wrong dimension, a value outside its range, a sharp corner with no trailing angle, or
    a feed so wide that the nose leaves a ridge standing.
    Source: geometry; usual best 0.4 um, ASME B46.1 chart, from memory; up to twice the ideal, Groover, from memory.

    >>> found = roughness(Q_(0.2, "mm/rev"), Q_(0.8, "mm"), trailing_angle=Q_(5, "degree"))
    >>> found.rt.round(2), found.feed_limit.round(3)
    (<Quantity(5.93, 'micrometer')>, <Quantity(0.139, 'millimeter / revolution')>)
    """
    system = check_system(system)
    with Door("roughness") as door:
        f = door.number(feed, "feed", "mm/rev", above=0, most=5, example='feed=Q_(0.1, "mm/rev")')
        r = door.number(nose_radius, "nose_radius", "mm", least=0, most=20, example='nose_radius=Q_(0.4, "mm")')
        kappa = math.radians(entering(door, entering_angle))
        trailing = None
        if trailing_angle is not None:
            hint = 'trailing_angle=Q_(5, "degree")'
            trailing = math.radians(angle_in_degrees(door, trailing_angle, "trailing_angle", least=1, most=80,
                                                     example=hint))  # fmt: skip
        elif not door.complaints and r == 0:
            door.complain("trailing_angle", "nothing for a sharp corner", "the angle of the edge that trails",
                          'trailing_angle=Q_(5, "degree")', Impossible)  # fmt: skip
        elif not door.complaints and f > 2 * r * min(1.0, math.sin(min(kappa, math.pi / 2))):
            door.complain("feed", given(feed), f"at most {2 * r:g} mm/rev, the width of the nose",
                          "a smaller feed, or trailing_angle=...", Impossible)  # fmt: skip
    back = math.pi / 2 if trailing is None else trailing
    rt, made_by = peak_to_valley(f, r, kappa, back)
    ra = rt * (ARC if made_by != "the two straight edges" else FLANKS)
    floor = max(1000.0 * ra, USUAL_BEST)
    limit = None if trailing is None else Q_(2.0 * r * math.sin(min(back, kappa)), U.mm_per_rev)
    return Roughness(Q_(1000.0 * ra, U.um), Q_(1000.0 * rt, U.um), Span(Q_(floor, U.um), Q_(WORST_RATIO * floor, U.um)),
                     Q_(f, U.mm_per_rev), Q_(r, U.mm), limit, made_by, system)  # fmt: skip


def peak_to_valley(feed: float, nose: float, kappa: float, trailing: float) -> tuple[float, str]:
    """Height of the ridge [mm] for feed and nose [mm], angles [rad], and which edges make it.

    At a height x each side is as wide as its arc, or as its straight edge above that; together they are the feed.
    """
    low, high = sorted((kappa, trailing))
    if feed <= 2.0 * nose * math.sin(min(low, math.pi / 2)):
        return nose - math.sqrt(nose**2 - feed**2 / 4.0), "the nose"
    sine, cosine = math.sin(low), math.cos(low)
    inside = 2.0 * feed * nose * sine**3 - feed**2 * sine**4
    if inside >= 0.0:
        height = nose * (1.0 - cosine) + feed * sine * cosine - math.sqrt(inside)
        if height <= nose * (1.0 - math.cos(high)):
            return height, "the nose and one straight edge"
    spread = 1.0 / math.tan(kappa) + 1.0 / math.tan(trailing)
    corner = nose * (math.tan(kappa / 2.0) + math.tan(trailing / 2.0))
    return (feed - corner) / spread, "the two straight edges"


def _fine(size: Any, system: str) -> str:
    """A roughness as a shop writes it."""
    return f"{size.m_as('um'):.2f} µm" if system == "metric" else f"{size.m_as('thou') * 1000:.0f} µin"
