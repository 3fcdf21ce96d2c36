"""Deflection under 200 tool positions, beside a frame solver doing the same work.

python -m tests.benchmarks.deflection_speed
"""

import statistics
import time
from collections.abc import Callable

import numpy as np

from latheworks.deflection import ChuckAndCenter, Shaft, deflection
from latheworks.units import Q_, U
from tests.deflection_models import Case, frame

POSITIONS = 200
FORCE = 150.0
CASE = Case(
    "ten hollow steps, compliant chuck and center",
    tuple((20.0, 40.0 - 2.0 * i, 10.0) for i in range(10)),
    {"tilt": 1e8, "radial": 5e4, "center": 3e4},
)


def median(work: Callable[[], object], times: int) -> float:
    """The median time of a call, in milliseconds, after one call to warm up."""
    work()
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(1e3 * (time.perf_counter() - start))
    return statistics.median(taken)


def main() -> None:
    """Measure both in one run and print both."""
    at = np.linspace(0.0, CASE.length, POSITIONS)
    push, places = Q_(FORCE, U.N), Q_(at, U.mm)

    def build() -> tuple[Shaft, ChuckAndCenter]:
        shaft = Shaft([tuple(Q_(size, U.mm) for size in s) for s in CASE.sections], Q_(CASE.modulus, U.MPa))
        give = CASE.holding
        return shaft, ChuckAndCenter(
            tilt=Q_(give["tilt"], U.Nmm_per_rad), radial=Q_(give["radial"], U.N_per_mm),
            center=Q_(give["center"], U.N_per_mm),
        )  # fmt: skip

    shaft, holding = build()
    one = median(lambda: deflection(shaft, holding, push, places), 300)
    whole = median(lambda: deflection(*build(), push, places), 100)
    kernel = median(lambda: holding.flexibility(shaft.beam)(at, at), 300)
    # The frame solver's quickest route of those tried: a small model per position, not one model with 200 loads.
    frame_once = median(lambda: [frame(CASE, FORCE, at[i : i + 1]) for i in range(POSITIONS)], 3)
    ours, theirs = deflection(shaft, holding, push, places).m_as(U.mm), frame(CASE, FORCE, at)
    apart = float(np.max(np.abs(ours / theirs - 1)))
    print(f"{CASE.name}: {POSITIONS} tool positions, median of several runs")
    print(f"  kernel alone                          {kernel:10.3f} ms")
    print(f"  deflection(), units in and out        {one:10.3f} ms   (limit 1 ms)")
    print(f"  the same, shaft and holding built too {whole:10.3f} ms")
    print(f"  frame solver, one model a position    {frame_once:10.1f} ms")
    print(f"  deflection() is {frame_once / one:,.0f} times faster; the two differ by {apart:.1e} at most")


if __name__ == "__main__":
    main()
