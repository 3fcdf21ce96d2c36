"""What a piece costs: rates, handling, wear of edges, and the cycle of a batch as textbooks reckon it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from latheworks.cutting.plain_numbers import plain
from latheworks.door import Door
from latheworks.plan import times
from latheworks.plan.budget_of import life
from latheworks.plan.job import Job
from latheworks.plan.outcome import Judged
from latheworks.plan.tooling import PlainTool
from latheworks.results import Result, money
from latheworks.tables import table
from latheworks.units import Q_, U
from latheworks.working import Line, Working

LARGEST = 1e6  # money
_BOOK = "Groover, equations 23.3 and 23.11"


@dataclass(frozen=True, slots=True)
class Rates:
    """What time and stock cost, plain numbers in one currency: lathe and labor, an hour of each; stock, a kilogram.

    The usual ones are invented for teaching and stand in `data/shop_rates.csv`.
    """

    lathe: float
    labor: float
    stock: float

    @property
    def hourly(self) -> float:
        """An hour of lathe and person together."""
        return self.lathe + self.labor

    def rows(self) -> tuple[tuple[str, str], ...]:
        """Each rate in words."""
        return (("lathe", f"{self.lathe:g} money an hour"), ("labor", f"{self.labor:g} money an hour"),
                ("stock", f"{self.stock:g} money a kilogram"), ("a change of tool", f"{times.TOOL_CHANGE:g} min"),
                ("putting work in", f"{times.LOAD:g} min"), ("turning it round", f"{times.TURN_ROUND:g} min"),
                ("setting up, shared by the batch", f"{times.SET_UP:g} min a setup"),
                ("basis", "invented for teaching: put your own"))  # fmt: skip


@cache
def usual_rates() -> Rates:
    """The teaching shop's rates."""
    rows = {row["name"]: float(row["value"]) for row in table("shop_rates")}
    return Rates(rows["lathe"], rows["labor"], rows["stock"])


def rates_at(door: Door, lathe: Any, labor: Any, stock: Any) -> Rates:
    """Rates at the door, the teaching shop's where left out."""
    usual = usual_rates()
    given = {
        "lathe_rate": (lathe, usual.lathe),
        "labor_rate": (labor, usual.labor),
        "stock_price": (stock, usual.stock),
    }
    return Rates(*(own if value is None else plain(door, value, name, least=0, most=LARGEST, example=f"{name}={own:g}")
                   for name, (value, own) in given.items()))  # fmt: skip


def setup_minutes(first: bool, holding: str, supported: bool, quantity: int) -> float:
    """Minutes of one part that a setup takes: putting in or turning round, setting true, a center, and its share of
    setting up the lathe for the batch."""
    minutes = times.LOAD if first else times.TURN_ROUND
    minutes += times.INDICATE.get(holding, 0.0) + (times.CENTER if supported else 0.0)
    return minutes + times.SET_UP / quantity


def edge_share(job: Job, tool: PlainTool, judged: Judged, hourly: float) -> float:
    """What the edge costs that an operation wears: its share of the edge's life, price and changing together."""
    lasts = life(job, tool.edge, judged.data.speed)
    if not lasts:
        return 0.0
    return judged.cutting / lasts * (tool.price + hourly / 60.0 * tool.change)


