"""The drills that can be bought: number, letter, fractional inch and metric sets."""

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from latheworks.door import Door
from latheworks.results import Result
from latheworks.tables import cite, table
from latheworks.units import Q_, U

SETS = ("number", "letter", "fractional", "metric")
_UNITS = {"diameter [in]": (U.inch, 25.4), "diameter [mm]": (U.mm, 1.0)}


@dataclass(frozen=True, slots=True)
class Drills(Result):
    """One set of twist drills: `names`, `diameter` (an array, in the unit the set is made in), and where from."""

    set: str
    names: tuple[str, ...]
    diameter: Any
    source: str

    def __len__(self) -> int:
        return len(self.names)

    def title(self) -> str:
        return f"{self.set} drills".capitalize()

    def facts(self) -> tuple[tuple[str, str], ...]:
        low, high = int(np.argmin(self.diameter.magnitude)), int(np.argmax(self.diameter.magnitude))
        return (("drills", str(len(self))), ("smallest", self.names[low]), ("largest", self.names[high]),
                ("source", self.source))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        return {"name": self.names, f"diameter [{self.diameter.units:~}]": self.diameter.magnitude}


def drills(set: str) -> Drills:
    """Return one set of twist drills with the diameters as printed.

    Parameter: set, "number" (#80 to #1, where #1 is the largest), "letter" (A to Z, and E is 1/4 in),
    "fractional" or "metric". Raises NotInTable for another name and WrongUnit for what is not text.
    Source: ASME B94.11M and ISO 235 for the diameters, as named on the result.

    >>> letters = drills("letter")
    >>> letters.names[5], f"{letters.diameter[5]:~}"
    ('F', '0.257 in')
    """
    with Door("drills") as door:
        set = door.choice(set, "set", SETS)
    return _drills(set)


@cache
def _drills(set: str) -> Drills:
    rows = table(f"drills_{set}")
    heading = next(name for name in rows[0] if name in _UNITS)
    diameter = np.array([float(row[heading]) for row in rows])
    # One array is shared by every caller, so nobody may write into it.
    diameter.flags.writeable = False
    keys = "+".join(dict.fromkeys(row["source"] for row in rows))
    return Drills(set, tuple(row["name"] for row in rows), Q_(diameter, _UNITS[heading][0]), cite(keys))


@cache
def drill_stock(sets: tuple[str, ...]) -> tuple[tuple[str, ...], np.ndarray]:
    """Return (names, diameters [mm]) of several sets put together, smallest first: the kernel's view of the drills."""
    names = [name for set in sets for name in _drills(set).names]
    factor = dict(_UNITS.values())
    diameters = np.concatenate([_drills(s).diameter.magnitude * factor[_drills(s).diameter.units] for s in sets])
    order = np.argsort(diameters, kind="stable")
    diameters = diameters[order]
    diameters.flags.writeable = False
    return tuple(names[i] for i in order), diameters
