"""The workpiece carried through one operation: what it takes, what is whole then, and what is in the way."""

from __future__ import annotations

from latheworks.plan.carry_ends import JAW_GAP, faced, over_cut
from latheworks.plan.carry_holes import centered, holed
from latheworks.plan.feature import PlainFeature
from latheworks.plan.job import SAME, Held, Job, PlainOperation, radii, to_aim
from latheworks.plan.outcome import Cut, Flaw, Taken
from latheworks.plan.shape import Shape
from latheworks.plan.tooling import PlainTool
from latheworks.plan.wording import mm, say

# Which kinds of feature each operation makes.
MAKES = {
    "turn": ("cylinder", "thread"), "taper": ("taper",), "bore": ("cylinder", "taper", "thread"),
    "ream": ("cylinder",), "drill": ("cylinder", "taper", "thread"), "thread": ("thread",), "groove": ("groove",),
    "chamfer": ("chamfer",), "face": ("face",), "center drill": (),
    "part off": ("face",), "deburr": (), "gage": (),
}  # fmt: skip
SIDE = {"turn": False, "bore": True, "ream": True, "drill": True}


def take(job: Job, held: Held, shape: Shape, op: PlainOperation, tool: PlainTool | None) -> Taken:
    """What an operation does to the workpiece as it stands."""
    flaws: list[Flaw] = []
    wanted = _named(job, op, flaws)
    if op.kind in ("gage", "deburr"):
        return Taken(shape, (), (), (), tuple(flaws))
    if op.kind == "center drill":
        return centered(held, shape, tool, flaws)
    if not wanted and not any(one.level == "stop" for one in flaws):
        flaws.append(
            Flaw(
                "caution",
                "nothing to do",
                f"{op.kind} names no feature",
                None,
                "without a feature there is no size to cut to",
                "",
                "name the features it works on",
            )
        )
    if op.kind in ("face", "part off"):
        return faced(job, held, shape, op, wanted, flaws)
    if op.kind in ("drill", "ream"):
        return holed(job, held, shape, op, wanted, tool, flaws)
    cuts: list[Cut] = []
    made: list[str] = []
    partly: list[str] = []
    for feature in wanted:
        reach = _accessible(held, shape, feature)
        if reach is None:
            flaws.append(
                Flaw(
                    "stop",
                    "out of reach",
                    f"{feature.name} cannot be cut in this setup",
                    feature.name,
                    say(
                        "it lies at {}, in or behind the jaws, whose face is at {}",
                        mm(feature.start, to=feature.end),
                        mm(held.jaws, 1),
                    ),
                    "",
                    "cut it in a setup that holds the other end, or stick the work out farther",
                )
            )
            continue
        start, end = _from_the_end(job, held, shape, feature, op, *reach)
        cut, shape = _one(shape, feature, start, end, op)
        cuts.append(cut)
        whole = start <= feature.start + SAME and end >= last(feature) - SAME
        if op.leave <= SAME and (feature.kind != "thread" or op.kind == "thread"):
            done = whole or (feature.kind != "thread" and _is_at(shape, feature))
            (made if done else partly).append(feature.name)
        if not whole and not _is_at(shape, feature, op.leave):
            rest = (feature.start, start) if start > feature.start + SAME else (end, last(feature))
            start, end = max(start, feature.start), min(end, last(feature))
            flaws.append(
                Flaw(
                    "note",
                    "partly cut",
                    say("{} is cut only from {}", feature.name, mm(start, 1, end)),
                    feature.name,
                    "the rest stays in the jaws",
                    say("{} are left", mm(rest[1] - rest[0], 1)),
                    "cut the rest in a setup that holds the other end",
                )
            )
    flaws += over_cut(job, shape)
    return Taken(shape, tuple(cuts), tuple(made), tuple(partly), tuple(flaws))


def last(feature: PlainFeature) -> float:
    """Where the last of a row of grooves ends, else the feature [mm]."""
    return feature.end + (feature.repeats - 1) * feature.spacing


