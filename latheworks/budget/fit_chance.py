"""The chance that a pair of threads screws together, and that each gage accepts its part."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from latheworks.budget import kernel
from latheworks.budget.chances import FitChance, GageChance
from latheworks.budget.contribution import ON_SIZE, ON_THREAD, Contribution, listed
from latheworks.budget.error_budget import FEWEST, LARGEST_SEED, MOST_SAMPLES, SAMPLES, SEED
from latheworks.door import Door
from latheworks.threads.fit import gages
from latheworks.threads.fit_door import own, pair
from latheworks.threads.fit_kernel import lead_growth, plating_factor
from latheworks.threads.thread import Thread
from latheworks.units import Span, U

Budget = Sequence[Contribution] | None
_HAIR = 1e-9  # mm: rounding in a conversion of inches, no more


def fit_chance(external: Thread | str, internal: Thread | str | None = None, external_budget: Budget = None,
               internal_budget: Budget = None, external_aim: Any = None, internal_aim: Any = None,
               samples: int = SAMPLES, seed: int = SEED) -> FitChance:  # fmt: skip
    """Return the chance that two threads screw together, and that go and not-go accept each part.

    Pitch diameter = aim + errors on "diameter" and "radius" +- 2 / sin a x errors of the "layer" (+ external,
    - internal). Virtual size: larger outside and smaller inside by |lead| cot a + virtual, with the errors on
    "lead" and on "virtual" (never below 0). Together: virtual outside <= virtual inside. Go: virtual size within the
    maximum-material limit; not-go: pitch diameter within the other. A plated thread of a class with an allowance may
    reach basic size: its go gage is that of basic size. Both parts are drawn at random and mated at random, with no
    correlation between any two contributions; only the flanks are looked at, not the crests and roots.
    Parameters: external and internal, threads or designations as in `fit` (None inside for the usual mate);
    external_budget and internal_budget, a list of `Contribution` each, or an `ErrorBudget` (without one the part is
    cut at its aim); a positive error is a larger diameter on both; external_aim and internal_aim, the pitch diameter
    meant [length, within a tenth of basic; the middle of the class when not given]; samples [1,000 to 1,000,000];
    seed [0 to 4,294,967,295]. Raises LatheworksError with one message for all that do not fit.
    Source: gages and virtual size as in `fit`, `virtual_pitch_diameter` and `plating`; draws JCGM 101:2008, from
    memory. The sum of normal errors is checked against the normal table.

    >>> from latheworks.units import Q_
    >>> bent = [Contribution("deflection", Q_(0.09, "mm"), Q_(0.02, "mm"))]
    >>> found = fit_chance("M16x1.5-6g", "M16x1.5-6H", bent)
    >>> f"{100 * found.together:.0f} % together, {100 * found.gages[0].chance:.0f} % pass the {found.gages[0].name}"
    '100 % together, 16 % pass the go ring'
    """
    with Door("fit_chance") as door:
        outer, inner = pair(door, external, internal)
        outside = _budget(door, external_budget, "external_budget")
        inside = _budget(door, internal_budget, "internal_budget")
        outer_aim = _aim(door, external_aim, "external_aim", outer)
        inner_aim = _aim(door, internal_aim, "internal_aim", inner)
        count = door.whole(samples, "samples", least=FEWEST, most=MOST_SAMPLES)
        number = door.whole(seed, "seed", least=0, most=LARGEST_SEED)
    # Each part has its own stream, so a change to one leaves the draws of the other alone.
    streams = [np.random.Generator(np.random.PCG64(s)) for s in np.random.SeedSequence(number).spawn(2)]
    size, virtual = sizes(outer, outer_aim, outside, count, streams[0])
    bore, virtual_bore = sizes(inner, inner_aim, inside, count, streams[1])
    gap = virtual_bore - virtual
    accepted, chances = [], []
    for cut, plain, seen, parts in ((outer, size, virtual, outside), (inner, bore, virtual_bore, inside)):
        limits = limit_sizes(cut, plated=any(part.on == "layer" for part in parts))
        sign = 1.0 if cut.external else -1.0
        verdicts = (sign * (limits[0] - seen) >= -_HAIR, sign * (plain - limits[1]) >= -_HAIR)
        chances += [
            GageChance(gage.part, gage.name, own(cut, limit), float(verdict.mean()))
            for gage, limit, verdict in zip(gages(cut), limits, verdicts, strict=True)
        ]
        accepted.append(verdicts[0] & verdicts[1])
    together = gap >= -_HAIR
    varies = any(part.spread.magnitude > 0 for part in (*outside, *inside))
    low, high = np.quantile(gap, (0.025, 0.975))
    return FitChance(
        external=outer,
        internal=inner,
        external_budget=outside,
        internal_budget=inside,
        external_aim=own(outer, outer_aim),
        internal_aim=own(outer, inner_aim),
        together=float(together.mean()),
        half_width=kernel.half_width_of(float(together.mean()), count) if varies else 0.0,
        gages=tuple(chances),
        external_accepted=float(accepted[0].mean()),
        internal_accepted=float(accepted[1].mean()),
        both_accepted=float((accepted[0] & accepted[1]).mean()),
        refused_yet_together=float((together & ~(accepted[0] & accepted[1])).mean()),
        clearance=own(outer, float(gap.mean())),
        clearance_deviation=own(outer, float(gap.std())),
        clearance_range=Span(own(outer, float(low)), own(outer, float(high))),
        samples=count,
        seed=number,
    )


def sizes(cut: Thread, aim: float, budget: Sequence[Contribution], samples: int,
          generator: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """The pitch diameter and the virtual size [mm] of every sample."""
    half = math.radians(cut.included_angle.m_as(U.deg)) / 2
    sign = 1.0 if cut.external else -1.0
    drawn = {on: kernel.draw([part.plain for part in budget if part.on in ons], samples, generator)
             for on, ons in (("size", tuple(ON_SIZE)), ("layer", ("layer",)), ("lead", ("lead",)),
                             ("virtual", ("virtual",)))}  # fmt: skip
    # A layer is never thinner than none.
    size = aim + drawn["size"] + sign * plating_factor(half, half) * np.maximum(drawn["layer"], 0.0)
    growth = lead_growth(drawn["lead"], half) + np.maximum(drawn["virtual"], 0.0)
    return size, size + sign * growth


def limit_sizes(cut: Thread, *, plated: bool) -> tuple[float, float]:
    """The go and the not-go limit [mm]; go at basic size for a plated thread whose class keeps an allowance for it."""
    limits = cut.limits.pitch_diameter
    low, high, basic = (float(size.m_as(U.mm)) for size in (limits.min, limits.max, cut.pitch_diameter))
    if cut.external:
        return (max(high, basic) if plated else high), low
    return (min(low, basic) if plated else low), high


def _budget(door: Door, value: Any, name: str) -> tuple[Contribution, ...]:
    return () if value is None else listed(door, value, name, (*ON_SIZE, *ON_THREAD))


def _aim(door: Door, value: Any, name: str, cut: Thread) -> float:
    middle, basic = (float(size.m_as(U.mm)) for size in (cut.limits.pitch_diameter.mid, cut.pitch_diameter))
    if value is None:
        return middle
    return door.number(value, name, "mm", least=0.9 * basic, most=1.1 * basic, example=f'{name}=Q_({middle:.3f}, "mm")')
