"""What a tool reaches of a profile of 2,000 points, and of a barrel with grooves.

python -m tests.benchmarks.reach_speed
"""

import numpy as np

from latheworks.passes import Groove, Profile, TurningTool, groove_passes, reach, split
from latheworks.units import Q_
from tests.benchmarks.deflection_speed import median


def mm(value: float) -> object:
    """A size."""
    return Q_(value, "mm")


def main() -> None:
    """Measure and print."""
    z = np.linspace(0.0, 200.0, 2000)
    curve = Profile.along(Q_(z, "mm"), Q_(40 + 6 * np.sin(z / 7) + 2 * np.sin(z / 2.3), "mm"))
    barrel = Profile([(mm(0), mm(32)), (mm(250), mm(32))], stock=mm(35),
                     grooves=Groove(mm(190), mm(3), mm(29), 5, mm(8), mm(0.2)))  # fmt: skip
    turn = TurningTool("D", Q_(93, "degree"), mm(0.4))
    blade = TurningTool(blade_width=mm(3), nose_radius=mm(0.2))
    tools = {"55 degree insert": turn, "blade with round corners": blade, "round, 6 mm": TurningTool("R")}
    for name, tool in tools.items():
        print(f"2,000 points, {name:<26} {median(lambda tool=tool: reach(curve, tool), 50):7.2f} ms  (limit 10 ms)")
    for name, tool in tools.items():
        print(f"barrel, {name:<32} {median(lambda tool=tool: reach(barrel, tool), 50):7.2f} ms")
    feeds, depths, speed = Q_([0.2, 0.05], "mm/rev"), Q_([1.0, 3.0], "mm"), Q_(100, "m/min")
    shared = median(lambda: split(barrel, [turn, blade], speed, feeds, depths), 20)
    print(f"split() of the barrel between two tools  {shared:7.2f} ms")
    groove = Groove(mm(190), mm(5), mm(29), 5, mm(9), mm(0.2))
    print(f"groove_passes()                          "
          f"{median(lambda: groove_passes(groove, mm(32), blade, '6061', speed), 100):7.2f} ms")  # fmt: skip


if __name__ == "__main__":
    main()
