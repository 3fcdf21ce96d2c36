"""How the work is held in a setup: grip, center, rest, length, thin walls, buckling."""

from __future__ import annotations

import math

from latheworks.deflection.jaw_squeeze import LEAST_BORE, lobes
from latheworks.deflection.moving_kernel import euler_load
from latheworks.plan.bending import beam_of, springs
from latheworks.plan.job import Held, Job, radii
from latheworks.plan.loads import JAW_WIDE, JAWS, grip_diameter, gripped
from latheworks.plan.outcome import Flaw
from latheworks.plan.shape import Shape
from latheworks.plan.wording import amount, mm, say

CENTER_SIZE = 10.0  # mm: a larger bore wants a cone or a plug; a 60 degree center of a light tailstock goes to so much
CONE_SIZE = 60.0  # mm: the largest bore that a cone center takes
USUAL_GRIP, LEAST_GRIP = 0.8, 5.0  # diameters; mm: common practice
SLENDER, VERY_SLENDER = 4.0, 6.0  # stickout in diameters with nothing at the free end: rules of thumb
PRESSED = 0.1  # mm out of round, from where on a wall may stay bent: common practice
HARD_PUSH = 5000.0  # N of a bar that warms between chuck and a hard center: invented, of the usual size
HELD_BOTH = 12.0  # diameters between chuck and center: rule of thumb


def holding_flaws(job: Job, held: Held, shape: Shape) -> list[Flaw]:
    """What is wrong with the way the work is held at the start of a setup."""
    flaws: list[Flaw] = []
    between = held.holding == "between centers"
    if not between:
        flaws += _grip(job, held, shape)
    flaws += _center(held, shape, between)
    flaws += _length(job, held, shape)
    if any(one.level == "stop" for one in flaws):
        return flaws
    return [*flaws, *_slender(job, held, shape), *_wall(job, held, shape)]


def _grip(job: Job, held: Held, shape: Shape) -> list[Flaw]:
    """Enough in the jaws, on a surface that they can hold, and a spindle that takes the rest."""
    inside = shape.length - held.stickout
    across = grip_diameter(held, shape)
    if inside < LEAST_GRIP or across <= 0.0:
        return [Flaw("stop", "nothing in the jaws", say("{} are in the jaws", mm(max(inside, 0.0), 1)), None,
                     say("the work is {} long and sticks out {}", mm(shape.length, 1), mm(held.stickout, 1)),
                     say("{} short of the least", mm(LEAST_GRIP - inside, 1)), "a shorter stickout")]  # fmt: skip
    flaws = []
    if inside < USUAL_GRIP * across:
        flaws.append(
            Flaw(
                "caution",
                "short grip",
                say("only {} are in the jaws", mm(inside, 1)),
                None,
                f"{USUAL_GRIP:g} of the diameter are usual, common practice",
                say("{}", mm(inside, 1, USUAL_GRIP * across, "of")),
                "a shorter stickout, or a center",
            )
        )
    low, high = radii(shape, *gripped(held, shape), False)
    if high - low > 0.1:
        flaws.append(
            Flaw(
                "caution",
                "jaws on steps",
                "the jaws close on a surface that is not one cylinder",
                None,
                "they touch its highest place only, and the work can tilt",
                say("{}", mm(2 * low, 1, 2 * high)),
                "another place, or jaws bored to the shape",
            )
        )
    if inside > 60.0 and across > job.lathe.hole:
        flaws.append(
            Flaw(
                "stop",
                "spindle too narrow",
                "the work does not go into the spindle",
                None,
                say("it is {} across, the hole {}", mm(across, 1), mm(job.lathe.hole, 1)),
                say("{}", mm(across - job.lathe.hole, 1)),
                "a shorter bar, or a steady rest",
            )
        )
    start, end = gripped(held, shape)
    for feature in job.features.values():
        if feature.kind == "thread" and not feature.inside and feature.start < end and feature.end > start:
            deep = radii(shape, feature.start, feature.end, False)[1]
            if deep <= feature.diameter / 2 + 1e-6:
                flaws.append(
                    Flaw(
                        "caution",
                        "jaws on a thread",
                        "the jaws close on a thread",
                        feature.name,
                        "hard jaws crush its crests",
                        "",
                        "a split nut, soft jaws or copper strips",
                    )
                )
    return flaws


def _mouth(held: Held, shape: Shape, at_grip: bool = False) -> tuple[float, bool]:
    """The bore at the free (or the held) end [mm], and whether it opens as a cone there."""
    at_end = (held.grips == "A") != at_grip
    first = shape.inner[-1][::-1] if at_end else shape.inner[0]
    return 2.0 * float(first[0]), bool(first[0] > first[1] + 1e-6)


