"""How long an edge lasts: Taylor's equation, plain and extended by feed and depth."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from latheworks.cutting.plain_numbers import plain
from latheworks.door import Door
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.results import Result
from latheworks.tables import Row, cite, table
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

# A life beyond this is no prediction: the edge fails of something else first.
LONGEST = 1e6


@dataclass(frozen=True, slots=True)
class Taylor(Result):
    """How an edge wears: v T^n (f/f0)^x (d/d0)^y = C.

    Fields: name; n; one_minute_speed C, at which the edge lasts one minute [m/min]; feed_exponent x and depth_exponent
    y; reference_feed f0 [mm/rev] and reference_depth d0 [mm], for which C holds; source.
    """

    name: str
    n: float
    one_minute_speed: Any
    feed_exponent: float
    depth_exponent: float
    reference_feed: Any
    reference_depth: Any
    source: str

    def title(self) -> str:
        """Which edge on what."""
        return self.name

    def facts(self) -> list[tuple[str, str]]:
        """The constants and where they come from."""
        at = f"{show(self.reference_feed)} and {show(self.reference_depth)}"
        return [
            ("n", f"{self.n:g}"),
            ("speed for a life of one minute", show(self.one_minute_speed)),
            ("exponents of feed and depth", f"{self.feed_exponent:g} and {self.depth_exponent:g}, from {at}"),
            ("what it is worth", "lives of single edges scatter twofold and more (common practice, no source)"),
            ("source", self.source),
        ]

    @property
    def working(self) -> Working:
        """The equation."""
        line = Line("T", "(C / (v (f/f0)^x (d/d0)^y))^(1/n)", "by speed, feed and depth", "min", self.source)
        return Working(self.title(), (line,))


def edges() -> tuple[str, ...]:
    """Return the names of the edges in the table of tool life.

    Raises nothing. Source: latheworks/data/tool_life.csv.

    >>> edges()[0]
    'high-speed steel on steel'
    """
    return tuple(_table())


def taylor(edge: Any = None, n: Any = None, one_minute_speed: Any = None, feed_exponent: Any = 0.0,
           depth_exponent: Any = 0.0) -> Taylor:  # fmt: skip
    """Return the constants of tool life: those of an edge in the table, or your own.

    v T^n f^x d^y = C. Your own constants are for feed in mm/rev and depth in mm, as books print them.
    Parameters: edge, a name of `edges()`; or instead n [0.05 to 0.9] with one_minute_speed [m/min, above 0 to 1e5],
    feed_exponent x and depth_exponent y [0 to 1.5 each].
    Raises LatheworksError for a wrong dimension, a value outside its range, an unknown edge, or both or neither given.
    Source: F. W. Taylor's form, from memory; constants as in the table, each with its source.

    >>> taylor("carbide on steel").n, taylor(n=0.25, one_minute_speed=Q_(75, "m/min")).one_minute_speed.magnitude
    (0.25, 75.0)
    """
    own = n is not None or one_minute_speed is not None
    with Door("taylor") as door:
        power_n = c = 1.0
        if edge is not None and own:
            door.complain("edge", "a name and constants as well", "one of the two", "to leave one out", WrongUnit)
        if edge is not None or not own:
            door.choice(edge, "edge", edges())
        if own:
            power_n = plain(door, n, "n", least=0.05, most=0.9, example="n=0.25")
            c = door.number(one_minute_speed, "one_minute_speed", "m/min", above=0, most=1e5,
                            example='one_minute_speed=Q_(75, "m/min")')  # fmt: skip
        x = plain(door, feed_exponent, "feed_exponent", least=0, most=1.5, example="feed_exponent=0.3")
        y = plain(door, depth_exponent, "depth_exponent", least=0, most=1.5, example="depth_exponent=0.15")
    if not own:
        return _table()[edge]
    one, mm = Q_(1.0, U.mm_per_rev), Q_(1.0, U.mm)
    return Taylor("your own constants", power_n, Q_(c, U.m_per_min), x, y, one, mm, "as given")


def tool_life(surface_speed: Any, edge: Any, feed: Any = None, depth: Any = None) -> Any:
    """Return how long an edge lasts.

    T = (C / (v (f/f0)^x (d/d0)^y))^(1/n): with n of 0.125 a fifth more speed costs three quarters of the life.
    Parameters: surface_speed [m/min, above 0 to 1e5, one or many]; edge, a name of `edges()` or of `taylor(...)`;
    feed [mm/rev, above 0 to 10] and depth [mm, above 0 to 50], those that the constants hold for when not given.
    Returns the life [min]. Raises LatheworksError for a wrong dimension, a value outside its range, an unknown edge,
    or a speed so low that the equation would promise more than a million minutes.
    Source: F. W. Taylor's form, from memory; constants as in `taylor`.

    >>> tool_life(Q_(25, "m/min"), taylor(n=0.25, one_minute_speed=Q_(75, "m/min"))).round(0)
    <Quantity(81.0, 'minute')>
    """
    with Door("tool_life") as door:
        speeds = door.array(surface_speed, "surface_speed", "m/min", above=0, most=1e5,
                            example='surface_speed=Q_(30, "m/min")')  # fmt: skip
        wear = edge_of(door, edge)
        factor = 1.0
        if feed is not None:
            f = door.number(feed, "feed", "mm/rev", above=0, most=10, example='feed=Q_(0.25, "mm/rev")')
            factor *= (f / wear.reference_feed.m_as(U.mm_per_rev)) ** wear.feed_exponent
        if depth is not None:
            d = door.number(depth, "depth", "mm", above=0, most=50, example='depth=Q_(2.5, "mm")')
            factor *= (d / wear.reference_depth.m_as(U.mm)) ** wear.depth_exponent
        constant = wear.one_minute_speed.m_as(U.m_per_min) / factor
        slowest = constant / LONGEST**wear.n
        if not door.complaints and speeds.min() < slowest:
            got, wanted = f"{speeds.min():g} m/min", f"at least {slowest:.3g} m/min, where the equation says 1e6 min"
            door.complain("surface_speed", got, wanted, f'surface_speed=Q_({5 * slowest:.0f}, "m/min")', OutOfRange)
    return Q_(((constant / speeds) ** (1.0 / wear.n))[()], U.min)


def edge_of(door: Door, value: Any) -> Taylor:
    """The constants that an argument asks for; complain at the door and fill in where it is none."""
    if isinstance(value, Taylor):
        return value
    return _table()[door.choice(value, "edge", edges())]


@cache
def _table() -> dict[str, Taylor]:
    return {row["edge"]: _read(row) for row in table("tool_life")}


def _read(row: Row) -> Taylor:
    return Taylor(
        row["edge"], float(row["n"]), Q_(float(row["speed for one minute [m/min]"]), U.m_per_min),
        float(row["feed exponent"]), float(row["depth exponent"]),
        Q_(float(row["reference feed [mm/rev]"]), U.mm_per_rev), Q_(float(row["reference depth [mm]"]), U.mm),
        cite(row["source"]),
    )  # fmt: skip


def life_factor(value: Taylor) -> float:
    """1/n - 1, by which the time to change an edge is multiplied to get the best life."""
    return 1.0 / value.n - 1.0
