"""What a cut asks of the spindle and of the jaws, as shares of what there is."""

from __future__ import annotations

import math
from functools import cache

from latheworks.deflection.grip import clamping_friction
from latheworks.deflection.grip_kernel import centrifugal, needed, permissible, required
from latheworks.plan.job import Held, Job, radii
from latheworks.plan.outcome import Flaw
from latheworks.plan.shape import Shape
from latheworks.plan.wording import amount, say

JAWS = 3
SAFETY = 1.5  # each of the two factors of VDI 3106
JAW_WIDE = 25.0  # mm of the work that jaws cover: invented, of the size of a light chuck
# Friction of the jaws, by a chuck maker's norm, and how other metals than steel multiply it.
_JAW_KIND = {"three-jaw chuck": "diamond", "four-jaw chuck": "diamond", "soft jaws": "smooth", "collet": "smooth"}
_METAL = (("alumin", 0.95), ("brass", 0.90), ("iron", 0.80))


@cache
def friction(holding: str, material: str) -> float:
    """The friction between jaws and a turned surface of this material."""
    share = next((factor for word, factor in _METAL if word in material), 1.0)
    return clamping_friction(_JAW_KIND.get(holding, "smooth"), "machined") * share


def gripped(held: Held, shape: Shape) -> tuple[float, float]:
    """The stretch of the work that lies under the jaws, from smaller to larger z; empty where there is none."""
    if held.grips == "A":
        return max(shape.start, held.jaws - JAW_WIDE), held.jaws
    return held.jaws, min(shape.end, held.jaws + JAW_WIDE)


def grip_diameter(held: Held, shape: Shape) -> float:
    """The diameter that the jaws close on [mm]; 0 where they close on nothing."""
    start, end = gripped(held, shape)
    return 2 * radii(shape, start, end, False)[1] if end - start > 0.01 else 0.0


def torque_there(job: Job, spindle: float) -> float:
    """The torque at the work at a speed [N mm]."""
    return 1000.0 * job.lathe.watts / (2.0 * math.pi * max(spindle, job.lathe.base) / 60.0)


def shares(job: Job, held: Held, shape: Shape, torque: float, axial: float,
           spindle: float) -> tuple[float, float, float, list[Flaw]]:  # fmt: skip
    """Shares of power, torque and grip that a torque [N mm] and a push along the axis [N] use, and what is too much."""
    flaws: list[Flaw] = []
    watts = torque / 1000.0 * 2.0 * math.pi * spindle / 60.0
    power = watts / job.lathe.watts
    slow = torque / (1000.0 * job.lathe.watts / (2.0 * math.pi * job.lathe.base / 60.0))
    if max(power, slow) > 1.0:
        word = "torque" if spindle < job.lathe.base else "power"
        there = amount("torque", torque_there(job, spindle), 1)
        need = say("{} of {} at {} rev/min", amount("torque", torque, 1), there, f"{spindle:.0f}")
        flaws.append(
            Flaw(
                "stop",
                "spindle too weak",
                f"the cut asks for more {word} than the spindle gives",
                None,
                "the spindle stalls in the cut",
                need,
                "less depth or feed, or a smaller diameter first",
            )
        )
    if held.holding == "between centers":
        return power, slow, 0.0, flaws
    across = grip_diameter(held, shape)
    if across <= 0.0:
        return power, slow, 0.0, flaws
    flung = centrifugal(JAWS, job.lathe.jaw_mass, job.lathe.jaw_radius, spindle)
    along = 0.0 if held.stop else axial
    hold = SAFETY * needed(2.0 * torque / across, along, friction(held.holding, job.part.stuff.name))
    if held.holding == "collet":
        flung = 0.0  # a collet has no jaws to be flung
    asked = required(hold, flung, False, SAFETY)
    grip = asked / held.jaw_force
    if grip > 1.0:
        moment = JAWS * job.lathe.jaw_mass * job.lathe.jaw_radius / 1000.0
        safe = permissible(held.jaw_force, hold, SAFETY, moment)
        slower = f"at most {safe:.0f} rev/min"
        helps = slower if safe > job.lathe.slowest else "a stop behind the work, less depth or feed"
        flaws.append(
            Flaw(
                "stop",
                "grip too weak",
                "the jaws do not hold this cut",
                None,
                "the work would turn or slip in the jaws, with both safety factors of 1.5 counted",
                say("{} asked at rest, {} there", amount("force", asked), amount("force", held.jaw_force)),
                helps,
            )
        )
    return power, slow, grip, flaws


def spindle_flaws(job: Job, held: Held, spindle: float) -> list[Flaw]:
    """A speed that the lathe does not have, or that leaves the jaws too little."""
    flaws = []
    if spindle > job.lathe.fastest + 1e-6 or spindle < job.lathe.slowest - 1e-6:
        fast = spindle > job.lathe.fastest
        bound = job.lathe.fastest if fast else job.lathe.slowest
        flaws.append(
            Flaw(
                "stop",
                "spindle too fast" if fast else "spindle too slow",
                f"{spindle:.0f} rev/min is not a speed of this lathe",
                None,
                f"its {'fastest' if fast else 'slowest'} is {bound:.0f} rev/min",
                f"{abs(spindle - bound):.0f} rev/min off",
                f"{bound:.0f} rev/min",
            )
        )
    if held.holding not in ("between centers", "collet"):
        moment = JAWS * job.lathe.jaw_mass * job.lathe.jaw_radius / 1000.0
        safe = permissible(held.jaw_force, 0.0, SAFETY, moment)
        if spindle > safe:
            flaws.append(
                Flaw(
                    "stop",
                    "spindle too fast",
                    "the jaws open too far at this speed",
                    None,
                    "the jaws are flung outward with the square of the speed, and half of the grip is gone",
                    f"{spindle:.0f} rev/min, {safe:.0f} at most",
                    "a slower spindle",
                )
            )
    return flaws
