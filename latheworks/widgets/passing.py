"""The pass bench: a part of the corer in the jaws, and the passes that turn it, with what limits the depth of each."""

import math
from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.course.exercises.the_turning import MODES, SETUPS, SURFACE, SetUp, largest, planned, turns_for
from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.passes import TurningPlan
from latheworks.passes.profile_outline import height
from latheworks.passes.turning_limits import DEFLECTION, GRIP, POWER, TOOL, TORQUE
from latheworks.pictures.limit_bars import named
from latheworks.pictures.pass_layers import PassLayers
from latheworks.pictures.pass_stack import PassStackPicture
from latheworks.pictures.style import Look
from latheworks.shop import lathe
from latheworks.units import Q_, U, show
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, m_per_min, mm, mm_per_rev

KEPT = 64  # plans: stepping through the passes, or going back to a setting, then costs only the drawing
_HINT = {
    POWER: "Power limits the depth: a lower surface speed leaves more of it for a deeper cut.",
    TORQUE: "Torque limits the depth: below the base spindle the motor gives no more of it, only less power.",
    GRIP: "The jaws limit the depth: past it the part may turn or be drawn out of them.",
    DEFLECTION: "Deflection limits the depth: support the end, take a finer feed, or a stiffer bar in a bore.",
    TOOL: "The tool limits the depth: nothing else does so far.",
}


