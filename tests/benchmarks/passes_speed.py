"""A roughing plan of the barrel, and of a curve of many points; and one step of a slider on the benches of the passes.

python -m tests.benchmarks.passes_speed
"""

import itertools
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from latheworks.deflection import ChuckAndCenter, grip
from latheworks.passes import Groove, Profile, turning_passes
from latheworks.units import Q_, U
from latheworks.widgets import facing_bench, passes_bench
from tests.benchmarks.deflection_speed import median

FEED, SPEED = Q_(0.15, "mm/rev"), Q_(90, "m/min")
OUTLINE = [(20, 31), (60, 31), (60, 28), (180, 30), (180, 25), (248, 25), (250, 23)]
CURVE = 2_000


def main() -> None:
    """Measure each plan."""
    points = [(Q_(z, U.mm), Q_(d, U.mm)) for z, d in OUTLINE]
    held = grip(Q_(12, "kN"), Q_(34, "mm"), Q_(800, "rpm"), jaw_mass=Q_(0.8, "kg"), jaw_radius=Q_(45, "mm"))
    limits = {"held": held, "holding": ChuckAndCenter(), "other_diameter": Q_(15, "mm")}
    grooves = Groove(Q_(190, "mm"), Q_(3, "mm"), Q_(22, "mm"), 6, Q_(8, "mm"))
    barrel = Profile(points, stock=Q_(34, "mm"), grooves=grooves)
    z = np.linspace(20.0, 250.0, CURVE)
    curve = Profile.along(Q_(z, U.mm), Q_(26 + 3 * np.sin(z / 30), U.mm), stock=Q_(34, "mm"))

    def plan(what: object, **more: object) -> object:
        return turning_passes(what, "6061", FEED, surface_speed=SPEED, **limits, **more)

    print(f"stepped and tapered barrel: {plan(points, stock=Q_(34, 'mm')).title()}")
    for name, run in {
        "the barrel, from a plain list": lambda: plan(points, stock=Q_(34, "mm")),
        "the barrel with six grip grooves": lambda: plan(barrel),
        f"a curve of {CURVE} points": lambda: plan(curve),
    }.items():
        print(f"  turning_passes(), {name:<36} {median(run, 50):8.3f} ms   (limit 10 ms)")
    for bench, control, places in (
        (passes_bench(), "shown", (1, 2, 3, 4, 5, 6)), (passes_bench(), "speed", tuple(range(60, 160, 5))),
        (facing_bench(), "at", tuple(range(8, 28))),
    ):  # fmt: skip
        at = itertools.cycle(places)
        print(f"  {bench.kind} bench, a step of {control!r:<30} {median(step(bench, control, at), 50):8.3f} ms")


def step(bench: Any, control: str, at: Iterator[int]) -> Callable[[], None]:
    """From a value that the page sends to the picture as it would go back, in the kernel alone."""

    def run() -> None:
        bench.controls[control].slider.value = next(at)

    return run


if __name__ == "__main__":
    main()
