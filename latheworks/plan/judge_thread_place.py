"""Where a thread comes to be: whether its surface is there, whether the tool can run out, and how fast that may be."""

from __future__ import annotations

from typing import NamedTuple

from latheworks.plan.filled import THREAD_CAP
from latheworks.plan.job import Held, Job, radii
from latheworks.plan.outcome import Cut, Flaw
from latheworks.plan.shape import Shape
from latheworks.plan.wording import amount, mm, say

READY = 0.12  # pitches on the radius that a crest may stand proud: a truncation of H/8 and its tolerance
RUN_OUT = 1.0  # pitches beyond a thread that have to be free of material


class Form(NamedTuple):
    """What a thread's tool cuts [mm]: depth, flat at its point, tangent of the half angle, pitch, half angle [deg]."""

    depth: float
    flat: float
    tan: float
    pitch: float
    half: float


def thread_flaws(job: Job, held: Held, shape: Shape, cut: Cut, mine: Form, spindle: float) -> list[Flaw]:
    """What is wrong with the place and the pace of a thread."""
    return [*_ready(shape, cut, mine), *_run_out(held, shape, cut, mine), *_pace(job, cut, spindle)]


def _run_out(held: Held, shape: Shape, cut: Cut, mine: Form) -> list[Flaw]:
    """Material just beyond the end that a tool runs out at, nearer the jaws."""
    gap = RUN_OUT * mine.pitch
    low, high = (cut.start - gap, cut.start) if held.grips == "A" else (cut.end, cut.end + gap)
    low, high = max(low, shape.start), min(high, shape.end)
    if high - low < 0.1 * gap:
        return []
    narrow, wide = radii(shape, low, high, cut.inside)
    root = cut.after + (mine.depth if cut.inside else -mine.depth)
    stands = root - narrow if cut.inside else wide - root
    if stands <= 0.05:
        return []
    return [
        Flaw(
            "caution",
            "no room to run out",
            f"{cut.feature} ends against material",
            cut.feature,
            "the tool has to be drawn out in the very turn that it gets there",
            say("{} stand in its way", mm(stands, 2)),
            "a relief groove two or three pitches wide, and a slow spindle",
        )
    ]


def _pace(job: Job, cut: Cut, spindle: float) -> list[Flaw]:
    """A spindle faster than the carriage, or than a hand."""
    lead = job.leads[cut.feature or ""]
    most = job.lathe.rapid / lead
    if spindle > most + 1e-6:
        return [
            Flaw(
                "stop",
                "carriage too slow",
                f"the carriage does not follow {cut.feature}",
                cut.feature,
                say(
                    "at {} rev/min and a lead of {} it would have to make {}",
                    f"{spindle:.0f}",
                    mm(lead, 2),
                    amount("travel", spindle * lead),
                ),
                say("it makes {}", amount("travel", job.lathe.rapid)),
                f"at most {most:.0f} rev/min",
            )
        ]
    if spindle > THREAD_CAP + 1e-6:
        return [
            Flaw(
                "caution",
                "fast for threading",
                f"{cut.feature} is cut at {spindle:.0f} rev/min",
                cut.feature,
                "nobody opens the half-nuts or draws the tool out in time (a teaching cap, common practice)",
                f"{THREAD_CAP:.0f} rev/min are usual at most",
                "a slower spindle",
            )
        ]
    return []


def _ready(shape: Shape, cut: Cut, mine: Form) -> list[Flaw]:
    """A surface to thread that is not there yet, or was cut away too far."""
    low, high = radii(shape, cut.start + mine.pitch, cut.end - mine.pitch, cut.inside)
    size, slack = cut.after, READY * mine.pitch
    stands, gone = (size - low, high - size) if cut.inside else (high - size, size - low)
    if stands > slack:
        what = "the bore is not there yet" if cut.inside else "the outside is not turned yet"
        return [Flaw("stop", "surface not ready", f"{what} for {cut.feature}", cut.feature,
                     say("the thread's crest is {}, {} are there", mm(2 * size, 2),
                         mm(2 * (low if cut.inside else high), 2)),
                     say("{} on the radius", mm(stands, 2)), "bore or turn it to size first")]  # fmt: skip
    if gone > 2 * slack:
        return [Flaw("caution", "shallow thread", f"{cut.feature} has little of its flanks", cut.feature,
                     say("the thread's crest is {}, {} are there", mm(2 * size, 2),
                         mm(2 * (high if cut.inside else low), 2)),
                     f"{100 * gone / mine.depth:.0f} % of its depth is gone", "a size nearer the crest")]  # fmt: skip
    return []
