"""The facing bench: a tool that crosses a face, at constant turns or at constant surface speed with its clamp."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.course.exercises.the_turning import MODES, SURFACE, TURNS
from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.passes import CutTime, facing_time
from latheworks.passes.turning_kernel import Turns, minutes, turns_at
from latheworks.pictures.face_turns import FacePicture, FaceTurns
from latheworks.pictures.style import Look
from latheworks.shop import lathe
from latheworks.units import Q_, U, show
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, mm

POINTS = 201


class FacingBench(Bench):
    """A face, a surface speed with the fastest spindle, and the place of the tool."""

    kind: ClassVar[str] = "facing"
    title: ClassVar[str] = "Across the face"
    picture_class = FacePicture
    also: ClassVar[Mapping[str, str]] = {"surface_speed": "speed", "most_spindle": "most", "spindle": "speed",
                                         "inside": "hole"}  # fmt: skip

    def __init__(self, opening: Mapping[str, Any], feed: Any) -> None:
        self._opening, self._feed = opening, feed
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        machine, start = lathe(), self._opening
        slowest, fastest = machine.slowest_spindle, machine.fastest_spindle
        return (
            Size("outside", "Outside", "D", start["outside"], mm(20), mm(100), (1.0, 0.05), mm(2), machine.swing),
            Size("hole", "Hole", "d", start["hole"], mm(0), mm(30), (1.0, 0.05), mm(0), mm(200)),
            Size("speed", "Surface speed", "", start["speed"], Q_(20.0, U.m_per_min), Q_(250.0, U.m_per_min), (5, 20),
                 Q_(1.0, U.m_per_min), Q_(2000.0, U.m_per_min), kind="speed"),
            Size("most", "Fastest spindle", "n", start["most"], Q_(200.0, U.rpm), fastest, (50, 50), slowest, fastest,
                 kind="spindle"),
            Choice("mode", "Spindle", MODES, start["mode"]),
            Size("at", "Tool at", "", start["at"], start["hole"], start["outside"], (0.5, 0.02)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        bore = {"hole": Q_(20.0, U.mm), "at": Q_(20.0, U.mm)}
        return {
            "Surface speed": {"mode": SURFACE},
            "Turns": {"mode": TURNS},
            "At the clamp": {"mode": SURFACE, "at": Q_(10.0, U.mm)},
            "Clamp at half": {"mode": SURFACE, "most": self._opening["most"] / 2},
            "To a bore": {"mode": SURFACE, **bore},
            "To a bore, turns": {"mode": TURNS, **bore},
        }

    def follow(self, changed: Names) -> None:
        low, high, at = (self.controls[name] for name in ("hole", "outside", "at"))
        if "at" not in changed and low.value < high.value:
            at.put(min(max(at.value, low.value), high.value))
        if (at.low, at.high) != (low.value, high.value) and low.value < high.value:
            at.run(low.value, high.value)

    def compute(self, values: Mapping[str, Any]) -> tuple[CutTime, FaceTurns]:
        outside, hole, at = (float(values[name].m_as(U.mm)) for name in ("outside", "hole", "at"))
        written = {name: self.controls[name].as_typed() for name in ("outside", "hole", "at")}
        if hole >= outside:
            raise Impossible(f"A hole of {written['hole']} leaves nothing of an outside of {written['outside']}. "
                             f"Type {self.controls['hole'].written(values['outside'] / 2)} as the hole.")  # fmt: skip
        if not hole - 1e-9 <= at <= outside + 1e-9:
            raise OutOfRange(f"Tool at: {written['at']} is off the face, which goes from {written['outside']} to "
                             f"{written['hole']}. Type {self.controls['at'].written(values['outside'])}.")  # fmt: skip
        slowest = float(lathe().slowest_spindle.m_as(U.rpm))
        asked, most = float(values["speed"].m_as(U.m_per_min)), float(values["most"].m_as(U.rpm))
        steady = float(np.clip(1000.0 * asked / (np.pi * outside), slowest, most))
        surface = values["mode"] == SURFACE
        turns: dict[str, Any] = {"surface_speed": values["speed"]} if surface else {"spindle": Q_(steady, U.rpm)}
        found = facing_time(values["outside"], self._feed, inside=values["hole"], most_spindle=values["most"], **turns)
        sizes = np.linspace(outside, hole, POINTS)
        ways = {SURFACE: Turns(asked, slowest, most), TURNS: Turns(0.0, steady, steady)}
        feed = float(self._feed.m_as(U.mm_per_rev))
        at_each = {name: np.asarray(turns_at(way, sizes)) for name, way in ways.items()}
        return found, FaceTurns(
            outside, hole, asked, most, feed, values["mode"], at, 1000.0 * asked / (np.pi * most), sizes, at_each,
            {name: np.pi * sizes * rows / 1000.0 for name, rows in at_each.items()},
            {name: np.asarray(minutes(way, (outside - sizes) / 2, feed, outside, sizes))
             for name, way in ways.items()},
        )  # fmt: skip

    def read(self, data: FaceTurns, look: Look) -> Reading:
        def speed(value: float) -> str:
            return show(Q_(float(value), U.m_per_min), look.system)

        kept = data.here(data.surface) >= 0.999 * data.asked
        verdict = (
            f"The surface runs as fast as asked here, in {data.time:.2f} min for the whole face." if kept else
            f"The surface runs slower than asked here: {speed(data.here(data.surface))} of {speed(data.asked)}."
        )  # fmt: skip
        facts = [
            ("tool at", look.mm(data.at)),
            ("spindle here", show(Q_(data.here(data.turns), U.rpm))),
            ("surface here", speed(data.here(data.surface))),
            ("time until here", f"{data.here(data.minutes):.3f} min"),
            *((mode.replace("constant", "at"), f"{data.minutes[mode][-1]:.3f} min") for mode in MODES),
            ("clamp below", look.mm(data.clamp)),
            ("feed", show(Q_(data.feed, U.mm_per_rev), look.system)),
        ]
        notes = ["A parting blade comes the same way, at a smaller feed; near the center the cut-off part drops."]
        if data.clamped:
            notes.append("The spindle is at its fastest: from here on a constant surface speed is constant turns.")
        if data.mode == SURFACE:
            notes.append("Set the fastest spindle by the chuck's own mark and by what it holds, not by the surface.")
        return Reading(kept, verdict, tuple(facts), tuple(notes))


def facing_bench(outside: Any = None, hole: Any = None, speed: Any = None, most: Any = None, mode: str = SURFACE,
                 at: Any = None, feed: Any = None) -> FacingBench:  # fmt: skip
    """Return a bench for a cut across a face, at constant turns or at constant surface speed with its clamp.

    Constant surface speed: n = 1000 v/(pi D), never above the fastest spindle; constant turns: those that give the
    surface speed on the outside. Times by `latheworks.passes.facing_time`.

    Parameters, all optional: outside [mm, 2 to the lathe's swing; 38] and hole [mm, 0 to less than the outside; 0];
    speed of the surface [m/min, 1 to 2000; 120]; most, the fastest spindle allowed [rev/min, of the lathe]; mode,
    "constant surface speed" or "constant turns"; at, the diameter where the tool is [mm, hole to outside; the
    outside]; feed toward the axis [mm/rev, 0.01 to 1; 0.1]. Raises LatheworksError for what cannot be.
    Source: `latheworks.passes.facing_time`.

    >>> facing_bench()
    Across the face (bench): The surface runs as fast as asked here, in 0.12 min for the whole face.
    """

    machine = lathe()
    with Door("facing_bench") as door:
        wide, inner = given(outside, 38.0, U.mm), given(hole, 0.0, U.mm)
        across = door.number(wide, "outside", "mm", least=2.0, most=float(machine.swing.m_as(U.mm)))
        door.number(inner, "hole", "mm", least=0.0, below=across)
        surface = given(speed, 120.0, U.m_per_min)
        door.number(surface, "speed", "m/min", least=1.0, most=2000.0)
        fastest = machine.fastest_spindle if most is None else most
        door.number(fastest, "most", "rev/min", least=float(machine.slowest_spindle.m_as(U.rpm)),
                    most=float(machine.fastest_spindle.m_as(U.rpm)))  # fmt: skip
        door.choice(mode, "mode", MODES)
        place = wide if at is None else at
        door.number(place, "at", "mm", least=0.0, most=across)
        advance = given(feed, 0.1, U.mm_per_rev)
        door.number(advance, "feed", "mm/rev", least=0.01, most=1.0)
    if place < inner:
        raise OutOfRange(f"at: got {show(place)}, expected a place on the face, {show(inner)} to {show(wide)}. Try "
                         f'at=Q_({across:g}, "mm").')  # fmt: skip
    return FacingBench({"outside": wide, "hole": inner, "speed": surface, "most": fastest, "mode": mode, "at": place},
                       advance)  # fmt: skip
