"""The barrel that each student plans in homework 3: its sizes, the shop it is made in, and a first plan with faults.

All of it is invented: the corer's barrel with other lengths, threads, limits, and another lathe or rack.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from latheworks.plan import Feature, Part, Plan, barrel_plan, change_operation, change_setup, corer_barrel
from latheworks.plan.change import drop_operation, move_operation
from latheworks.shop import Lathe, Rack, lathe, rack
from latheworks.threads import thread
from latheworks.units import Q_, Span, U

# Of the drawing in `corer_barrel`: from here on everything moves along with the length.
_SHOULDER, _LENGTH, _NOSE_GRIP, _OVER = 200.0, 250.0, 32.0, 4.0


@dataclass(frozen=True, slots=True)
class Job:
    """One student's job: the part, the shop, the first plan with its faults, and one good plan."""

    part: Part
    lathe: Lathe
    rack: Rack
    start: Plan
    good: Plan


def _mm(value: float) -> Any:
    return Q_(float(value), U.mm)


def _later(place: Any, by: float) -> Any:
    return place if place.m_as(U.mm) < _SHOULDER else place + _mm(by)


def _moved(one: Feature, by: float) -> Feature:
    """A feature moved along with the shoulder."""
    spans = one.length_limits
    limits = (
        None if spans is None else Span(*(None if end is None else _later(end, by) for end in (spans.min, spans.max)))
    )
    return replace(one, start=_later(one.start, by), end=_later(one.end, by), length_limits=limits)


def own_barrel(length: float, name: str, tolerance: float) -> Part:
    """The barrel of this length [mm], with this internal thread, and this tolerance of its outside [mm]."""
    cut = thread(name)
    hole, groove = cut.limits.minor, cut.limits.major.min.to("mm") + _mm(0.4)
    sizes: Mapping[str, dict[str, Any]] = {
        "body": {"limits": Span(_mm(32 - tolerance), _mm(32))},
        "socket": {"diameter": hole.mid.to("mm"), "limits": Span(hole.min.to("mm"), hole.max.to("mm"))},
        "thread relief": {"diameter": groove, "limits": Span(groove - _mm(0.2), groove + _mm(0.2))},
        "socket thread": {"designation": name},
        "thread chamfer": {"diameter": hole.min.to("mm"), "end_diameter": groove},
    }
    plain = corer_barrel()
    parts = [replace(_moved(one, length - _LENGTH), **sizes.get(one.name, {})) for one in plain.features]
    return replace(plain, name=f"barrel of {length:g} mm", features=tuple(parts), stock_length=_mm(length + _OVER))


def good_plan(part: Part, machine: Lathe, tools: Rack) -> Plan:
    """The plan of `barrel_plan` on another barrel: stickout and drilling depths go with the length."""
    length = part.length.m_as(U.mm)
    plan = replace(barrel_plan(), part=part, name=part.name, lathe=machine, rack=tools)
    for setup, places in ((1, (60, 70)), (2, (30, 40))):
        for place in places:
            plan = change_operation(plan, setup, place, drill_depth=_mm(length / 2 + _OVER))
    return change_setup(plan, 3, stickout=_mm(length - _NOSE_GRIP))


def _few(tools: Rack, name: str) -> Rack:
    return replace(tools, name=f"teaching rack without the {name}",
                   tools=tuple(each for each in tools.tools if each.name != name))  # fmt: skip


def _no_pilot(plan: Plan) -> Plan:
    """Straight in with the large drill."""
    return drop_operation(drop_operation(plan, 1, 60), 2, 30)


