"""The budget bench: what eats the tolerance of a thread's pitch diameter, and how many parts come out inside."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.budget import Contribution, ErrorBudget, error_budget, error_source, kernel
from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.pictures.budget_bars import BINS, BudgetBars, BudgetPicture
from latheworks.pictures.style import Look
from latheworks.threads import Thread, thread
from latheworks.units import Q_, Span, U
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Spec
from latheworks.widgets.sizes import Size

# Enough for a tenth of a percent by eye, and quick enough to follow a slider.
SAMPLES, SEED = 20_000, 1
# What is not known of force and stiffness: easily a third of what deflection predicts, common practice.
UNKNOWN = 1 / 3
MOST = Q_(1.0, "mm")
NAMES = {"deflection": "Deflection", "heat": "Heat", "wear": "Tool wear", "rezeroing": "Re-zeroing",
         "rechucking": "Re-chucking", "instrument": "Instrument"}  # fmt: skip
_HELPS = {
    "Deflection": "a spring pass, a shorter stickout or a stiffer bar",
    "Heat": "let the part cool before the last reading",
    "Tool wear": "correct more often, or change the edge",
    "Re-zeroing": "come to the dial from one side, or read a scale",
    "Re-chucking": "finish it in one chucking, or use soft jaws",
    "Instrument": "a finer instrument, and the mean of several readings",
}


class BudgetBench(Bench):
    """Six causes of error in one pitch diameter, their sums against the limits, and the sizes that come of them."""

    kind: ClassVar[str] = "budget"
    picture_class = BudgetPicture
    title: ClassVar[str] = "What eats the tolerance"

    def __init__(self, cut: Thread, opening: Mapping[str, Any]) -> None:
        self.cut, self._opening = cut, opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, nothing = self._opening, Q_(0.0, U.mm)

        def size(name: str, symbol: str, high: float, steps: tuple[float, float]) -> Size:
            return Size(name, NAMES[name], symbol, start[name], nothing, Q_(high, U.mm), steps, nothing, MOST)

        return (
            size("deflection", "\u2300", 0.15, (0.005, 0.0002)),
            size("heat", "growth", 0.05, (0.001, 0.00005)),
            size("wear", "r", 0.04, (0.001, 0.0001)),
            size("rezeroing", "r", 0.04, (0.001, 0.0001)),
            size("rechucking", "r", 0.08, (0.005, 0.0002)),
            size("instrument", "s", 0.03, (0.001, 0.0001)),
        )

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        return {
            "Bent more": {"deflection": Q_(0.12, U.mm)},
            "Measured warm": {"heat": Q_(0.02, U.mm)},
            "Chucked again": {"rechucking": error_source("re-chucking in three jaws").spread},
            "With a caliper": {"instrument": Q_(0.02, U.mm)},
        }

    def compute(self, values: Mapping[str, Any]) -> tuple[ErrorBudget, BudgetBars]:
        items = causes(self.cut, values)
        found = error_budget(items, self.cut.limits.pitch_diameter, samples=SAMPLES, seed=SEED)
        return found, bars(self.cut, found)

    def read(self, data: BudgetBars, look: Look) -> Reading:
        digits, most = 5 if look.system == "inch" else 3, int(np.argmax(data.worst_shares))
        inside = data.likely[0] >= data.low - 1e-9 and data.likely[1] <= data.high + 1e-9
        facts = (
            ("size meant", look.mm(data.aim, digits)),
            ("to expect", look.mm(data.aim + data.mean, digits)),
            ("worst case", f"\u00b1 {look.mm((data.worst[1] - data.worst[0]) / 2, digits)}"),
            ("at 2 s", f"\u00b1 {look.mm((data.likely[1] - data.likely[0]) / 2, digits)}"),
            ("inside", f"{100 * data.chance:.1f} %"),
            ("too small", f"{100 * data.chance_small:.1f} %"),
            ("too large", f"{100 * data.chance_large:.1f} %"),
            ("eats most", f"{data.names[most]}, {100 * data.worst_shares[most]:.0f} %"),
            ("dialed out", f"{100 * data.dialed:.1f} % inside"),
        )
        return Reading(inside, f"{in_words(data.chance)} {sentence(data.verdict)}", facts, (helps(data, look),))


def causes(cut: Thread, values: Mapping[str, Any]) -> tuple[Contribution, ...]:
    """The six contributions; a bent or worn tool leaves an outside large and an inside small, heat leaves both small.

    Deflection is what is predicted, a third of it unknown; heat the growth at the last reading, known to half of it;
    wear between two corrections is half shift, half spread.
    """
    out = 1.0 if cut.external else -1.0
    bent, warm, worn = (values[name].to(U.mm) for name in ("deflection", "heat", "wear"))
    return (
        Contribution(NAMES["deflection"], out * bent, UNKNOWN * bent),
        Contribution(NAMES["heat"], -warm, warm / 2, "uniform"),
        Contribution(NAMES["wear"], out * worn / 2, worn / 2, "uniform", "radius"),
        Contribution(NAMES["rezeroing"], None, values["rezeroing"], "uniform", "radius"),
        Contribution(NAMES["rechucking"], None, values["rechucking"], "uniform", "radius"),
        Contribution(NAMES["instrument"], None, values["instrument"]),
    )


def bars(cut: Thread, found: ErrorBudget) -> BudgetBars:
    """What the picture draws of a budget, and what would help, from the very draws of the budget."""
    mm, aim = U.mm, float(found.aim.m_as(U.mm))
    low, high = (float(end.m_as(mm)) - aim for end in (found.limits.min, found.limits.max))
    parts = [item.plain for item in found.contributions]
    generator = np.random.Generator(np.random.PCG64(found.seed))
    errors = np.array([kernel.draw([part], found.samples, generator) for part in parts])
    total, shift = errors.sum(axis=0), kernel.shift(parts)

    def inside(sizes: np.ndarray) -> float:
        return float(((sizes >= low - 1e-9) & (sizes <= high + 1e-9)).mean())

    halved = tuple(inside(total - each / 2) for each in errors)
    worst = tuple(float(end.m_as(mm)) - aim for end in (found.worst.min, found.worst.max))
    likely = tuple(float(end.m_as(mm)) - aim for end in (found.likely.min, found.likely.max))
    # Both limits fall on an edge between two bins, so no bin lies half inside.
    step = (high - low) / BINS
    before, after = (max(int(np.ceil(room / step)), 1) for room in (low - worst[0], worst[1] - high))
    edges = low + step * np.arange(-before, BINS + after + 1)
    counts = np.histogram(np.clip(total, edges[0], edges[-1]), edges)[0]
    return BudgetBars(
        cut.designation, aim, low, high, tuple(item.name for item in found.contributions),
        tuple(factor * bias for bias, _, _, factor in parts), tuple(kernel.reaches(parts)),
        tuple(found.worst_shares), tuple(found.spread_shares), (worst[0], worst[1]), (likely[0], likely[1]),
        found.coverage, edges, counts, found.chance, found.chance_small, found.chance_large, found.samples,
        found.verdict, 1.0 if cut.external else -1.0, shift, inside(total - shift), halved,
    )  # fmt: skip


def in_words(chance: float) -> str:
    """A chance as a count of parts."""
    if chance >= 0.9995:
        return "As good as every part comes out inside its limits."
    if chance < 0.0005:
        return "As good as no part comes out inside its limits."
    count, of = (round(1000 * chance), 1000) if chance > 0.985 or chance < 0.015 else (round(100 * chance), 100)
    return f"{count} of {of} parts come out inside their limits."


def sentence(words: str) -> str:
    """Words as a sentence."""
    return f"{words[0].upper()}{words[1:]}."


def helps(data: BudgetBars, look: Look) -> str:
    """What to work on first: the shift, or the cause that halved brings most parts inside."""
    best = int(np.argmax(data.halved))
    if data.chance >= 0.9995:
        return "Nothing needs more work: keep it so, and measure every part all the same."
    if data.dialed >= data.halved[best]:
        way, mm = ("deeper" if data.shift * data.outward > 0 else "less deep"), look.mm(abs(data.shift))
        said = (
            f"Work on the shift first: set the dial {mm} {way} on the diameter, and {100 * data.dialed:.1f} % come out"
        )
        widest = data.names[int(np.argmax(data.spread_shares))]
        after = f" Then on {widest.lower()}: {_HELPS[widest]}." if data.dialed < 0.9995 else ""
        return f"{said} inside.{after}"
    name = data.names[best]
    return f"Work on {name.lower()} first: {_HELPS[name]}. Half of it leaves {100 * data.halved[best]:.1f} % inside."


def budget_bench(size: Thread | str = "1-12 UNF-2A", deflection: Any = None, heat: Any = None, wear: Any = None,
                 rezeroing: Any = None, rechucking: Any = None, instrument: Any = None) -> BudgetBench:  # fmt: skip
    """Return a bench for the error budget of a thread's pitch diameter: what eats the tolerance, and what would help.

    Errors on the diameter add: worst case by their reaches, likely by the root of the sum of squares, 2 standard
    deviations; the chance is that of seeded draws. A radius counts twice.

    Parameters, all optional, the shoe of the soil corer by default: size, a thread or its designation, cut for the
    middle of its pitch diameter limits; deflection, as predicted on the diameter, a third of it unknown [length, 0 to
    1 mm]; heat, how much larger the part is while it is measured, known to half of it [length]; wear of the edge
    between two corrections, on the radius [length]; rezeroing and rechucking, how far off the tool or the axis
    lands, half-widths on the radius [length]; instrument, one standard deviation of a reading [length]. Those not
    given are starting values of `error_source`. Raises LatheworksError for what cannot be.
    Source: `latheworks.budget.error_budget`; a third and a half as unknown: common practice, no source.

    >>> budget_bench(deflection=Q_(0, "mm"), heat=Q_(0, "mm"))
    What eats the tolerance (bench): As good as every part comes out inside its limits. Holds even in the worst case.
    """
    cut = size if isinstance(size, Thread) else thread(size)
    limits: Span | None = getattr(cut.limits, "pitch_diameter", None)
    if cut.planes is not None or limits is None or limits.min is None or limits.max is None:
        raise NotInTable(
            f"{cut.designation} has no two limits of a pitch diameter to budget for. Type 1-12 UNF-2A or M24x1.5-6H."
        )
    usual = {
        "deflection": Q_(0.04, U.mm), "heat": Q_(0.004, U.mm),
        "wear": 2 * error_source("tool wear between corrections").spread,
        "rezeroing": error_source("re-zeroing the cross slide").spread, "rechucking": Q_(0.0, U.mm),
        "instrument": error_source("three wires and micrometer").spread,
    }  # fmt: skip
    given = {"deflection": deflection, "heat": heat, "wear": wear, "rezeroing": rezeroing, "rechucking": rechucking,
             "instrument": instrument}  # fmt: skip
    with Door("budget_bench") as door:
        for name, value in given.items():
            if value is not None:
                door.number(value, name, "mm", least=0.0, most=1.0)
    return BudgetBench(cut, {name: usual[name] if value is None else value for name, value in given.items()})
