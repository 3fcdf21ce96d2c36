"""How long 100,000 samples of a fit and of a budget take.

python -m tests.benchmarks.budget_speed
"""

import statistics
import time
from collections.abc import Callable
from typing import Any

from latheworks.budget import Contribution, error_budget, error_source, error_sources, fit_chance
from latheworks.threads import thread
from latheworks.units import Q_

ROUNDS = 15


def median(call: Callable[[], Any]) -> float:
    """The median of some rounds [s]."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Measure and print."""
    typical = [error_source(name) for name in error_sources()]
    lead = Contribution("lead", spread=Q_(0.01, "mm"), on="lead")
    layer = Contribution("layer", Q_(0.006, "mm"), Q_(0.002, "mm"), "uniform", "layer")
    screw = thread("M16x1.5-6g")
    limits = screw.limits.pitch_diameter
    fit = median(lambda: fit_chance(screw, None, [*typical, lead, layer], [*typical, lead]))
    short = median(lambda: fit_chance(screw, None, typical[:6], typical[:6]))
    budget = median(lambda: error_budget(typical, limits))
    print(f"fit of 2 x {len(typical)} contributions, lead and layer  {1000 * fit:8.1f} ms  (limit 500 ms)")
    print(f"fit of 2 x 6 contributions                   {1000 * short:8.1f} ms")
    print(f"budget of {len(typical)} contributions                  {1000 * budget:8.1f} ms")


if __name__ == "__main__":
    main()
