"""A roughing plan of the barrel, and of a curve of many points.

python -m tests.benchmarks.passes_speed
"""

import numpy as np

from latheworks.deflection import ChuckAndCenter, grip
from latheworks.passes import Groove, Profile, turning_passes
from latheworks.units import Q_, U
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


if __name__ == "__main__":
    main()