def _center(held: Held, shape: Shape, between: bool) -> list[Flaw]:
    """A center needs a hole, a cone or a plug to sit in; the tailstock and its quill locked."""
    if not held.supported:
        return []
    flaws = []
    for at_grip in (False, True) if between else (False,):
        mouth, cone = _mouth(held, shape, at_grip)
        end = {"A": "B", "B": "A"}[held.grips] if not at_grip else held.grips
        if mouth <= 0.0:
            flaws.append(
                Flaw(
                    "stop",
                    "center has no hole",
                    f"end {end} has no hole for a center",
                    None,
                    "a center needs a center hole, or a bore with a cone or a plug",
                    "",
                    "face and center drill that end in an earlier setup",
                )
            )
        elif mouth > CENTER_SIZE and held.support in ("center", "none"):
            flaws.append(
                Flaw(
                    "stop",
                    "center needs a cone or a plug",
                    f"a center falls into the bore of end {end}",
                    None,
                    "a plain center touches nothing in a wide bore, or its sharp edge only",
                    say("{}, up to {} will do", mm(mouth, 1), mm(CENTER_SIZE)),
                    'support="cone center"',
                )
            )
        elif held.support == "plug and center" and cone and mouth <= CENTER_SIZE:
            flaws.append(
                Flaw(
                    "note",
                    "plug not needed",
                    f"end {end} has a center hole",
                    None,
                    "a center goes in without a plug",
                    "",
                    'support="center"',
                )
            )
        elif held.support == "cone center" and mouth > CONE_SIZE:
            flaws.append(
                Flaw(
                    "stop",
                    "cone too small",
                    f"the bore of end {end} is wider than a cone center",
                    None,
                    say("cones go to about {}", mm(CONE_SIZE, 0)),
                    say("{}", mm(mouth, 1)),
                    "a plug",
                )
            )
    for name, locked in (("tailstock", held.tailstock_locked), ("quill", held.quill_locked)):
        if not locked:
            flaws.append(
                Flaw(
                    "stop",
                    f"{name} not locked",
                    f"the plan does not say that the {name} is locked",
                    None,
                    "a center that slides back lets the work fly",
                    "",
                    f"{name}_locked=True",
                )
            )
    return flaws


def _length(job: Job, held: Held, shape: Shape) -> list[Flaw]:
    if not held.supported or held.stickout <= job.lathe.centers:
        return []
    return [Flaw("stop", "lathe too short", "the work does not fit before the tailstock", None,
                 say("{} are between centers", mm(job.lathe.centers, 0)), say("{} are asked", mm(held.stickout, 0)),
                 "a longer lathe")]  # fmt: skip


def _slender(job: Job, held: Held, shape: Shape) -> list[Flaw]:
    """Rules of thumb for a slender stickout, and the load that it buckles at."""
    start, end = (held.jaws, shape.end) if held.grips == "A" else (shape.start, held.jaws)
    across = 2 * radii(shape, start, end, False)[1]
    if across <= 0.0:
        return []
    ratio = held.stickout / across
    most = HELD_BOTH if held.supported or held.rest is not None else SLENDER
    if ratio <= most:
        return []
    level = "caution" if ratio > (HELD_BOTH if held.supported else VERY_SLENDER) else "note"
    helps = "a steady rest" if held.supported else "a center, a rest, or deeper in the jaws"
    flaws = [Flaw(level, "slender work", f"it sticks out {ratio:.1f} diameters", None,
                  f"rules of thumb end at about {most:g}; the bending worked out stands with each size",
                  say("{} out, {} across", mm(held.stickout, 0), mm(across, 1)), helps)]  # fmt: skip
    beam = beam_of(job, held, shape)
    if held.supported and beam is not None:
        push = euler_load(springs(held, beam.length), beam)
        if push < HARD_PUSH:
            flaws.append(
                Flaw(
                    "caution",
                    "buckles on the center",
                    "a hard center bends the work",
                    None,
                    say("a bar that warms between its ends can push with {}", amount("force", HARD_PUSH)),
                    say("it buckles at {}", amount("force", push)),
                    "ease the center as the work warms, or a live center",
                )
            )
    return flaws


def squeeze(job: Job, held: Held, shape: Shape) -> float:
    """How far out of round a bore springs that was turned in these jaws [mm on the radius]; 0 for a thick wall."""
    if held.holding in ("between centers", "collet"):
        return 0.0
    start, end = gripped(held, shape)
    if end - start < 1.0:
        return 0.0
    outside, bore = 2 * radii(shape, start, end, False)[0], 2 * radii(shape, start, end, True)[1]
    wall, mean = (outside - bore) / 2, (outside + bore) / 4
    if outside <= 0.0 or bore < LEAST_BORE * outside or wall <= 0.0:
        return 0.0
    # Soft jaws bored to size touch all round: about a fifth is left (common practice, no source).
    share = 0.2 if held.holding == "soft jaws" else 1.0
    force = held.jaw_force / JAWS * share
    scale = force * mean**3 / (job.modulus * min(JAW_WIDE, end - start) * wall**3 / 12)
    return float(scale * sum(lobes(JAWS)))


def _wall(job: Job, held: Held, shape: Shape) -> list[Flaw]:
    """Jaws on a thin wall."""
    out = squeeze(job, held, shape)
    if out < 0.01 or not math.isfinite(out):
        return []
    level = "caution" if out > PRESSED else "note"
    return [Flaw(level, "jaws on a thin wall", "the jaws press the wall out of round", None,
                 "what is bored here comes out with lobes, and a wall pressed too far stays bent",
                 say("{} out of round", mm(out, 3)),
                 "less jaw force, soft jaws, a plug inside, or grip where it is solid")]  # fmt: skip