# What a student's shop has not, by a word: the lathe, the rack, and what the good plan does about it.
SHOPS: Mapping[str, tuple[str, Callable[[], tuple[Lathe, Rack]], Callable[[Plan], Plan]]] = {
    "no pilot drill": (
        "The 5 mm long drill is broken: it is not on the rack.",
        lambda: (lathe(), _few(rack(), "5 mm long drill")), _no_pilot),
    "slow lathe": (
        "The lathe is another one: its spindle turns 700 times a minute at most.",
        lambda: (replace(lathe(), name="slow teaching lathe", fastest_spindle=Q_(700.0, U.rpm)), rack()),
        lambda plan: plan),
    "weak jaws": (
        "The chuck is worn: its jaws close with 10 kN in all, and no more.",
        lambda: (replace(lathe(), name="teaching lathe, worn chuck", jaw_force=Q_(10_000.0, U.N)), rack()),
        lambda plan: plan),
    "as it is": ("The teaching lathe and the teaching rack are as they always are.",
                 lambda: (lathe(), rack()), lambda plan: plan),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is at fault in a first plan: the shop it is for, the code of the first stop, how a person says it, what can
    be said where it is sound, what mends it, and the change that brings it into a good plan, with a lesser fault."""

    shop: str
    code: str
    words: str
    sound: str
    mend: str
    spoil: Callable[[Plan], Plan]


def _with_pilot(plan: Plan) -> Plan:
    usual = good_plan(plan.part, plan.machine, plan.tools)
    return drop_operation(usual, 1, 50)


def _too_fast(plan: Plan) -> Plan:
    return drop_operation(change_operation(plan, 3, 30, spindle=Q_(900.0, U.rpm)), 1, 50)


def _pulls(plan: Plan) -> Plan:
    heavy = change_operation(plan, 3, 10, depth=_mm(3), feed=Q_(0.5, "mm/rev"))
    return change_setup(heavy, 3, holding="three-jaw chuck")


def _falls_in(plan: Plan) -> Plan:
    return change_operation(change_setup(plan, 3, support="center"), 3, 30, feed=Q_(0.3, "mm/rev"))


def _too_early(plan: Plan) -> Plan:
    return move_operation(plan, 1, 120, before=80)


def _hangs_free(plan: Plan) -> Plan:
    return drop_operation(change_setup(plan, 3, support="none"), 1, 50)


TROUBLES = {
    "pilot": Trouble("no pilot drill", "tool missing", "a tool that the rack has not got",
                     "Every tool that is named is on the rack.",
                     "drill without a pilot (drop the two operations), or choose a drill that is there", _with_pilot),
    "speed": Trouble("slow lathe", "spindle too fast", "a spindle speed that this lathe has not got",
                     "The lathe has every speed that is planned.",
                     "give that operation a spindle speed which this lathe has, or leave it to the tables", _too_fast),
    "grip": Trouble("weak jaws", "grip too weak", "a cut that the jaws do not hold",
                    "The jaws hold every cut.",
                     "less depth or less feed for that cut, or leave both to the tables; and soft jaws for the thin "
                     "end", _pulls),
    "center": Trouble("as it is", "center needs a cone or a plug", "a center that finds nothing to sit in",
                      "Every center has something to sit in, or there is none.",
                     "a cone center in the bored end; and a feed that leaves the surface asked for", _falls_in),
    "order": Trouble("as it is", "surface not ready", "a cut on a surface that is not there yet",
                     "Every cut finds its surface ready.",
                     "bore, relief and chamfer first, and the thread last of them", _too_early),
    "bends": Trouble("as it is", "out of tolerance", "work that bends too far for its tolerance",
                     "Nothing bends out of its limits.",
                     "carry the free end, with a cone center in the bore; and start the drill in a center hole",
                     _hangs_free),
}  # fmt: skip
LENGTHS = ((230, 0.09), (240, 0.1), (250, 0.1), (260, 0.12))
THREADS = ("1-12 UNF-2B", "1-14 UNS-2B", "M24x1.5-6H")


@cache
def own_job(length: float, tolerance: float, name: str, trouble: str) -> Job:
    """The job of one student: the barrel, the shop, the first plan and a good one."""
    found = TROUBLES[trouble]
    _, shop, mend = SHOPS[found.shop]
    machine, tools = shop()
    part = own_barrel(length, name, tolerance)
    good = mend(good_plan(part, machine, tools))
    start = replace(found.spoil(good), name=f"{part.name}, first try")
    return Job(part, machine, tools, start, good)
