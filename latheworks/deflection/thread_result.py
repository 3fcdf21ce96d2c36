"""What `thread_size_error` returns: how much too large the pitch diameter comes out along the thread, pass by pass."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.deflection.holding import Holding
from latheworks.deflection.shaft import Shaft
from latheworks.deflection.size_door import written_stiffness
from latheworks.deflection.size_result import along
from latheworks.results import Result
from latheworks.threads.infeed_schedule import InfeedSchedule
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True, eq=False)
class ThreadSizeError(Result):
    """How much too large the pitch diameter of a single-point thread comes out along the thread, pass by pass.

    Arrays of the shape of `at`: error of the pitch diameter after the last pass, positive where it is left large;
    edge_limit, where spring passes stop. Arrays with a row a pass of the schedule, spring passes last: per_pass, the
    error after it against the depth then set; depth, of the groove really reached; cutting_force and radial_force;
    bend, of part and tool away from each other; residual_ratio, what the pass leaves of a small error it meets.

    Also shaft, holding, schedule, radial_share, edge_force, tool_stiffness, start of the thread, flexibility under
    the tool in the last pass [mm/N], notes.
    """

    shaft: Shaft
    holding: Holding
    schedule: InfeedSchedule
    radial_share: float
    edge_force: Any
    tool_stiffness: Any
    start: Any
    at: Any
    error: Any
    per_pass: Any
    depth: Any
    cutting_force: Any
    radial_force: Any
    bend: Any
    residual_ratio: Any
    edge_limit: Any
    flexibility: Any
    notes: tuple[str, ...]

    @property
    def system(self) -> str:
        """How lengths are written: as the thread's are, "metric" or "inch"."""
        return self.schedule.system

    def title(self) -> str:
        """The thread and how the part is held."""
        return f"Size error of {self.schedule.thread.designation}, {self.holding.title().lower()}"

    def facts(self) -> list[tuple[str, str]]:
        """The largest and smallest error, the share of the tolerance, and the worst error after each pass."""
        system, worst = self.system, int(np.atleast_1d(self.error.magnitude).argmax())
        width = self.schedule.thread.limits.pitch_diameter.width
        said = [
            ("material", self.schedule.material.name),
            ("radial share of the force", f"{self.radial_share:g}"),
            ("tool and toolpost", written_stiffness(self.tool_stiffness)),
            *along(self.error, self.at, system),
        ]
        if width is not None:
            share = 100 * float((np.atleast_1d(self.error)[worst] / width).m_as(U.one))
            said.append(("share of the tolerance", f"{share:.0f} % of {show(width, system)} on the pitch diameter"))
        rows = self.per_pass.magnitude.reshape(len(self.per_pass.magnitude), -1)
        for k, row in enumerate(rows):
            name = f"pass {k + 1}" if k < self.schedule.passes else f"spring pass {k + 1 - self.schedule.passes}"
            said.append((name, "leaves " + show(Q_(row[worst], U.mm), system)))
        return [*said, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a pass, where the error is worst: depth set and reached, forces, bending, error left."""
        worst = int(np.atleast_1d(self.error.magnitude).argmax())

        def at_worst(values: Any) -> Any:
            return values.magnitude.reshape(len(values.magnitude), -1)[:, worst]

        return {
            "pass": list(range(1, len(self.per_pass.magnitude) + 1)),
            "depth set [mm]": self.schedule.depth.m_as(U.mm),
            "depth reached [mm]": at_worst(self.depth),
            "cutting force [N]": at_worst(self.cutting_force),
            "radial force [N]": at_worst(self.radial_force),
            "bend [mm]": at_worst(self.bend),
            "error of the pitch diameter [mm]": at_worst(self.per_pass),
        }

    @property
    def working(self) -> Working:
        """The balance of each pass where the error is largest."""
        worst = int(np.atleast_1d(self.error.magnitude).argmax())
        f = float(np.atleast_1d(self.flexibility.magnitude)[worst])
        share, edge = self.radial_share, float(self.edge_force.m_as(U.N))
        lines = [Line("f", "sag under the tool for 1 N, last pass", "the part with the thread's root diameter",
                      f"{f:.6g} mm/N", "flexibility under the tool, see deflection_working")]  # fmt: skip
        table = list(self.columns().values())
        for k, wanted, reached, main, radial, bend, error in zip(*table, strict=True):
            lines.append(Line(f"Fp of pass {k}", "share x Fc", f"{share:g} x {main:.5g}", f"{radial:.5g} N",
                              "share as given; Fc of the chip really taken, see infeed"))  # fmt: skip
            lines.append(Line(f"error {k}", "2 x what the groove lacks", f"2 x ({wanted:.6g} - {reached:.6g}), "
                              f"bent {bend:.4g} by {radial + edge:.5g} N", f"{error:.5g} mm", "balance"))  # fmt: skip
        return Working(f"{self.title()}: at {np.atleast_1d(self.at.magnitude)[worst]:g} mm", tuple(lines))