def _named(job: Job, op: PlainOperation, flaws: list[Flaw]) -> list[PlainFeature]:
    """The features that an operation names, those that it can work on."""
    found = []
    for name in op.features:
        feature = job.features.get(name)
        if feature is None:
            flaws.append(
                Flaw(
                    "stop",
                    "no such feature",
                    f"the part has no feature {name!r}",
                    name,
                    "nothing can be cut to a size that no drawing gives",
                    "",
                    "a name of the part's features",
                )
            )
            continue
        makes, side = MAKES[op.kind], SIDE.get(op.kind)
        wrong = makes and feature.kind not in makes
        if wrong or (side is not None and feature.inside != side):
            place = "inside" if feature.inside else "outside"
            flaws.append(
                Flaw(
                    "stop",
                    "wrong kind of operation",
                    f"{op.kind} does not make {name}",
                    name,
                    f"{name} is a {feature.kind} {place}",
                    "",
                    "another operation for it",
                )
            )
            continue
        found.append(to_aim(feature))
    return found


def _accessible(held: Held, shape: Shape, feature: PlainFeature) -> tuple[float, float] | None:
    """The stretch of a feature that a tool from the free end gets at, None where there is none."""
    start, end = max(feature.start, shape.start), min(last(feature), shape.end)
    if end - start <= SAME:
        return None
    if not feature.inside and held.holding != "between centers":
        face = held.jaws + held.toward * JAW_GAP
        start, end = (max(start, face), end) if held.grips == "A" else (start, min(end, face))
        if (
            feature.kind in ("groove", "chamfer", "thread", "taper")
            and end - start < last(feature) - feature.start - SAME
        ):
            return None
    return (start, end) if end - start > SAME else None


def _from_the_end(job: Job, held: Held, shape: Shape, feature: PlainFeature, op: PlainOperation, start: float,
                  end: float) -> tuple[float, float]:  # fmt: skip
    """The stretch that is really cut: a tool feeds in from the free end, through all stock that the part does not need
    there, as far as what it needs is not in the way."""
    if op.kind not in ("turn", "bore") or feature.kind != "cylinder" or feature.pitch:
        return start, end
    part, size = job.finished, feature.diameter / 2
    spare = part.inner.min(axis=1) >= size - SAME if feature.inside else part.outer.max(axis=1) <= size + SAME
    if held.grips == "A":
        beyond = part.z[:-1] >= end - SAME
        blocked = part.z[:-1][beyond & ~spare]
        return start, float(blocked[0]) if blocked.size else max(end, shape.end)
    beyond = part.z[1:] <= start + SAME
    blocked = part.z[1:][beyond & ~spare]
    return float(blocked[-1]) if blocked.size else min(start, shape.start), end


def _one(shape: Shape, feature: PlainFeature, start: float, end: float, op: PlainOperation) -> tuple[Cut, Shape]:
    """One feature cut between two places, with what is left on the radius."""
    low, high = radii(shape, start, end, feature.inside)
    before = low if feature.inside else high
    room = -op.leave if feature.inside else op.leave
    if feature.kind == "groove":
        for k in range(feature.repeats):
            shift = k * feature.spacing
            shape = shape.cut(feature.start + shift, feature.end + shift, feature.diameter / 2 + room,
                              feature.diameter / 2 + room, feature.inside)  # fmt: skip
        after = feature.diameter / 2 + room
    else:
        long = feature.end - feature.start
        lean = (feature.end_diameter - feature.diameter) / 2 / long
        first, final = (feature.diameter / 2 + lean * (z - feature.start) + room for z in (start, end))
        shape = shape.cut(start, end, first, final, feature.inside)
        after = max(first, final) if feature.inside else min(first, final)
        if op.kind == "thread":
            before = after = feature.diameter / 2
    return Cut(feature.name, start, end, before, after, feature.inside), shape


def _is_at(shape: Shape, feature: PlainFeature, leave: float = 0.0) -> bool:
    """Whether a feature's surface has come down (inside: out) to its size everywhere."""
    if shape.start > feature.start + SAME or shape.end < last(feature) - SAME:
        return False
    if feature.kind not in ("cylinder",):
        return False
    low, high = radii(shape, feature.start, feature.end, feature.inside)
    size = feature.diameter / 2
    return low >= size - leave - SAME if feature.inside else high <= size + leave + SAME
