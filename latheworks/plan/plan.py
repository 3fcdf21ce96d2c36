"""A plan: a part, the setups that make it, and the lathe and rack it is made with."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.plan.part import Part
from latheworks.plan.setup import Setup
from latheworks.results import Result
from latheworks.shop import Lathe, Rack
from latheworks.shop import lathe as teaching_lathe
from latheworks.shop import rack as teaching_rack

MOST_SETUPS = 12


@dataclass(frozen=True)
class Plan(Result):
    """How one part is made: its setups in order, on a lathe, with the tools of a rack.

    Parameters: part, a `Part`; setups, a list of 1 to 12 `Setup`, in order; name [up to 60 characters; the part's];
    lathe and rack, the teaching ones when left out; note. A plan is only read here: whether it is any good is for
    `review` to say. Raises LatheworksError naming every argument that does not fit. Source: the trade.

    >>> from latheworks.plan.examples import barrel_plan
    >>> print(barrel_plan().facts()[2][1])
    socket end: end A in a three-jaw chuck
    """

    part: Part
    setups: tuple[Setup, ...]
    name: str = ""
    lathe: Lathe | None = None
    rack: Rack | None = None
    note: str = ""
    machine: Lathe = field(init=False, repr=False, compare=False)
    tools: Rack = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        with Door("Plan") as door:
            part = door.instance(self.part, "part", Part, "a Part", "corer_barrel()")
            items: Any = self.setups
            good = isinstance(items, (list, tuple)) and all(isinstance(each, Setup) for each in items)
            if not good or not 0 < len(items) <= MOST_SETUPS:
                door.complain("setups", given(items), f"a list of 1 to {MOST_SETUPS} Setup", "setups=[Setup(...)]",
                              OutOfRange if good else WrongUnit)  # fmt: skip
            for name, longest in (("name", 60), ("note", 2000)):
                value = getattr(self, name)
                if not isinstance(value, str) or len(value) > longest:
                    door.complain(name, given(value), f"up to {longest} characters", f'{name}=""', WrongUnit)
            machine = teaching_lathe() if self.lathe is None else door.instance(
                self.lathe, "lathe", Lathe, "a Lathe", 'lathe("my_lathe.toml"), or leave it out')  # fmt: skip
            tools = teaching_rack() if self.rack is None else door.instance(
                self.rack, "rack", Rack, "a Rack", 'rack("my_rack.toml"), or leave it out')  # fmt: skip
        put = object.__setattr__
        put(self, "setups", tuple(items))
        put(self, "machine", machine)
        put(self, "tools", tools)
        put(self, "name", self.name or part.name)

    @property
    def operations(self) -> int:
        """How many operations in all."""
        return sum(len(each.operations) for each in self.setups)

    def title(self) -> str:
        """Name and part."""
        return f"plan for {self.name}"

    def facts(self) -> list[tuple[str, str]]:
        """The setups in order."""
        return [("lathe", self.machine.name), ("rack", self.tools.name),
                *((f"setup {i}", each.title()) for i, each in enumerate(self.setups, 1))]  # fmt: skip