class PassBench(Bench):
    """A setup, a tool's depth, a feed and a speed; and a step through the passes."""

    kind: ClassVar[str] = "passes"
    title: ClassVar[str] = "The passes that turn the part"
    picture_class = PassStackPicture
    also: ClassVar[Mapping[str, str]] = {"most_depth": "depth", "surface_speed": "speed", "spindle": "speed"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        self._found: dict[Any, TurningPlan] = {}
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        return (
            Choice("setup", "Setup", tuple(SETUPS), start["setup"]),
            Size("depth", "Tool depth", "a", start["depth"], mm(0.5), mm(5), (0.1, 0.005), mm(0.25), mm(10)),
            Size("feed", "Feed", "f", start["feed"], mm_per_rev(0.05), mm_per_rev(0.5), (0.01, 0.0005),
                 mm_per_rev(0.02), mm_per_rev(1), kind="feed"),
            Size("speed", "Surface speed", "", start["speed"], m_per_min(20), m_per_min(300), (5, 20), m_per_min(5),
                 m_per_min(1000), kind="speed"),
            Choice("constant", "Spindle", MODES, start["constant"]),
            Size("shown", "Show pass", "k", start["shown"], 1, 40, (1, 1), 1, kind="count"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        def to(setup: str, depth: float, feed: float, speed: float, shown: int = 1) -> dict[str, Any]:
            return {"setup": setup, "depth": Q_(depth, U.mm), "feed": Q_(feed, U.mm_per_rev), "shown": shown,
                    "speed": Q_(speed, U.m_per_min), "constant": SURFACE}  # fmt: skip

        center, alone, steel, edge, half, screw, _, socket = SETUPS
        return {
            "Power": to(center, 3.0, 0.2, 200.0),
            "Jaw grip": to(half, 3.0, 0.2, 90.0),
            "Deflection": to(alone, 3.0, 0.35, 90.0),
            "The tool": to(center, 1.0, 0.15, 90.0),
            "In steel": to(steel, 3.0, 0.2, 90.0),
            "Cutting edge": to(edge, 3.0, 0.2, 90.0, 5),
            "Screw end": to(screw, 3.0, 0.2, 90.0, 5),
            "In the bore": to(socket, 2.0, 0.1, 90.0, 3),
        }

    def _plan(self, values: Mapping[str, Any]) -> TurningPlan:
        numbers = (float(values["depth"].m_as(U.mm)), float(values["feed"].m_as(U.mm_per_rev)),
                   float(values["speed"].m_as(U.m_per_min)))  # fmt: skip
        key = (values["setup"], values["constant"], *numbers)
        if key not in self._found:
            made = planned(SETUPS[values["setup"]], values["depth"], values["feed"], values["speed"],
                           values["constant"])  # fmt: skip
            if len(self._found) >= KEPT:
                self._found.clear()
            self._found[key] = made
        return self._found[key]

    def follow(self, changed: Names) -> None:
        last = self._plan({name: item.value for name, item in self.controls.items()}).passes
        shown = self.controls["shown"]
        # Another plan takes the pass shown along; one that is asked for beyond the last is refused.
        if shown.value > last and "shown" not in changed:
            shown.put(last)
        if shown.high != last:
            shown.run(1, last)

    def compute(self, values: Mapping[str, Any]) -> tuple[TurningPlan, PassLayers]:
        found = self._plan(values)
        if values["shown"] > found.passes:
            raise OutOfRange(
                f"There is no pass {values['shown']}: the last one is pass {found.passes}. Type {found.passes} or less."
            )
        return found, _layers(values["setup"], found, values["depth"], values["speed"], values["shown"])

    def read(self, data: PassLayers, look: Look) -> Reading:
        i, mm = data.now, look.mm
        facts = [
            ("roughing", _counted(data.kinds.count("rough"))),
            ("along profile", _counted(data.passes - data.kinds.count("rough"))),
            ("depth now", mm(data.depth[i])),
            ("limit now", f"{named(data.limited_by[i])}, {mm(data.limit_depth)}"),
            ("for finishing", mm(data.allowance)),
            ("spindle", show(Q_(data.spindle[i], U.rpm))),
            ("surface", show(Q_(data.surface[i], U.m_per_min), look.system)),
            ("power", show(Q_(data.power[i], "kW"), look.system)),
            ("time now", f"{data.minutes[i]:.2f} min"),
            ("time in all", f"{data.minutes.sum():.2f} min"),
        ]
        if data.chips:
            facts.append(("chips", " to ".join(look.liter(each) for each in data.chips)))
        notes = [_HINT[data.limited_by[0]], *data.notes]
        verdict = data.problem or (
            f"Every pass is inside its limits: {data.passes} passes, {data.minutes.sum():.1f} min. "
            f"The first is limited by {data.limited_by[0]}."
        )
        return Reading(not data.problem, verdict, tuple(facts), tuple(notes))


def _counted(number: int) -> str:
    return "1 pass" if number == 1 else f"{number} passes"


def _layers(name: str, found: TurningPlan, depth: Any, speed: Any, shown: int) -> PassLayers:
    """The library's plan as what the picture draws."""
    setup: SetUp = SETUPS[name]
    sign, base = (-1.0 if setup.inside else 1.0), lathe().base_spindle.m_as(U.rpm)
    deep = found.depth.m_as(U.mm)
    limits = found.depth_limit.m_as(U.mm)
    over = [kind for kind, got, most in zip(found.kinds, deep, limits, strict=True) if got > most * (1 + 1e-9)]
    spindle = found.spindle.m_as(U.rpm)
    turns = [float(value) for value in spindle]
    room = None if found.chips is None else found.chips.volume
    chips = None if room is None else (float(room.min.m_as("liter")), float(room.max.m_as("liter")))
    notes = list(found.notes)
    if found.constant == "turns" and 1.01 * turns_for(setup, speed).m_as(U.rpm) < _asked(setup, speed):
        notes.append(f"the spindle stays at its fastest, {turns[0]:g} rev/min, and the surface runs slower than asked")
    return PassLayers(
        name, setup.part, found.material, setup.inside, setup.center, setup.profile.z,
        height(setup.profile.radius, setup.inside), sign * found.profile.stock.m_as(U.mm) / 2, setup.other / 2,
        float(found.finish_allowance.m_as(U.mm)), found.constant, found.kinds, sign * found.before.m_as(U.mm) / 2,
        sign * found.after.m_as(U.mm) / 2, deep, found.start.m_as(U.mm), found.end.m_as(U.mm), spindle,
        found.surface_speed.m_as(U.m_per_min), found.feed.m_as(U.mm_per_rev), found.power.m_as("kW"),
        found.removal_rate.m_as("cm**3/min"), (found.cutting_time + found.idle_time).m_as(U.min), found.limited_by,
        tuple(_rows(row, turn < base) for row, turn in zip(found.allowed, turns, strict=True)),
        float(depth.m_as(U.mm)), chips, shown,
        f"The {over[0]} pass is deeper than its limit allows." if over else "",
        tuple(f"{note[0].upper()}{note[1:]}." for note in notes),
    )  # fmt: skip


def _asked(setup: SetUp, speed: Any) -> float:
    """The turns that the surface speed asks for, whatever the lathe can [rev/min]."""
    return 1000.0 * float(speed.m_as(U.m_per_min)) / (math.pi * largest(setup))


def _rows(allowed: Mapping[str, Any], slow: bool) -> dict[str, float | None]:
    """Every limit with its depth [mm]; None where the tool's own is reached first. Power counts from the base spindle
    up, torque below it."""
    motor = next((name for name in (TORQUE, POWER) if name in allowed), TORQUE if slow else POWER)
    return {
        name: float(allowed[name].m_as(U.mm)) if name in allowed else None for name in (motor, GRIP, DEFLECTION, TOOL)
    }


def passes_bench(setup: str = "barrel, chuck and center", depth: Any = None, feed: Any = None, speed: Any = None,
                 constant: str = SURFACE, shown: int = 1) -> PassBench:  # fmt: skip
    """Return a bench for the passes that turn a part of the soil corer, with what limits the depth of each.

    Every cut is as deep as the least of power or torque, jaw grip, bending and the tool's own depth allow, by
    `latheworks.passes.turning_passes`; cuts are equal from cylinder to cylinder.

    Parameters, all optional: setup, one of the invented setups of the corer, such as "steel shoe, cutting edge";
    depth, the tool's own [mm, 0.25 to 10; 3]; feed [mm/rev, 0.02 to 1; 0.2]; speed of the surface [m/min, 5 to 1000;
    120]; constant, "constant surface speed" or "constant turns", which keep the turns that give the speed at the
    largest diameter; shown, the pass shown first [1 or more]. Raises LatheworksError for what cannot be.
    Source: `latheworks.passes.turning_passes`; the setups are invented.

    >>> passes_bench(shown=2)
    The passes that turn the part (bench): Every pass is inside its limits: 6 passes, 5.9 min. The first is limited by power.
    """  # noqa: E501

    with Door("passes_bench") as door:
        door.choice(setup, "setup", tuple(SETUPS))
        door.choice(constant, "constant", MODES)
        own, advance, surface = (
            given(depth, 3.0, U.mm),
            given(feed, 0.2, U.mm_per_rev),
            given(speed, 120.0, U.m_per_min),
        )
        door.number(own, "depth", "mm", least=0.25, most=10.0)
        door.number(advance, "feed", "mm/rev", least=0.02, most=1.0)
        door.number(surface, "speed", "m/min", least=5.0, most=1000.0)
        first = door.whole(shown, "shown", least=1, most=500)
    last = planned(SETUPS[setup], own, advance, surface, constant).passes
    if first > last:
        raise OutOfRange(f"shown: got {first}, expected a pass of the plan, 1 to {last}. Try shown={last}.")
    return PassBench({"setup": setup, "depth": own, "feed": advance, "speed": surface, "constant": constant,
                      "shown": first})  # fmt: skip
