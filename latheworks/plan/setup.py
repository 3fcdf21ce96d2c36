"""One setup of a plan: which end is held, how, how far the work sticks out, and what is done there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.plan.feature import ENDS, LARGEST
from latheworks.plan.operation import Operation
from latheworks.results import Result
from latheworks.units import show

HOLDINGS = ("three-jaw chuck", "soft jaws", "four-jaw chuck", "collet", "between centers")
SUPPORTS = ("none", "center", "cone center", "plug and center")
MOST_OPERATIONS = 60
_SPRINGS = {"tilt": "N*mm/rad", "radial": "N/mm", "center": "N/mm"}


@dataclass(frozen=True)
class Setup(Result):
    """One setup: the work is put in, everything listed is done, and it comes out again.

    Parameters: name [1 to 40 characters]; grips, the end of the part that lies in the chuck, "A" or "B"; stickout, from
    the jaws to the free end of the work as it stands then [mm, above 0]; holding, "three-jaw chuck", "soft jaws",
    "four-jaw chuck", "collet" or "between centers"; support of the free end, "none", "center", "cone center" (for a
    bored end) or "plug and center"; rest, where a steady rest stands, from the jaws [mm; none]; operations, a list of
    `Operation`, in order; jaw_force, of all jaws together at rest [N; the lathe's]; runout of the work as it is held,
    whole reading [mm, 0 to 5; what such a holding is known for]; zero, how the zero along the axis is found again, in
    words; zero_error, how well [mm, 0 to 5; 0.05]; stop, True when a stop or a shoulder takes the thrust;
    tailstock_locked and quill_locked, True when the plan says so; tilt [N*mm/rad], radial [N/mm] and center [N/mm],
    stiffnesses [the teaching defaults]; note.
    Raises LatheworksError naming every argument that does not fit. Source: the trade; defaults common practice.

    >>> from latheworks.units import Q_
    >>> Setup("first", "A", Q_(80, "mm"), operations=[Operation("face", tool="right-hand tool")]).support
    'none'
    """

    name: str
    grips: str
    stickout: Any
    holding: str = "three-jaw chuck"
    support: str = "none"
    rest: Any = None
    operations: tuple[Operation, ...] = ()
    jaw_force: Any = None
    runout: Any = None
    zero: str = ""
    zero_error: Any = None
    stop: bool = False
    tailstock_locked: bool = False
    quill_locked: bool = False
    tilt: Any = None
    radial: Any = None
    center: Any = None
    note: str = ""

    def __post_init__(self) -> None:
        with Door("Setup") as door:
            door.text(self.name, "name", longest=40, example="first end")
            door.choice(self.grips, "grips", ENDS)
            out = door.number(self.stickout, "stickout", "mm", above=0, most=LARGEST, example='stickout=Q_(80, "mm")')
            door.choice(self.holding, "holding", HOLDINGS)
            door.choice(self.support, "support", SUPPORTS)
            if self.rest is not None:
                door.number(self.rest, "rest", "mm", above=0, below=out, example=f'rest=Q_({out / 2:g}, "mm")')
            items = self.operations
            good = isinstance(items, (list, tuple)) and all(isinstance(each, Operation) for each in items)
            if not good or len(items) > MOST_OPERATIONS:
                door.complain("operations", given(items), f"a list of up to {MOST_OPERATIONS} Operation",
                              'operations=[Operation("face", tool="...")]',
                              OutOfRange if good else WrongUnit)  # fmt: skip
                items = ()
            if self.jaw_force is not None:
                door.number(self.jaw_force, "jaw_force", "N", above=0, most=1e6, example='jaw_force=Q_(12000, "N")')
            for name in ("runout", "zero_error"):
                if getattr(self, name) is not None:
                    door.number(getattr(self, name), name, "mm", least=0, most=5, example=f'{name}=Q_(0.05, "mm")')
            for name, unit in _SPRINGS.items():
                if getattr(self, name) is not None:
                    door.number(getattr(self, name), name, unit, least=1, finite=False)
            for name in ("stop", "tailstock_locked", "quill_locked"):
                if not isinstance(getattr(self, name), bool):
                    door.complain(name, given(getattr(self, name)), "True or False", f"{name}=True", WrongUnit)
            for name in ("zero", "note"):
                value = getattr(self, name)
                if not isinstance(value, str) or len(value) > 500:
                    door.complain(name, given(value), "up to 500 characters", f'{name}=""', WrongUnit)
        object.__setattr__(self, "operations", tuple(items))

    def title(self) -> str:
        """Its name and holding."""
        way = {"between centers": "", "soft jaws": "in "}.get(self.holding, "in a ")
        return f"{self.name}: end {self.grips} {way}{self.holding}"

    def facts(self) -> list[tuple[str, str]]:
        """Holding and what is done."""
        return [("sticks out", show(self.stickout)), ("support", self.support),
                *((f"{10 * i}", each.title()) for i, each in enumerate(self.operations, 1))]  # fmt: skip
