"""The steps of a hole, each worked out from a tool on the rack, on a lathe, in a material."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from latheworks.cutting.power import spindle_curve
from latheworks.drilling import kernel
from latheworks.drilling.feeds import plain_feed
from latheworks.drilling.hole_result import HoleStep, torque_span
from latheworks.drilling.load import forms
from latheworks.drilling.load_result import newton_span
from latheworks.drilling.pecking import peck_steps
from latheworks.drilling.plain_shop import plain_lathe, plain_tool
from latheworks.materials import Material
from latheworks.shop import Lathe, Tool
from latheworks.units import Q_, U

# Common practice, no source: winding the quill back and forth, clearing the flutes, setting the tailstock anew, taking
# another tool, and turning the part round and setting it true. What must stay of the flutes outside for the chips.
QUILL_SPEED, CLEARING, SETTING, TOOL_CHANGE, TURN_ROUND = 600.0, 5.0, 30.0, 40.0, 300.0
FLUTES_OUT = 1.0  # diameters
OVERRUN = 1.0  # mm beyond a through hole
APPROACH = 1.0  # mm before the drill touches
LEAST_SHARE = 0.25  # of the printed feed: below it a drill rubs
SPARE = 0.9  # of the torque that the spindle has


@dataclass(frozen=True, slots=True)
class Job:
    """What all steps share: material with its kc1.1 and mc, its drilling row, the lathe, wear."""

    material: Material
    pair: tuple[float, float]
    row: Mapping[str, str]
    machine: Lathe
    wear: float


def spare_reach(tool: Tool) -> float:
    """How deep a drill's point goes while the chips still get out of the flutes [mm]."""
    own = plain_tool(tool)
    return own.reach - FLUTES_OUT * own.diameter


def tip(tool: Tool) -> float:
    """The length of a drill's point [mm]."""
    return plain_tool(tool).tip


def drill_step(job: Job, does: str, end: int, tool: Tool, travel: float, pilot: float = 0.0) -> HoleStep:
    """One drill, worked out: speed and feed that the spindle bears, pecks, load, settings of the quill, time."""
    own, machine, limits = plain_tool(tool), plain_lathe(job.machine), []
    d = own.diameter
    feed, speed = plain_feed(job.row, d, travel)
    wanted = 1000.0 * speed / (np.pi * d)
    turns = min(max(wanted, machine.slowest), machine.fastest)
    if turns != wanted:
        word = "fastest" if wanted > machine.fastest else "slowest"
        limits.append(f"spindle: {tool.name} wants {wanted:.0f} rev/min, the lathe's {word} is {turns:.0f}")
    given, base = spindle_curve(job.machine, turns)
    given = float(given)
    kd = [float(job.row[f"{what} Kd"]) for what in ("torque", "thrust")]
    hard = float(job.row["hardness [HB]"])
    chisel = kernel.STANDARD_CHISEL
    q = pilot / d if pilot >= chisel * d else 0.0

    def load(f: float) -> tuple[np.ndarray, np.ndarray]:
        thrusts, torques, _ = forms(kd, job.pair, hard, d, f, own.point_angle, chisel, q, job.wear)
        return thrusts, torques

    thrusts, torques = load(feed)
    needs, fast = float(torques.max()), turns
    if needs > SPARE * given:
        # Down to the base spindle the motor gives the more torque the slower it turns; the chip may stay as thick.
        turns = max(turns * SPARE * given / needs, min(base, turns), machine.slowest)
        says = f"torque: {tool.name} takes {needs:.1f} N m at {feed:.3f} mm/rev, the spindle gives {given:.1f}"
        if turns < fast:
            says += f" at {fast:.0f} rev/min; slowed to {turns:.0f}"
            given = float(spindle_curve(job.machine, turns)[0])
        if needs > SPARE * given * (1 + 1e-9):
            # No form's torque falls slower with the feed than f^0.7, so this much less feed is enough by all.
            feed *= max((SPARE * given / needs) ** (1.0 / 0.7), LEAST_SHARE)
            says += f"; feed eased to {feed:.3f}"
            thrusts, torques = load(feed)
        limits.insert(0, says)
        if torques.max() > given:
            limits.insert(
                0, f"torque: even so {torques.max():.1f} N m of {given:.1f}: bore instead, or a smaller drill"
            )
    steps = peck_steps(d, travel)
    settings = int(np.ceil((travel + APPROACH) / machine.quill - 1e-9))
    if settings > 1:
        limits.append(
            f"quill: {machine.quill:.0f} mm of travel for {travel:.0f} mm: set the tailstock {settings} times"
        )
    minutes = kernel.peck_time(steps, feed * turns, QUILL_SPEED, CLEARING / 60.0) + APPROACH / (feed * turns)
    seconds = 60.0 * minutes + SETTING * (settings - 1) + TOOL_CHANGE
    return HoleStep(does, end, tool, Q_(turns, U.rpm), Q_(feed, U.mm_per_rev), Q_(travel, U.mm), Q_(steps, U.mm),
                    newton_span(thrusts), torque_span(torques), settings, Q_(seconds, U.s), tuple(limits))  # fmt: skip
