"""The size error at 200 tool positions and in 5 passes, and of a thread.

python -m tests.benchmarks.size_error_speed
"""

import numpy as np

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, size_error, thread_size_error
from latheworks.threads import infeed
from latheworks.units import Q_, U
from tests.benchmarks.deflection_speed import POSITIONS, median

SPRING_PASSES = 4


def main() -> None:
    """Measure each holding, and the thread."""
    barrel = Shaft.bar(Q_(200, "mm"), Q_(32, "mm"), Q_(20, "mm"), "6061-T6")
    at = Q_(np.linspace(1.0, 200.0, POSITIONS), U.mm)
    depth, feed, edge = Q_(0.5, U.mm), Q_(0.1, U.mm_per_rev), Q_(1.0, U.N)
    rest = (Q_(100, "mm"), Q_(20_000, "N/mm"))
    print(f"{POSITIONS} tool positions, the cut and {SPRING_PASSES} spring passes, median of several runs")
    for holding in (Chuck(), ChuckAndCenter(), BetweenCenters(), ChuckAndCenter(rest=rest)):
        name = holding.title().lower() + (" and a rest" if holding.rest else "")

        def cut(holding: Chuck | ChuckAndCenter | BetweenCenters = holding) -> object:
            return size_error(barrel, holding, depth, feed, at, spring_passes=SPRING_PASSES, edge_force=edge)

        print(f"  size_error(), {name:<36} {median(cut, 200):8.3f} ms   (limit 2 ms)")
    plan = infeed("M32x1.5-6g", 8, length=Q_(40, "mm"), spring_passes=2)
    places = Q_(np.linspace(160.0, 200.0, POSITIONS), U.mm)
    thread = median(lambda: thread_size_error(plan, barrel, Chuck(), places), 100)
    print(f"  thread_size_error(), 10 passes, in a chuck          {thread:8.3f} ms")


if __name__ == "__main__":
    main()
