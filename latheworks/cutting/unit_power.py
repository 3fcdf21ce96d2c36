"""The handbook's unit power: what a material takes per volume removed, with its factors for feed and wear."""

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from latheworks.tables import cite, table
from latheworks.units import ureg

# One hp/(in^3/min) is 2.7304 J/mm^3, that is N/mm^2: the number as printed and the SI number are easily confused.
TO_MPA = float(ureg.Quantity(1.0, "hp*min/inch**3").m_as("MPa"))


@dataclass(frozen=True, slots=True)
class UnitPower:
    """Unit power of a material, as printed [hp/(in^3/min)]: the usual value, the lowest, the highest; where from."""

    usual: float
    lowest: float
    highest: float
    hardness: str
    source: str


@cache
def unit_power_of(material: str) -> UnitPower | None:
    """The unit power of a material of the table, or None where the handbook's table has none."""
    for row in table("unit_power"):
        if row["material"] == material:
            usual, low, high = (float(row[f"{word}Kp [hp*min/in**3]"]) for word in ("", "lowest ", "highest "))
            return UnitPower(usual, low, high, row["hardness"], cite(row["source"]))
    return None


@cache
def _feed_table() -> tuple[np.ndarray, np.ndarray]:
    rows = table("feed_factors")
    return (np.log([float(row["feed [mm/rev]"]) for row in rows]), np.log([float(row["C"]) for row in rows]))


def feed_factor(feed: Any) -> Any:
    """C for a feed [mm/rev], straight lines in logarithms between the printed values; held at the ends."""
    feeds, factors = _feed_table()
    return np.exp(np.interp(np.log(np.maximum(feed, 1e-12)), feeds, factors))


def unit_power_force(unit_power: Any, depth: Any, feed: Any, wear: Any = 1.0) -> Any:
    """F = Kp C W f d [N], for Kp [hp/(in^3/min)], depth [mm] and feed [mm/rev]: power over surface speed."""
    return TO_MPA * unit_power * feed_factor(feed) * wear * feed * depth
