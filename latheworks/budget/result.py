"""What an error budget says: worst case, root sum of squares, shares, use of the tolerance, capability, chances."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.budget import kernel
from latheworks.budget.contribution import Contribution
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True, eq=False)
class ErrorBudget(Result):
    """The budget of one size. Lengths are in the unit of the tolerance.

    Fields: contributions; limits of the size (Span; of its error, around 0, where only a width was given); aim, the
    size meant; shift, the sum of the known biases; mean, the size to expect (aim + shift); standard_deviation, the
    root of the summed squares; coverage, how many of it are counted; worst and likely, the size in the worst case and
    at that coverage (Spans); spread_shares, of each contribution in the summed squares; worst_shares, of each in the
    worst case, its shift counted too (both sum to 1, or are all 0); worst_use and likely_use, the share of the room
    between aim and limit that is used on the side used most; cp and cpk (None without spread, cp also without two
    limits); chance, that the size lies within its limits, chance_small and chance_large, that it lies below or above
    them, from so many samples; chance_half_width, which holds the true chance 95 times in 100; normal_chance, the
    same chance if the sum were normal; seed.
    """

    contributions: tuple[Contribution, ...]
    limits: Span
    aim: Any
    shift: Any
    mean: Any
    standard_deviation: Any
    coverage: int
    worst: Span
    likely: Span
    spread_shares: np.ndarray
    worst_shares: np.ndarray
    worst_use: float
    likely_use: float
    cp: float | None
    cpk: float | None
    chance: float
    chance_small: float
    chance_large: float
    chance_half_width: float
    normal_chance: float
    samples: int
    seed: int

    @property
    def system(self) -> str:
        """How its lengths are shown: "inch" where the tolerance was given in inches."""
        return "inch" if self.mean.units in (U.inch, U.thou) else "metric"

    @property
    def verdict(self) -> str:
        """In one sentence, whether the tolerance holds."""
        if self.worst_use <= 1 + 1e-9:
            return "holds even in the worst case"
        if self.likely_use <= 1 + 1e-9:
            return f"holds at {self.coverage} standard deviations, not in the worst case: check every part"
        if self._shift_lost:
            return "lost by the known shift alone: correct it before anything else"
        return f"lost at {self.coverage} standard deviations: shrink the largest contribution, or correct the shift"

    @property
    def _shift_lost(self) -> bool:
        low, high = self.limits.min, self.limits.max
        return bool((low is not None and self.mean < low) or (high is not None and self.mean > high))

    def _length(self, value: Any) -> str:
        return show(value, self.system, 5 if self.system == "inch" else 4)

    def _span(self, span: Span) -> str:
        return " to ".join("open" if end is None else self._length(end) for end in (span.min, span.max))

    def title(self) -> str:
        return f"Error budget of {len(self.contributions)} contribution{'s' * (len(self.contributions) > 1)}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        kinds = {item.kind for item in self.contributions}
        order = np.argsort(-self.spread_shares, kind="stable")
        largest = self.contributions[int(order[0])].name
        capable = [("Cp", self.cp), ("Cpk", self.cpk)]
        end = [f"a normal one counts with {kernel.NORMAL_REACH:g} standard deviations"] if "normal" in kinds else []
        said = [
            ("limits", self._span(self.limits)), ("aim", self._length(self.aim)), ("shift", self._length(self.shift)),
            ("size to expect", self._length(self.mean)),
            ("standard deviation", self._length(self.standard_deviation)),
            ("worst case", "; ".join([self._span(self.worst), *end])),
            (f"at {self.coverage} standard deviations", self._span(self.likely)),
            ("uses of the tolerance", f"{100 * self.worst_use:.0f} % in the worst case, "
                                      f"{100 * self.likely_use:.0f} % at {self.coverage} standard deviations"),
            ("largest spread", f"{largest}, {100 * self.spread_shares[order[0]]:.0f} % of the summed squares"),
            *((name, f"{value:.2f}") for name, value in capable if value is not None),
            ("chance within limits", f"{100 * self.chance:.2f} % (too small {100 * self.chance_small:.2f} %, "
                                     f"too large {100 * self.chance_large:.2f} %)"),
            ("good to", f"{100 * self.chance_half_width:.2f} %, {self.samples} samples, seed {self.seed}"),
            ("verdict", self.verdict),
            ("note", "Contributions are taken as independent of each other (no correlation)."),
            ("note", "A plan, no measurement: the gage and the shop's rules decide about the part."),
        ]  # fmt: skip
        if self.standard_deviation.magnitude == 0:
            said = [row for row in said if row[0] != "largest spread"]
        return tuple(said)

    def columns(self) -> dict[str, Any]:
        unit, items = f"{self.mean.units:~}", self.contributions
        to = self.mean.units
        return {
            "contribution": [item.name for item in items],
            "kind": [item.kind for item in items],
            "counts on": [item.on for item in items],
            f"shift [{unit}]": [item.factor * item.shift.m_as(to) for item in items],
            f"standard deviation [{unit}]": [item.standard_deviation.m_as(to) for item in items],
            "share of the summed squares": self.spread_shares,
            "share of the worst case": self.worst_shares,
        }

    @property
    def working(self) -> Working:
        """The standard deviation of each, their sum, and what it leaves of the tolerance."""
        divisor = {"normal": "s", "uniform": "a / sqrt 3", "triangular": "a / sqrt 6", "fixed": "0"}
        rule = cite("jcgm100")
        lines = [
            Line(item.name, f"{item.factor:g} x {divisor[item.kind]}", self._length(item.spread.to(self.mean.units)),
                 self._length(item.standard_deviation.to(self.mean.units)), rule)
            for item in self.contributions
        ]  # fmt: skip
        lines += [
            Line("shift", "sum of factor x shift", "", self._length(self.shift), "definition"),
            Line("standard deviation", "sqrt(sum of squares)", "", self._length(self.standard_deviation), rule),
            Line("likely", f"aim + shift -+ {self.coverage} s", self._length(self.mean), self._span(self.likely), rule),
            Line("worst case", "aim + shift -+ sum of reaches", self._length(self.mean), self._span(self.worst),
                 f"definition; a normal one reaches {kernel.NORMAL_REACH:g} s, common practice"),
        ]  # fmt: skip
        if self.cp is not None:
            lines.append(Line("Cp", "(max - min) / 6 s", self._span(self.limits), f"{self.cp:.3f}", cite("capability")))
        if self.cpk is not None:
            lines.append(Line("Cpk", "least of (max - mean) / 3 s, (mean - min) / 3 s", self._length(self.mean),
                              f"{self.cpk:.3f}", cite("capability")))  # fmt: skip
        return Working(self.title(), tuple(lines))


def millimeters(span: Span) -> tuple[float, float]:
    """The ends of a span in mm, infinite where open."""
    low, high = (None if end is None else float(end.m_as(U.mm)) for end in (span.min, span.max))
    return (-np.inf if low is None else low, np.inf if high is None else high)


def in_unit(value: float, unit: Any) -> Any:
    """A length in mm as a quantity of the unit; inches without the dust of a conversion."""
    return Q_(value / 25.4, U.inch) if unit == U.inch else Q_(value, U.mm).to(unit)
