"""The ends of the workpiece, carried: faced, cut off, kept free for a tool; and what is cut away too far."""

from __future__ import annotations

import numpy as np

from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import SAME, Held, Job, PlainOperation, radii
from latheworks.plan.outcome import Cut, Flaw, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.wording import mm, say

SPARE = 0.2  # mm on the radius that may be cut away beyond the size aimed at before it is called over-cut
JAW_GAP = 2.0  # mm that an outside tool keeps from the jaws: common practice


def end_is_free(held: Held, what: str) -> list[Flaw]:
    """A flaw where a center stands in the way of work at the free end."""
    if not held.supported:
        return []
    return [Flaw("stop", "center in the way", f"{what} cannot get at the end", None, "the center stands there", "",
                 "do it before the center is brought up, or in a setup without one")]  # fmt: skip


def faced(job: Job, held: Held, shape: Shape, op: PlainOperation, wanted: list[PlainFeature],
          flaws: list[Flaw]) -> Taken:  # fmt: skip
    """The free end cut back to a face, or the part cut off there."""
    cuts, made = [], []
    free_end = "B" if held.grips == "A" else "A"
    for feature in wanted:
        place = feature.start
        side = "A" if place < job.length / 2 else "B"
        if min(place, job.length - place) > SAME and op.kind == "face":
            flaws.append(Flaw("stop", "wrong kind of operation", f"face does not make {feature.name}", feature.name,
                              "it is a shoulder inside the part: facing there would cut the end off", "",
                              "turn the diameter up to it"))  # fmt: skip
            continue
        radius = radii(shape, place - 1.0, place + 1.0, False)[1]
        bore = radii(shape, place - 1.0, place + 1.0, True)[0]
        if op.kind == "part off":
            if held.out(place) < JAW_GAP:
                flaws.append(_behind(feature.name, held))
                continue
            cuts.append(Cut(feature.name, place, place, radius, bore, False))
            shape = shape.faced(place, held.grips)
            made.append(feature.name)
            continue
        if side != free_end or held.out(place) < 0.0:
            flaws.append(_behind(feature.name, held))
            continue
        flaws += end_is_free(held, "a facing tool")
        target = place + (op.leave if side == "B" else -op.leave)
        start, end = (target, shape.end) if side == "B" else (shape.start, target)
        radius = radii(shape, start, end, False)[1] if end > start else 0.0
        cuts.append(Cut(feature.name, start, max(end, start), radius, bore, False))
        shape = shape.faced(target, side)
        if op.leave <= SAME:
            made.append(feature.name)
    return Taken(shape, tuple(cuts), tuple(made), (), (*flaws, *over_cut(job, shape)))


def _behind(name: str, held: Held) -> Flaw:
    return Flaw("stop", "out of reach", f"{name} cannot be cut in this setup", name,
                say("it lies at the held end; the jaws' face is at {}", mm(held.jaws, 1)), "",
                "cut it in a setup that holds the other end")  # fmt: skip


def over_cut(job: Job, shape: Shape) -> list[Flaw]:
    """Where more has been cut away than the part can spare: below every feature that comes to lie there."""
    flaws = []
    part = job.spared
    low, high = max(shape.start, part.start), min(shape.end, part.end)
    if high - low > SAME:
        places = np.unique(np.round(np.concatenate([shape.z, part.z]), 6))
        z = np.concatenate(([low], places[(places > low + SAME) & (places < high - SAME)], [high]))
        outside = part.between(z, part.outer) - shape.between(z, shape.outer)
        inside = shape.between(z, shape.inner) - part.between(z, part.inner)
        for word, gap in (("outside", outside), ("inside", inside)):
            worst = float(gap.max(initial=0.0))
            if worst > SPARE:
                at = float(z[int(gap.max(axis=1).argmax())])
                flaws.append(
                    Flaw(
                        "stop",
                        "over-cut",
                        say("the {} is cut away at {}", word, mm(at, 1)),
                        None,
                        "the part has material there",
                        say("{} too deep on the radius", mm(worst, 2)),
                        "another tool, a smaller depth, or another place",
                    )
                )
    if shape.length < part.length - 0.5:
        flaws.append(
            Flaw(
                "stop",
                "over-cut",
                "the workpiece is shorter than the part",
                None,
                "an end was cut off that the part needs",
                say("{} short", mm(part.length - shape.length, 1)),
                "face to the part's own ends",
            )
        )
    return flaws
