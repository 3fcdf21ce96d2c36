"""The speed that costs least, and the speed that makes most pieces: never the same."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.life import Taylor, edge_of, life_factor
from latheworks.cutting.plain_numbers import plain
from latheworks.door import Door
from latheworks.results import Result
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class EconomicSpeed(Result):
    """The two best speeds of an edge.

    Fields: least_cost and highest_rate [m/min]; least_cost_life and highest_rate_life [min]; edge; change_time [min];
    edge_cost and hourly_rate in one currency.
    """

    least_cost: Any
    highest_rate: Any
    least_cost_life: Any
    highest_rate_life: Any
    edge: Taylor
    change_time: Any
    edge_cost: float
    hourly_rate: float

    def pieces_per_edge(self, cutting_time: Any) -> int:
        """Return how many whole pieces an edge makes at the speed of least cost.

        Parameters: cutting_time of one piece at that speed [min, above 0 to 1e5]. A shop changes the edge between
        pieces, so the number is rounded down; 0 says that an edge does not last for one.
        Raises LatheworksError for a wrong dimension or a value outside its range. Source: common practice.

        >>> found = economic_speed("carbide on steel", Q_(2, "min"), 1.0, 30.0)
        >>> found.pieces_per_edge(Q_(1.1, "min"))
        10
        """
        with Door("pieces_per_edge") as door:
            each = door.number(cutting_time, "cutting_time", "min", above=0, most=1e5)
        return int(self.least_cost_life.m_as(U.min) / each + 1e-9)

    def title(self) -> str:
        """Which edge."""
        return f"best speeds, {self.edge.name}"

    def facts(self) -> list[tuple[str, str]]:
        """Both speeds with the life they give."""
        lives = self.least_cost_life.m_as(U.min), self.highest_rate_life.m_as(U.min)
        return [
            ("least cost", f"{show(self.least_cost)}, an edge lasts {lives[0]:.1f} min"),
            ("highest rate", f"{show(self.highest_rate)}, an edge lasts {lives[1]:.1f} min"),
            ("work between the two", "slower or faster than both is worse in cost and in rate"),
            ("source", self.edge.source),
        ]

    @property
    def working(self) -> Working:
        """The lines from which both speeds can be redone by hand."""
        n, c, t = self.edge.n, self.edge.one_minute_speed.m_as(U.m_per_min), self.change_time.m_as(U.min)
        each, (cost, rate) = self.hourly_rate / 60.0, (self.least_cost_life.m_as(U.min), self.least_cost.m_as("m/min"))
        lines = (
            Line("T", "(1/n - 1) (change time + edge / rate)", f"(1/{n:g} - 1) ({t:g} + {self.edge_cost:g}/{each:.4g})",
                 f"{cost:.2f} min", "Boothroyd and Knight, chapter 6"),
            Line("v", "C / T^n", f"{c:g} / {cost:.2f}^{n:g}", f"{rate:.2f} m/min", self.edge.source),
        )  # fmt: skip
        return Working(self.title(), lines)


def economic_speed(edge: Any, change_time: Any, edge_cost: Any, hourly_rate: Any) -> EconomicSpeed:
    """Return the speed of least cost a piece and the speed of the highest rate.

    Least cost: T = (1/n - 1)(tc + Ce/Cm); highest rate: T = (1/n - 1) tc; v = C / T^n. An edge that costs anything
    wants to last longer than the fastest way allows, so the least cost is always the slower of the two.

    Parameters: edge, a name of `edges()` or of `taylor(...)`; change_time to change an edge [min, above 0 to 1000];
    edge_cost of one sharp edge [0 to 1e6, in any currency] and hourly_rate of lathe and operator [0.01 to 1e6, in the
    same]. Raises LatheworksError for a wrong dimension, a value outside its range, or an unknown edge.
    Source: as in Boothroyd and Knight, Fundamentals of Machining and Machine Tools, chapter 6.

    >>> found = economic_speed("high-speed steel on steel", Q_(2, "min"), 3.0, 30.0)
    >>> float(found.least_cost.round(0).magnitude), float(found.highest_rate.round(0).magnitude)
    (42.0, 50.0)
    """
    with Door("economic_speed") as door:
        wear = edge_of(door, edge)
        minutes = door.number(change_time, "change_time", "min", above=0, most=1000, example='change_time=Q_(2, "min")')
        price = plain(door, edge_cost, "edge_cost", least=0, most=1e6, example="edge_cost=3.0")
        rate = plain(door, hourly_rate, "hourly_rate", least=0.01, most=1e6, example="hourly_rate=30.0")
    lives = life_factor(wear) * np.array([minutes + 60.0 * price / rate, minutes])
    best = wear.one_minute_speed.m_as(U.m_per_min) / lives**wear.n
    return EconomicSpeed(
        Q_(float(best[0]), U.m_per_min), Q_(float(best[1]), U.m_per_min), Q_(float(lives[0]), U.min),
        Q_(float(lives[1]), U.min), wear, Q_(minutes, U.min), price, rate,
    )  # fmt: skip
