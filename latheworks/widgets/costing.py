"""The cost bench: what a piece costs by its speed, with the speed of least cost and that of the highest rate."""

import math
from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.cutting import economic_speed, edges, tool_life
from latheworks.door import Door
from latheworks.pictures.cost_curve import PARTS, CostCurve, CostPicture
from latheworks.pictures.style import Look
from latheworks.plan import PieceCost, piece_cost
from latheworks.results import money
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, m_per_min, mm_per_rev

EDGES = tuple(edges())
# What is turned: the body of the corer's barrel, once over; a lathe and a person, and an edge: all invented.
ACROSS, LONG = 32.0, 215.0  # mm
HANDLING, SET_UP, CHANGE = 8.0, 10.0, 2.0  # min
EDGE_COST, HOURLY, STOCK = 3.0, 60.0, 5.0
POINTS = 121


class CostBench(Bench):
    """A cylinder turned at a speed of one's choice, in a batch."""

    kind: ClassVar[str] = "cost"
    title: ClassVar[str] = "What a piece costs"
    picture_class = CostPicture

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        low, high = _span(start["edge"])
        return (
            Choice("edge", "Edge", EDGES, start["edge"]),
            Size("speed", "Surface speed", "v", start["speed"], low, high, (5.0, 20.0), m_per_min(5), m_per_min(5000),
                 kind="speed"),
            Size("feed", "Feed", "f", start["feed"], mm_per_rev(0.05), mm_per_rev(0.4), (0.01, 0.0005),
                 mm_per_rev(0.01), mm_per_rev(1), kind="feed"),
            Size("batch", "Batch", "", start["batch"], 1, 50, (1, 1), 1, 100_000, kind="count"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        edge = self._opening["edge"]
        least, rate = _best(edge)
        return {
            "Least cost": {"speed": m_per_min(least)},
            "Highest rate": {"speed": m_per_min(rate)},
            "Too slow": {"speed": m_per_min(0.55 * least)},
            "Too fast": {"speed": m_per_min(1.6 * rate)},
            "A batch of 20": {"batch": 20},
        }

    def follow(self, changed: set[str]) -> None:
        edge, speed = self.controls["edge"].value, self.controls["speed"]
        # Another edge wants another speed: it starts at its own best one.
        if "edge" in changed and "speed" not in changed:
            speed.put(Q_(round(_best(edge)[0]), U.m_per_min))
        speed.low, speed.high = _span(edge)
        speed.show_in(speed._system)

    def compute(self, values: Mapping[str, Any]) -> tuple[PieceCost, CostCurve]:
        edge, batch = values["edge"], values["batch"]
        speed, feed = values["speed"].m_as(U.m_per_min), values["feed"].m_as(U.mm_per_rev)
        low, high = (value.m_as(U.m_per_min) for value in _span(edge))
        speeds = np.linspace(min(low, speed), max(high, speed), POINTS)
        path = math.pi * ACROSS * LONG / (1000.0 * feed)
        lives = tool_life(Q_(speeds, U.m_per_min), edge).m_as(U.min)
        cutting = path / speeds
        share = cutting / lives
        steady = np.full(POINTS, HOURLY / 60.0 * (HANDLING + SET_UP / batch) + STOCK)
        parts = np.array([HOURLY / 60.0 * cutting, share * (HOURLY / 60.0 * CHANGE + EDGE_COST), steady])
        minutes = cutting + share * CHANGE
        life = float(tool_life(values["speed"], edge).m_as(U.min))
        found = piece_cost(Q_(path / speed, U.min), Q_(life, U.min), Q_(CHANGE, U.min), EDGE_COST, HOURLY,
                           Q_(HANDLING, U.min), Q_(SET_UP, U.min), batch, STOCK, whole_edges=False)  # fmt: skip
        each = path / speed
        here = (HOURLY / 60.0 * each, each / life * (HOURLY / 60.0 * CHANGE + EDGE_COST), float(steady[0]))
        best = _best(edge)
        least, shortest = (
            float(np.interp(value, speeds, row))
            for value, row in zip(best, (parts[:2].sum(axis=0), minutes), strict=True)
        )
        data = CostCurve(
            speeds, parts, minutes, speed, here, float(found.time.m_as(U.min)), each + each / life * CHANGE, life,
            best, least, shortest, batch, edge,
        )  # fmt: skip
        return found, data

    def read(self, data: CostCurve, look: Look) -> Reading:
        low, high = data.best
        between = low * (1 - 1e-3) <= data.speed <= high * (1 + 1e-3)
        words = "between the two best speeds" if between else "slower than both"
        if data.speed > high * (1 + 1e-3):
            words = "faster than both"
        facts = [(name, money(value)) for name, value in zip(PARTS, data.here, strict=True)]
        facts += [("time of one piece", f"{data.time:.2f} min"), ("an edge lasts", f"{data.life:.1f} min"),
                  ("pieces an edge makes", f"{data.life * data.speed / (self._path(data)):.1f} pieces")]  # fmt: skip
        return Reading(
            between, f"{words.capitalize()}: of {money(data.cost)} a piece the speed decides "
            f"{money(data.decided)}; {money(data.least)} is the least.", tuple(facts),
            ("Rates, times and prices are invented for teaching, in money of any currency. Power, grip and the "
             "spindle's own limit may forbid a speed that would pay.",),
        )  # fmt: skip

    def _path(self, data: CostCurve) -> float:
        return float(data.here[0] * 60.0 / HOURLY * data.speed)


def _best(edge: str) -> tuple[float, float]:
    """The speeds of least cost and of the highest rate [m/min]."""
    found = economic_speed(edge, Q_(CHANGE, U.min), EDGE_COST, HOURLY)
    return float(found.least_cost.m_as(U.m_per_min)), float(found.highest_rate.m_as(U.m_per_min))


def _span(edge: str) -> tuple[Any, Any]:
    """Where the slider runs: from slow to too fast."""
    low, high = _best(edge)
    return m_per_min(round(0.5 * low)), m_per_min(round(1.7 * high))


def cost_bench(edge: str = "carbide on nonferrous metal", speed: Any = None, feed: Any = None,
               batch: int = 1) -> CostBench:  # fmt: skip
    """Return a bench for what a piece costs by its surface speed: time in the cut against edges.

    cost = rate (handling + setting up / batch + cutting + changing) + edges + stock, for the barrel's body, once over.

    Parameters, all optional: edge, a name of `latheworks.cutting.edges()`; speed of the surface [m/min, 5 to 5000; that
    of least cost]; feed [mm/rev, 0.01 to 1; 0.1]; batch, pieces that share one setting up [1 to 100 000; 1].
    Raises LatheworksError for what cannot be. Source: `economic_speed` and `piece_cost`; rates invented for teaching.

    >>> cost_bench(batch=20).value("batch")
    20
    """
    with Door("cost_bench") as door:
        chosen = door.choice(edge, "edge", EDGES)
        own = given(speed, float(round(_best(chosen)[0])), U.m_per_min)
        door.number(own, "speed", "m/min", least=5.0, most=5000.0)
        advance = given(feed, 0.1, U.mm_per_rev)
        door.number(advance, "feed", "mm/rev", least=0.01, most=1.0)
        count = door.whole(batch, "batch", least=1, most=100_000)
    return CostBench({"edge": chosen, "speed": own, "feed": advance, "batch": count})
