"""What is wrong with the order of a plan: things that no number of one operation shows."""

from __future__ import annotations

from latheworks.plan.feature import PlainFeature
from latheworks.plan.loads import gripped
from latheworks.plan.outcome import Flaw
from latheworks.plan.walk import Step, Walk
from latheworks.plan.wording import amount, mm, say

HARD = ("three-jaw chuck", "four-jaw chuck")
Placed = tuple[tuple[int, int | None] | None, Flaw]  # (setup, operation) as indices from 0, and the flaw


def order_flaws(found: Walk) -> list[Placed]:
    """Flaws of the whole plan, each with the operation that it is about."""
    return [*_unmade(found), *_around_threads(found), *_gaging(found), *_rechucked(found), *_cut_off(found),
            *_lengths(found), *_halves(found), *_marked(found)]  # fmt: skip


def _at(step: Step) -> tuple[int, int]:
    return step.setup, step.number


def _index(found: Walk) -> dict[str, list[int]]:
    """Which steps work on each feature, in order."""
    where: dict[str, list[int]] = {}
    for i, step in enumerate(found.steps):
        for name in step.op.features:
            where.setdefault(name, []).append(i)
    return where


def _unmade(found: Walk) -> list[Placed]:
    """Features that the plan does not make."""
    flaws: list[Placed] = []
    for feature in found.job.features.values():
        if feature.name in found.made:
            continue
        parts = found.partly.get(feature.name)
        word = "is not finished" if parts else "is never made"
        flaws.append((None, Flaw("stop", "feature not made", f"{feature.name} {word}", feature.name,
                                 "the drawing asks for it", "", "an operation that makes it, all along")))  # fmt: skip
    return flaws


def _touches(one: PlainFeature, other: PlainFeature) -> bool:
    """Whether two features of the same side lie on each other or side by side."""
    return one.inside == other.inside and one.start <= other.end + 0.01 and one.end >= other.start - 0.01


def _around_threads(found: Walk) -> list[Placed]:
    """A chamfer or a relief groove that comes after its thread."""
    flaws: list[Placed] = []
    steps, where = found.steps, _index(found)
    for thread in (f for f in found.job.features.values() if f.kind == "thread"):
        cut = [i for i in where.get(thread.name, []) if steps[i].op.kind == "thread"]
        if not cut:
            continue
        for near in found.job.features.values():
            if near.kind not in ("chamfer", "groove") or not _touches(thread, near):
                continue
            late = [i for i in where.get(near.name, []) if steps[i].op.kind == near.kind and i > cut[0]]
            if not late:
                continue
            if near.kind == "chamfer":
                what, why = "chamfer after thread", "the burr goes into the thread, and the first turn is not cut clean"
            else:
                what, why = "relief after thread", "the tool had no room to run out, and the blade cuts into the thread"
            flaws.append(
                (
                    _at(steps[late[0]]),
                    Flaw(
                        "caution",
                        what,
                        f"{near.name} comes after {thread.name}",
                        near.name,
                        why,
                        "",
                        f"{near.name} before {thread.name}",
                    ),
                )
            )
    return flaws


def _gaging(found: Walk) -> list[Placed]:
    """Sizes that leave the chuck unmeasured, or are measured with their burrs on."""
    flaws: list[Placed] = []
    steps = found.steps
    for name, step in found.made.items():
        feature = found.job.features[name]
        toleranced = feature.low is not None or feature.high is not None
        if not toleranced:
            continue
        mine = range(_place(found, step), len(steps))
        later = [steps[i] for i in mine if steps[i].setup == step.setup]
        gaged = [one for one in later if one.op.kind == "gage" and name in one.op.features]
        if not gaged:
            level = "caution" if feature.kind == "thread" else "note"
            flaws.append(
                (
                    _at(step),
                    Flaw(
                        level,
                        "leaves the chuck ungaged",
                        f"{name} is not gaged in its setup",
                        name,
                        "once it is out of the chuck it is not cut true again",
                        "",
                        f"gage {name} before the work is taken out",
                    ),
                )
            )
            continue
        first = gaged[0]
        burrs = [one for one in later if one.op.kind == "deburr" and name in one.op.features and _at(one) > _at(first)]
        if burrs:
            flaws.append(
                (
                    _at(first),
                    Flaw(
                        "caution",
                        "gaged before deburring",
                        f"{name} is gaged with its burrs on",
                        name,
                        "a burr makes a gage lie",
                        "",
                        "deburr first",
                    ),
                )
            )
        grown = found.job.growth * first.warm * feature.diameter
        if feature.low is not None and feature.high is not None and grown > 0.1 * (feature.high - feature.low):
            flaws.append(
                (
                    _at(first),
                    Flaw(
                        "caution",
                        "gaged warm",
                        f"{name} is gaged while it is warm",
                        name,
                        say(
                            "it is up to {} above the room, if no heat is lost to the chuck",
                            amount("warming", first.warm),
                        ),
                        say("{} too large until it is cold", amount("small", grown)),
                        "let it cool, or use coolant, before the last cut and the gage",
                    ),
                )
            )
    return flaws


