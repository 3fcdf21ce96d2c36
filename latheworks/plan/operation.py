"""One operation of a plan: what is done, to which features, with which tool and cutting data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.results import Result
from latheworks.units import show

KINDS = (
    "face", "center drill", "turn", "taper", "groove", "drill", "bore", "ream", "thread", "chamfer", "part off",
    "deburr", "gage",
)  # fmt: skip
MOST_FEATURES = 20
# Field: unit, above, most, a value to copy.
_NUMBERS = {
    "spindle": ("rev/min", 0.0, 20_000.0, 600),
    "surface_speed": ("m/min", 0.0, 2_000.0, 90),
    "feed": ("mm/rev", 0.0, 10.0, 0.1),
    "depth": ("mm", 0.0, 20.0, 1),
    "peck": ("mm", 0.0, 500.0, 8),
    "drill_depth": ("mm", 0.0, 2_000.0, 60),
}


@dataclass(frozen=True)
class Operation(Result):
    """One operation. What is left out is filled from the tables when the plan is reviewed.

    Parameters: kind, one of "face", "center drill", "turn", "taper", "groove", "drill", "bore", "ream", "thread",
    "chamfer", "part off", "deburr", "gage"; features, the names of those it works on [up to 20]; tool, the name of a
    tool of the rack [none for deburr and gage]; spindle [rev/min, above 0 to 20000] or surface_speed [m/min, above 0
    to 2000], not both; feed [mm/rev, above 0 to 10]; depth, the deepest pass on the radius [mm, above 0 to 20]; passes
    [1 to 200]; spring_passes [0 to 20; 0]; leave, what stays on the radius for a later one [mm, 0 to 20; 0]; peck
    [mm]; drill_depth, of the full diameter from the face [mm; all of the feature when left out]; method of a thread,
    "radial", "flank", "modified flank" or "alternating flank"; coolant, True or False; note.
    Raises LatheworksError naming every argument that does not fit. Source: words of the trade.

    >>> print(Operation("turn", ["body"], "right-hand tool", spring_passes=1).title())
    turn body
    """

    kind: str
    features: tuple[str, ...] = ()
    tool: str | None = None
    spindle: Any = None
    surface_speed: Any = None
    feed: Any = None
    depth: Any = None
    passes: int | None = None
    spring_passes: int = 0
    leave: Any = None
    peck: Any = None
    drill_depth: Any = None
    method: str | None = None
    coolant: bool | None = None
    note: str = ""

    def __post_init__(self) -> None:
        with Door("Operation") as door:
            door.choice(self.kind, "kind", KINDS)
            names = self.features
            good = isinstance(names, (list, tuple)) and len(names) <= MOST_FEATURES
            if not good or not all(isinstance(each, str) and 0 < len(each) <= 40 for each in names):
                door.complain("features", given(names), f"a list of up to {MOST_FEATURES} names of features",
                              'features=["body"]', WrongUnit)  # fmt: skip
                names = ()
            if self.tool is not None:
                door.text(self.tool, "tool", longest=60, example="right-hand tool")
            for name, (unit, above, most, usual) in _NUMBERS.items():
                value = getattr(self, name)
                if value is not None:
                    door.number(value, name, unit, above=above, most=most, example=f'{name}=Q_({usual}, "{unit}")')
            if self.leave is not None:
                door.number(self.leave, "leave", "mm", least=0, most=20, example='leave=Q_(0.3, "mm")')
            if self.spindle is not None and self.surface_speed is not None:
                door.complain("spindle and surface_speed", "both", "one of the two", "surface_speed=None", WrongUnit)
            if self.passes is not None:
                door.whole(self.passes, "passes", least=1, most=200)
            door.whole(self.spring_passes, "spring_passes", least=0, most=20)
            if self.method is not None:
                door.choice(self.method, "method", ("radial", "flank", "modified flank", "alternating flank"))
            if self.coolant is not None and not isinstance(self.coolant, bool):
                door.complain("coolant", given(self.coolant), "True or False", "coolant=True", WrongUnit)
            if not isinstance(self.note, str) or len(self.note) > 500:
                door.complain("note", given(self.note), "up to 500 characters", 'note=""', OutOfRange)
        object.__setattr__(self, "features", tuple(names))

    def title(self) -> str:
        """What it does to what."""
        rough = "rough " if self.leave is not None and self.leave.magnitude > 0 else ""
        names = ", ".join(self.features)
        # A feature that is called by its kind, such as "face A", says it already.
        return f"{rough}{names if names.startswith(self.kind) else f'{self.kind} {names}'}".strip()

    def facts(self) -> list[tuple[str, str]]:
        """Tool and the cutting data that were given."""
        rows = [("tool", self.tool or "none")]
        for name in (*_NUMBERS, "leave"):
            if getattr(self, name) is not None:
                rows.append((name.replace("_", " "), show(getattr(self, name))))
        return rows
