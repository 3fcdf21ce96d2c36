"""A drilled hole as a plan: its steps, what limits them, and where holes from both ends meet."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.drilling.load_result import written_torque
from latheworks.results import Result
from latheworks.shop import Tool
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class HoleStep:
    """One step: does, in words; end, 1 or 2; tool; spindle [rev/min]; feed [mm/rev]; travel of the point in the work
    [mm]; pecks [mm]; thrust [N] and torque [N m], Spans over the published forms; settings of the tailstock; time [s];
    limits, what holds this step back, in words, the first the strongest."""

    does: str
    end: int
    tool: Tool
    spindle: Any
    feed: Any
    travel: Any
    pecks: Any
    thrust: Span
    torque: Span
    settings: int
    time: Any
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where holes from both ends meet: overlap [mm]; runout of re-chucking, whole reading [mm]; drift [mm for each
    100 mm]; depths of the full diameter from either end [mm]; step and worst_step of the wall [mm]; allowance and
    worst_allowance on the diameter that hide it [mm]."""

    overlap: Any
    runout: Any
    drift: Any
    depths: Any
    step: Any
    worst_step: Any
    allowance: Any
    worst_allowance: Any


@dataclass(frozen=True, slots=True)
class DrilledHole(Result):
    """A plan for a hole: material; diameter and depth asked for [mm]; through; drill, the last one; steps; meeting,
    where both ends are drilled, or None; reach from one end [mm]; time of all steps [s]; grip_needed and
    grip_available of the jaws at the hardest step [N]; limits, what holds the plan back, the strongest first; notes.
    """

    material: str
    diameter: Any
    depth: Any
    through: bool
    drill: Tool
    steps: tuple[HoleStep, ...]
    meeting: Meeting | None
    reach: Any
    time: Any
    grip_needed: Any
    grip_available: Any
    limits: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether the jaws hold the hardest step at the highest published load."""
        return bool(self.grip_needed <= self.grip_available)

    @property
    def left(self) -> Any:
        """What the last drill leaves of the diameter asked for [mm]."""
        return self.diameter - self.drill.diameter

    def title(self) -> str:
        """The hole and the material."""
        kind = "through" if self.through else "blind"
        return f"{self.material}, a {kind} hole of {show(self.diameter)}, {show(self.depth, digits=1)} deep"

    def facts(self) -> list[tuple[str, str]]:
        """The steps in order, the meeting, the limits and the notes."""
        rows = [
            (f"{i}. {step.does}", f"{step.tool.name}, {show(step.spindle)}, {show(step.feed)}, travel "
             f"{show(step.travel, digits=1)}, {len(step.pecks)} peck{'s'[: len(step.pecks) > 1]}, {show(step.time)}")
            for i, step in enumerate(self.steps, 1)
        ]  # fmt: skip
        last = max(self.steps, key=lambda step: float(step.thrust.max.m_as(U.N)))
        torque = max((step.torque.max for step in self.steps), key=lambda value: float(value.m_as("N*m")))
        rows += [("largest thrust", f"{last.thrust.min.m_as(U.N):.0f} to {show(last.thrust.max)}"),
                 ("largest torque", f"up to {written_torque(torque)}"), ("time", show(self.time)),
                 ("jaws", f"{show(self.grip_needed)} needed of {show(self.grip_available)}")]  # fmt: skip
        if self.meeting is not None:
            m = self.meeting
            rows.append(("step where they meet", f"about {show(m.step)}, at worst {show(m.worst_step)}"))
            sure = show(m.worst_allowance)
            rows.append(("leave to bore", f"{show(m.allowance)} on the diameter, {sure} to be sure"))
        return [*rows, *(("limit", word) for word in self.limits), *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a step."""
        s = self.steps
        return {
            "step": [step.does for step in s], "end": [step.end for step in s], "tool": [step.tool.name for step in s],
            "spindle [rev/min]": np.array([step.spindle.m_as(U.rpm) for step in s]),
            "feed [mm/rev]": np.array([step.feed.m_as(U.mm_per_rev) for step in s]),
            "travel [mm]": np.array([step.travel.m_as(U.mm) for step in s]),
            "pecks": [len(step.pecks) for step in s],
            "thrust [N]": np.array([step.thrust.max.m_as(U.N) for step in s]),
            "torque [N*m]": np.array([step.torque.max.m_as("N*m") for step in s]),
            "time [s]": np.array([step.time.m_as(U.s) for step in s]),
        }  # fmt: skip

    @property
    def working(self) -> Working:
        """The travel of the last drill, and the step where the ends meet."""
        lines = []
        for step in self.steps[-1:]:
            tip = (step.tool.diameter / 2 / np.tan(step.tool.point_angle.m_as(U.rad) / 2)).m_as(U.mm)
            rest = step.travel.m_as(U.mm) - tip
            lines.append(Line("travel", "full diameter and overrun + point", f"{rest:.3f} + {tip:.3f}",
                              show(step.travel), "geometry"))  # fmt: skip
        if self.meeting is not None:
            m = self.meeting
            e, rate = m.runout.m_as(U.mm) / 2, m.drift.m_as(U.one) / 100
            a, b = (rate * depth for depth in m.depths.m_as(U.mm))
            stated = "stated inputs: measure your own"
            lines += [
                Line("step", "sqrt(e^2 + w1^2 + w2^2)", f"sqrt({e:.4f}^2 + {a:.4f}^2 + {b:.4f}^2)",
                     show(m.step), stated),
                Line("step at worst", "e + w1 + w2", f"{e:.4f} + {a:.4f} + {b:.4f}", show(m.worst_step), stated),
                Line("allowance", "2 max(sqrt(e^2 + w1^2), w2)", f"2 max(sqrt({e:.4f}^2 + {a:.4f}^2), {b:.4f})",
                     show(m.allowance), stated),
                Line("allowance at worst", "2 max(e + w1, w2)", f"2 max({e:.4f} + {a:.4f}, {b:.4f})",
                     show(m.worst_allowance), stated),
            ]  # fmt: skip
        return Working(self.title(), tuple(lines))


def torque_span(values: Any) -> Span:
    """Lowest and highest torque of an array in N m."""
    return Span(Q_(float(values.min()), "N*m"), Q_(float(values.max()), "N*m"))