# What each row of a piece's time and cost is called in the book's formulas.
_SYMBOLS = {"handling": "Th", "cutting": "Tm", "changing edges": "Tt / np", "setting up": "Tsu / batch",
            "edges": "Ct / np", "stock": "stock"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PieceCost(Result):
    """What one piece of a batch takes and costs.

    Fields: time of one piece [min]; cost; rows, (what, minutes of one piece, cost of one piece); pieces_per_edge;
    pieces_per_hour; hourly_rate.
    """

    time: Any
    cost: float
    rows: tuple[tuple[str, float, float], ...]
    pieces_per_edge: float
    pieces_per_hour: float
    hourly_rate: float

    def title(self) -> str:
        """Time and cost."""
        return f"one piece: {self.time.m_as(U.min):.2f} min, cost {money(self.cost)}"

    def facts(self) -> list[tuple[str, str]]:
        """What each part takes and costs."""
        rows = [(what, f"{minutes:.2f} min, cost {money(cost)}") for what, minutes, cost in self.rows]
        return [*rows, ("pieces an edge makes", f"{self.pieces_per_edge:.2f}"),
                ("pieces an hour", f"{self.pieces_per_hour:.2f}"), ("rate", f"{self.hourly_rate:g} money an hour"),
                ("source", _BOOK)]  # fmt: skip

    def columns(self) -> dict[str, Any]:
        """What each part takes and costs, a row each."""
        return {"what": [row[0] for row in self.rows], "time [min]": [row[1] for row in self.rows],
                "cost [money]": [row[2] for row in self.rows]}  # fmt: skip

    @property
    def working(self) -> Working:
        """The sum, redone by hand."""
        taken, paid = ([row for row in self.rows if row[k]] for k in (1, 2))
        return Working(self.title(), (
            Line("Tc", " + ".join(_SYMBOLS[row[0]] for row in taken), " + ".join(f"{row[1]:.4g}" for row in taken),
                 f"{self.time.m_as(U.min):.3f} min", _BOOK),
            Line("Cc", " + ".join(_SYMBOLS[row[0]] if not row[1] else f"Co {_SYMBOLS[row[0]]}" for row in paid),
                 " + ".join(f"{row[2]:.4g}" for row in paid), f"{self.cost:.3f} money", _BOOK),
        ))  # fmt: skip


def piece_cost(cutting_time: Any, edge_life: Any, change_time: Any, edge_cost: Any, hourly_rate: Any,
               handling_time: Any = None, setup_time: Any = None, batch: Any = 1, stock_cost: Any = 0.0,
               whole_edges: Any = True) -> PieceCost:  # fmt: skip
    """Return what one piece of a batch takes and costs.

    Tc = Th + Tm + Tt / np + Tsu / Q; cost = Co Tc + Ct / np + stock; np = T / Tm, pieces that an edge makes, rounded
    down where an edge is changed between pieces only.
    Parameters: cutting_time Tm of a piece [min, above 0 to 1e5]; edge_life T [min, above 0 to 1e6]; change_time Tt
    of an edge [min, 0 to 1000]; edge_cost Ct of one sharp edge [0 to 1e6, in any currency]; hourly_rate Co of lathe and
    person [0 to 1e6, in the same]; handling_time Th of a piece [min, 0 to 1e5; 0]; setup_time Tsu of the batch [min, 0
    to 1e6; 0]; batch Q, pieces [1 to 1000000; 1]; stock_cost of a piece [0 to 1e6; 0]; whole_edges, True where an edge
    is changed between pieces only [True].
    Raises LatheworksError for a wrong dimension, a value outside its range, and an edge that does not last for one
    piece where whole_edges is True. Source: M. P. Groover, Fundamentals of Modern Manufacturing, section 23.3.

    >>> found = piece_cost(Q_(12.57, "min"), Q_(14.76, "min"), Q_(2, "min"), 3.0, 30.0, Q_(5, "min"))
    >>> round(found.cost, 2), round(found.pieces_per_hour, 1)
    (12.79, 3.1)
    """
    none = Q_(0.0, U.min)
    with Door("piece_cost") as door:
        cutting = door.number(
            cutting_time, "cutting_time", "min", above=0, most=1e5, example='cutting_time=Q_(5, "min")'
        )
        lasts = door.number(edge_life, "edge_life", "min", above=0, most=1e6, example='edge_life=Q_(60, "min")')
        change = door.number(change_time, "change_time", "min", least=0, most=1000, example='change_time=Q_(2, "min")')
        price = plain(door, edge_cost, "edge_cost", least=0, most=LARGEST, example="edge_cost=3.0")
        rate = plain(door, hourly_rate, "hourly_rate", least=0, most=LARGEST, example="hourly_rate=60.0")
        handling = door.number(none if handling_time is None else handling_time, "handling_time", "min", least=0,
                               most=1e5, example='handling_time=Q_(2, "min")')  # fmt: skip
        setting = door.number(none if setup_time is None else setup_time, "setup_time", "min", least=0, most=1e6,
                              example='setup_time=Q_(30, "min")')  # fmt: skip
        pieces = door.whole(batch, "batch", least=1, most=1_000_000)
        stock = plain(door, stock_cost, "stock_cost", least=0, most=LARGEST, example="stock_cost=5.0")
        if not isinstance(whole_edges, bool):
            door.complain("whole_edges", repr(whole_edges)[:40], "True or False", "whole_edges=True")
        if not door.complaints and whole_edges and lasts < cutting * (1 - 1e-9):
            door.complain("edge_life", f"{lasts:g} min for a piece of {cutting:g} min", "an edge that lasts for one",
                          "a slower speed, or whole_edges=False")  # fmt: skip
    per_edge = float(int(lasts / cutting + 1e-9)) if whole_edges else lasts / cutting
    minute = rate / 60.0
    rows = [("handling", handling, minute * handling), ("cutting", cutting, minute * cutting),
            ("changing edges", change / per_edge, minute * change / per_edge), ("edges", 0.0, price / per_edge),
            ("setting up", setting / pieces, minute * setting / pieces), ("stock", 0.0, stock)]  # fmt: skip
    minutes, cost = sum(row[1] for row in rows), sum(row[2] for row in rows)
    return PieceCost(Q_(minutes, U.min), cost, tuple(rows), per_edge, 60.0 / minutes, rate)


def edge_cost(price: Any, edges: Any, grinding_cost: Any = 0.0) -> float:
    """Return what one sharp edge costs.

    Ct = Pt / n + what grinding it costs: n edges of an insert, or lives of a tool that is ground again.
    Parameters: price of the insert or tool [0 to 1e6, in any currency]; edges that it has, or lives [1 to 1000];
    grinding_cost of one grinding [0 to 1e6, in the same; 0].
    Raises LatheworksError for a value outside its range. Source: M. P. Groover, Fundamentals of Modern Manufacturing,
    equations 23.9 and 23.10.

    >>> edge_cost(8.0, 4)
    2.0
    """
    with Door("edge_cost") as door:
        whole = plain(door, price, "price", least=0, most=LARGEST, example="price=8.0")
        count = door.whole(edges, "edges", least=1, most=1000)
        ground = plain(door, grinding_cost, "grinding_cost", least=0, most=LARGEST, example="grinding_cost=2.0")
    return whole / count + ground