def _place(found: Walk, step: Step) -> int:
    return next(i for i, one in enumerate(found.steps) if one is step)


def _rechucked(found: Walk) -> list[Placed]:
    """A thread that is cut again after the work was out of the chuck."""
    flaws: list[Placed] = []
    seen: dict[str, Step] = {}
    for step in found.steps:
        if step.op.kind != "thread":
            continue
        for name in step.op.features:
            first = seen.setdefault(name, step)
            if first.setup != step.setup:
                flaws.append(
                    (
                        _at(step),
                        Flaw(
                            "stop",
                            "thread picked up again",
                            f"{name} is cut in two setups",
                            name,
                            "its start is lost when the work comes out of the chuck",
                            "",
                            "finish it before the work comes out; else pick it up by hand, with "
                            "the play worked out (see pick_up)",
                        ),
                    )
                )
    return flaws


def _cut_off(found: Walk) -> list[Placed]:
    """Work on a part that has been cut off."""
    flaws: list[Placed] = []
    off: dict[int, Step] = {}
    for step in found.steps:
        if step.op.kind == "part off" and step.judged.taken.made:
            off.setdefault(step.setup, step)
        elif step.setup in off and step.op.kind not in ("deburr", "gage"):
            flaws.append(
                (
                    _at(step),
                    Flaw(
                        "stop",
                        "already parted off",
                        f"{step.op.kind} comes after the part is parted off",
                        None,
                        "nothing holds the part any more",
                        "",
                        "part off last",
                    ),
                )
            )
    return flaws


def _lengths(found: Walk) -> list[Placed]:
    """A length set before the face that it is measured from is there."""
    flaws: list[Placed] = []
    for name, step in found.made.items():
        feature = found.job.features[name]
        if feature.kind in ("face", "groove") or (feature.length_low is None and feature.length_high is None):
            continue
        free = "B" if step.held.grips == "A" else "A"
        place = found.job.length if free == "B" else 0.0
        faces = [f.name for f in found.job.features.values() if f.kind == "face" and abs(f.start - place) < 1e-6]
        late = [n for n in faces if n in found.made and _at(found.made[n]) > _at(step)]
        if late and found.made[late[0]].setup == step.setup:
            flaws.append(
                (
                    _at(step),
                    Flaw(
                        "caution",
                        "length before its face",
                        f"{name} is set before {late[0]}",
                        name,
                        "there is no face yet to touch off from",
                        "",
                        f"{late[0]} first",
                    ),
                )
            )
    return flaws


def _halves(found: Walk) -> list[Placed]:
    """A surface or a hole that is made from both ends, and where its halves meet."""
    flaws: list[Placed] = []
    for name, parts in found.partly.items():
        feature, step = found.job.features[name], found.made.get(name)
        if step is None or feature.kind != "cylinder" or feature.inside or parts[0].setup == step.setup:
            continue
        out = 0.08 if step.held.runout is None else step.held.runout
        flaws.append(
            (
                _at(step),
                Flaw(
                    "note",
                    "halves meet",
                    f"{name} is turned from both ends",
                    name,
                    "the second half runs true to another axis",
                    say("a step of up to {}", mm(out / 2, 3)),
                    "hold it truer, or between centers in one setup",
                ),
            )
        )
    return flaws


def _marked(found: Walk) -> list[Placed]:
    """Hard jaws on a finished surface, and sizes gaged before they are there."""
    flaws: list[Placed] = []
    for i, held, _ in found.setups:
        steps = [step for step in found.steps if step.setup == i]
        if held.holding not in HARD or not steps:
            continue
        low, high = gripped(held, steps[0].before)
        for name, step in found.made.items():
            feature = found.job.features[name]
            done = step.setup < i and feature.kind == "cylinder" and not feature.inside
            if done and feature.low is not None and feature.start < high - 1.0 and feature.end > low + 1.0:
                flaw = Flaw("note", "jaws on a finished surface", f"hard jaws close on {name}", name,
                            "they leave their marks", "", "soft jaws, or strips of copper")  # fmt: skip
                flaws.append(((i, None), flaw))
    for step in (one for one in found.steps if one.op.kind == "gage"):
        for name in step.op.features:
            made = found.made.get(name)
            if made is not None and _at(made) > _at(step) and name not in found.partly:
                flaw = Flaw("caution", "gaged too early", f"{name} is gaged before it is made", name,
                            "there is nothing to gage yet", "", f"gage {name} once it is finished")  # fmt: skip
                flaws.append((_at(step), flaw))
    return flaws
