"""What the chance of a fit says: together or not, and what each gage would say."""

from dataclasses import dataclass
from typing import Any, NamedTuple

from latheworks.budget.contribution import Contribution
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads.fit_door import system_of
from latheworks.threads.thread import Thread
from latheworks.units import Span, show
from latheworks.working import Line, Working


class GageChance(NamedTuple):
    """One gage: which part it checks, its name, its pitch diameter, and the chance that it accepts the part."""

    part: str
    name: str
    pitch_diameter: Any
    chance: float


@dataclass(frozen=True, slots=True, eq=False)
class FitChance(Result):
    """The chances of a pair of threads, each from 0 to 1. Lengths are in the external thread's own unit.

    Fields: external and internal, the threads; external_budget and internal_budget, their contributions;
    external_aim and internal_aim, the pitch diameters meant; together, the chance that the pair screws together;
    half_width, which holds the true chance 95 times in 100; gages, go and not-go of both parts with their chances;
    external_accepted and internal_accepted, that both gages accept the part, and both_accepted; refused_yet_together,
    the chance of a pair that screws together though a gage refuses one of its parts; clearance, its mean at the pitch
    line with the errors of lead in it, clearance_deviation, and clearance_range, which holds 95 pairs of 100; samples
    and seed.
    """

    external: Thread
    internal: Thread
    external_budget: tuple[Contribution, ...]
    internal_budget: tuple[Contribution, ...]
    external_aim: Any
    internal_aim: Any
    together: float
    half_width: float
    gages: tuple[GageChance, ...]
    external_accepted: float
    internal_accepted: float
    both_accepted: float
    refused_yet_together: float
    clearance: Any
    clearance_deviation: Any
    clearance_range: Span
    samples: int
    seed: int

    def title(self) -> str:
        return f"Chance of {self.external.designation} in {self.internal.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.external)
        low, high = (show(end, system) for end in (self.clearance_range.min, self.clearance_range.max))
        return (("aims", f"{show(self.external_aim, system)} outside, {show(self.internal_aim, system)} inside"),
                ("screws together", percent(self.together)),
                ("clearance", f"{show(self.clearance, system)} on the mean, {low} to {high} for 95 pairs of 100"),
                *((f"{gage.name} accepts", percent(gage.chance)) for gage in self.gages),
                ("external part accepted", percent(self.external_accepted)),
                ("internal part accepted", percent(self.internal_accepted)),
                ("both accepted", percent(self.both_accepted)),
                ("together, though refused", percent(self.refused_yet_together)),
                ("good to", f"{percent(self.half_width)}, {self.samples} samples, seed {self.seed}"),
                ("note", "Contributions are taken as independent of each other, and parts as mated at random."),
                ("note", "What its gage refuses is out of limits, even where one mate happens to go on."))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        unit = f"{self.clearance.units:~}"
        return {
            "gage": [f"{gage.part} {gage.name}" for gage in self.gages],
            f"pitch diameter [{unit}]": [gage.pitch_diameter.m_as(self.clearance.units) for gage in self.gages],
            "chance that it accepts": [gage.chance for gage in self.gages],
        }

    @property
    def working(self) -> Working:
        """What is compared in every sample."""
        system, draws = system_of(self.external), f"{self.samples} samples, seed {self.seed}"
        lines = [Line("together", "virtual outside <= virtual inside", draws, percent(self.together), cite("jcgm101"))]
        for gage in self.gages:
            what = "virtual size" if gage.name.startswith("go") else "pitch diameter"
            lines.append(Line(gage.name, f"{what} against {show(gage.pitch_diameter, system)}", draws,
                              percent(gage.chance), cite("gage_usage")))  # fmt: skip
        return Working(self.title(), tuple(lines))


def percent(chance: float) -> str:
    """A chance as a percentage."""
    return f"{100 * chance:.2f} %"
