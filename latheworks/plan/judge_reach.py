"""Whether a tool gets where it has to: past jaws, shoulders and the center, without a sweep of its whole outline.

A right-hand tool has its body behind it, on the free side, and makes a square shoulder toward the chuck; a wall on its
free side it can only come down as steeply as its back clears. A left-hand tool is its mirror image.
"""

from __future__ import annotations

import math

from latheworks.passes.reach_tool import insert_angles
from latheworks.plan.job import Held, Job, PlainOperation, radii
from latheworks.plan.outcome import Cut, Flaw, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.tooling import ON_AXIS, PlainTool
from latheworks.plan.wording import mm, say

JAW_ROOM = {"right": 0.0, "neutral": 6.0, "left": 12.0}  # mm of body on the jaws' side of the edge, of a 12 mm shank
JAW_TALL = 25.0  # mm that jaws stand above what they hold: invented, of the size of a light chuck
WALL = 0.3  # mm on the radius: a lower one is cleared by the nose
REST_WIDE = 20.0  # mm that a steady rest takes along the work: invented, of the usual size
QUILL, NEAR = 20.0, 15.0  # mm: radius of a tailstock quill, and how close to the end it comes


def reach_flaws(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, taken: Taken) -> list[Flaw]:
    """What stands in a tool's way."""
    flaws: list[Flaw] = []
    if op.kind in ON_AXIS:
        return flaws
    for cut in taken.cuts:
        if cut.inside or op.kind in ("face", "part off"):
            continue
        flaws += _jaws(held, shape, op, tool, cut)
        if op.kind == "turn":
            flaws += _walls(held, taken.after, tool, cut)
        if held.supported:
            flaws += _center(held, shape, tool, cut)
    if op.kind == "part off" and held.supported:
        flaws.append(
            Flaw(
                "stop",
                "parted off on a center",
                "the part is parted off while a center holds it",
                None,
                "the part jams the blade as it comes free, and is thrown",
                "",
                "draw the center back, or leave a neck and saw it",
            )
        )
    return flaws


def _jaws(held: Held, shape: Shape, op: PlainOperation, tool: PlainTool, cut: Cut) -> list[Flaw]:
    """The body of a tool against the jaws."""
    if held.holding == "between centers":
        return []
    room = min(held.out(cut.start), held.out(cut.end))
    # A blade's body stands beside it as a right-hand tool's does.
    body = JAW_ROOM.get(tool.hand, 0.0) if tool.kind == "turning_tool" else 0.0
    if tool.kind == "threading_tool":
        body = 6.0
    grip = radii(shape, min(held.jaws, held.jaws - held.toward), max(held.jaws, held.jaws - held.toward), False)[1]
    above = grip + JAW_TALL - cut.after
    if room < body and above > tool.reach:
        return [Flaw("stop", "tool meets the jaws", f"{tool.name} runs into the jaws", cut.feature,
                     say("its body stands {} nearer to them than its edge, which comes to {}", mm(body), mm(room, 1)),
                     say("{}", mm(body - room, 1)), "stick the work out farther, or a right-hand tool")]  # fmt: skip
    if room < 3.0 and op.kind != "chamfer":
        return [Flaw("note", "close to the jaws", say("{} comes within {} of the jaws", tool.name, mm(room, 1)),
                     cut.feature, "a hand that is late by one turn is enough", say("{}", mm(room, 1)),
                     "set a stop for the carriage")]  # fmt: skip
    return []


def _walls(held: Held, after: Shape, tool: PlainTool, cut: Cut) -> list[Flaw]:
    """A shoulder on the side that a tool cannot make square."""
    free_side, chuck_side = _beside(held, after, cut)
    toward = tool.hand != "left"
    behind, ahead = (free_side, chuck_side) if toward else (chuck_side, free_side)
    back = _back_angle(tool)
    flaws = []
    if behind - cut.after > WALL and back < 89.0:
        high = behind - cut.after
        stands = high / math.tan(math.radians(max(back, 1.0)))
        flaws.append(
            Flaw(
                "stop",
                "shoulder behind the tool",
                f"{tool.name} does not come down behind the shoulder",
                cut.feature,
                say("its back clears {} degrees, the shoulder falls by {}", f"{back:.0f}", mm(high, 2)),
                say("{} stay uncut", mm(stands, 1)),
                "a tool of the other hand, or a grooving tool first",
            )
        )
    if ahead - cut.after > WALL and tool.entering < 89.9 and tool.insert != "R":
        flaws.append(
            Flaw(
                "caution",
                "shoulder not square",
                f"{tool.name} leaves a slope at the shoulder",
                cut.feature,
                f"its edge enters at {tool.entering:g} degrees",
                "",
                "a tool that enters at 90 degrees or more",
            )
        )
    return flaws


def _beside(held: Held, after: Shape, cut: Cut) -> tuple[float, float]:
    """The radius just beyond a cut on the free side and on the chuck's side [mm]; 0 where the work ends."""
    low = radii(after, cut.start - 0.5, cut.start, False)[1] if cut.start - 0.25 > after.start else 0.0
    high = radii(after, cut.end, cut.end + 0.5, False)[1] if cut.end + 0.25 < after.end else 0.0
    return (high, low) if held.grips == "A" else (low, high)


def _back_angle(tool: PlainTool) -> float:
    """The steepest fall behind the nose that a tool's back clears [deg]."""
    angle = insert_angles().get(tool.insert)
    return 90.0 if not angle else max(180.0 - tool.entering - angle, 0.0)


def _center(held: Held, shape: Shape, tool: PlainTool, cut: Cut) -> list[Flaw]:
    """A tool's shank against the quill, at a small diameter near the center."""
    end = shape.end if held.grips == "A" else shape.start
    if min(abs(cut.start - end), abs(cut.end - end)) > NEAR or cut.after + tool.reach > QUILL:
        return []
    short = QUILL - cut.after - tool.reach
    return [Flaw("caution", "tool near the quill", f"{tool.name} comes close to the tailstock", cut.feature,
                 say("a quill of {} stands above what is cut", mm(2 * QUILL, 0)), say("by {}", mm(short, 1)),
                 "a center with a long nose, or a tool that stands out farther")]  # fmt: skip


def rest_flaws(held: Held, shape: Shape, taken: Taken) -> list[Flaw]:
    """A steady rest on a surface that does not run true, or in the tool's way."""
    if held.rest is None:
        return []
    at = held.jaws + held.toward * held.rest
    flaws = []
    low, high = radii(shape, at - REST_WIDE / 2, at + REST_WIDE / 2, False)
    if high - low > 0.05:
        flaws.append(
            Flaw(
                "caution",
                "rest on a step",
                "the rest does not stand on one cylinder",
                None,
                "its jaws touch the highest place only",
                say("{}", mm(2 * low, 2, 2 * high)),
                "another place for the rest",
            )
        )
    for cut in taken.cuts:
        if not cut.inside and cut.start - REST_WIDE / 2 < at < cut.end + REST_WIDE / 2:
            flaws.append(
                Flaw(
                    "stop",
                    "tool meets the rest",
                    "the cut runs into the steady rest",
                    cut.feature,
                    say("the rest stands at {}", mm(at, 0)),
                    "",
                    "move the rest, or cut up to it only",
                )
            )
    return flaws
