"""The infeed bench: the passes of a single-point thread, and what each of them takes off."""

import math
from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.pictures.groove import GroovePasses, GroovePicture
from latheworks.pictures.style import Look
from latheworks.threads import infeed, thread
from latheworks.threads.forms import form
from latheworks.threads.infeed_kernel import LAWS, METHODS
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec, Words
from latheworks.widgets.sizes import Size

# A step thinner than this tends to rub: common practice, no source; the infeed room's own default.
LEAST_STEP = 0.02


class InfeedBench(Bench):
    """A thread, its passes, and the groove after each."""

    kind: ClassVar[str] = "infeed"
    title: ClassVar[str] = "Cut the thread, pass by pass"
    picture_class = GroovePicture
    also: ClassVar[Mapping[str, str]] = {"designation": "thread", "tolerance class": "thread"}

    def __init__(self, opening: Mapping[str, Any], material: Any) -> None:
        self._opening, self._material = opening, material
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        rpm = U.rpm
        return (
            Words("thread", "Thread", start["thread"]),
            Choice("method", "Infeed", METHODS, start["method"]),
            Choice("law", "Steps by", LAWS, start["law"]),
            Size("passes", "Cutting passes", "n", start["passes"], 2, 24, (1, 1), 2, 200, kind="count"),
            Size("spindle", "Spindle", "", start["spindle"], Q_(30.0, rpm), Q_(520.0, rpm), (10, 10),
                 Q_(1.0, rpm), Q_(5000.0, rpm), kind="spindle"),
            Size("shown", "Show pass", "k", start["shown"], 1, start["passes"] + 2, (1, 1), 1, kind="count"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        return {
            "Equal steps": {"law": "equal depth"},
            "Equal chips": {"law": "equal area"},
            "Few passes": {"passes": 4, "shown": 4},
            "Down one flank": {"method": "modified flank"},
            "Flank by flank": {"method": "alternating flank"},
        }

    def follow(self, changed: Names) -> None:
        passes, shown = self.controls["passes"].value, self.controls["shown"]
        last = passes + self._opening["springs"]
        # Fewer passes take the one shown along; one that is asked for beyond the last is refused.
        if "passes" in changed and "shown" not in changed and shown.value > last:
            shown.put(last)
        if shown.high != last:
            shown.run(1, last)

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, GroovePasses]:
        last = values["passes"] + self._opening["springs"]
        if values["shown"] > last:
            raise OutOfRange(f"There is no pass {values['shown']}: the last one is pass {last}. Type {last} or less.")
        # Read here first: a wrong designation is then said once, in the thread room's own words.
        named = thread(values["thread"])
        found = infeed(
            named, values["passes"], values["law"], values["method"], spindle=values["spindle"],
            spring_passes=self._opening["springs"], material=self._material,
        )  # fmt: skip
        data = GroovePasses(
            named.designation, named.external, found.method, found.law, named.pitch.m_as(U.mm),
            found.flat.m_as(U.mm),
            found.depth.m_as(U.mm), found.from_center.m_as(U.mm), found.area.m_as(U.mm2),
            None if found.force is None else found.force.m_as(U.N), found.passes, values["shown"],
            found.spindle.m_as(U.rpm), found.feed.m_as(U.mm_per_min), found.run_in.m_as(U.mm),
            form(named).tan, named.hand, found.compound_angle.m_as(U.deg),
        )  # fmt: skip
        return found, data

    def read(self, data: GroovePasses, look: Look) -> Reading:
        ratio = float(data.area[: data.cutting].max() / data.area[: data.cutting].min())
        least = float(data.step[: data.cutting].min())
        thin = least < LEAST_STEP
        facts = [
            ("depth after this pass", look.mm(float(data.depth[data.shown - 1]))),
            ("whole depth, a side", look.mm(data.total)),
            *_slides(data, look),
            ("chip of this pass", look.mm2(float(data.area[data.shown - 1]))),
            ("largest chip", f"{look.mm2(float(data.area[data.heaviest]))}"),
            ("in pass", f"{data.heaviest + 1}"),
            ("largest over smallest", f"{ratio:.1f}"),
        ]
        if data.force is not None:
            facts.append(("largest force", look.newton(float(np.max(data.force)))))
        facts += [
            ("carriage feed", f"{data.feed / 25.4:.1f} in/min" if look.system == "inch" else f"{data.feed:.0f} mm/min"),
            ("run-in before the thread", look.mm(data.run_in)),
        ]
        verdict = (
            f"A step of {look.mm(least)} may rub instead of cutting: {look.mm(LEAST_STEP)} is the least."
            if thin else f"Every step cuts: the thinnest is {look.mm(least)}, {look.mm(LEAST_STEP)} is the least."
        )  # fmt: skip
        hand = f"Headstock to the left: this {data.hand}-hand thread feeds {data.feeds}."
        return Reading(not thin, verdict, tuple(facts), (hand,))


def _slides(data: GroovePasses, look: Look) -> tuple[tuple[str, str], ...]:
    """What the compound does, and how far the tool has gone to the side by the pass shown."""
    angle, depth = math.radians(data.angle), float(data.depth[data.shown - 1])
    along = data.method in ("flank", "modified flank")
    if along:
        set_to, travel, side = f"{data.angle:.2f}\u00b0", look.mm(depth / math.cos(angle)), depth * math.tan(angle)
    else:
        side = float(data.center[data.shown - 1])
        set_to, travel = ("not used", "none") if data.method == "radial" else ("along the axis", look.mm(abs(side)))
    return (("compound, from the cross slide", set_to), ("compound travel by now", travel),
            ("side shift by now", look.mm(side)))  # fmt: skip


def infeed_bench(thread: str = "1-12 UNF-2B", passes: int = 8, law: str = "equal area", method: str = "radial",
                 spindle: Any = None, spring_passes: int = 2, shown: int | None = None,
                 material: Any = "aluminum 6061-T6") -> InfeedBench:  # fmt: skip
    """Return a bench for the passes of a single-point thread: the groove after each, and the chip that it takes.

    Chip areas and depths as in `latheworks.threads.infeed`.

    Parameters, all optional, the thread in the soil corer's barrel by default: thread, a designation; passes, cutting
    passes [2 to 200]; law, "equal area", "equal depth" or "eased first pass"; method, "radial", "flank", "modified
    flank" or "alternating flank"; spindle [rev/min]; spring_passes [0 to 10]; shown, the pass shown first, half way
    when left out; material, a name from the table. Raises LatheworksError for what cannot be.
    Source: `latheworks.threads.infeed`.

    >>> infeed_bench(passes=6).value("passes")
    6
    """
    with Door("infeed_bench") as door:
        count = door.whole(passes, "passes", least=2, most=200)
        springs = door.whole(spring_passes, "spring_passes", least=0, most=10)
        first = door.whole((count + 1) // 2 if shown is None else shown, "shown", least=1, most=count + springs)
        door.choice(law, "law", LAWS)
        door.choice(method, "method", METHODS)
        turns = Q_(200.0, U.rpm) if spindle is None else spindle
        door.number(turns, "spindle", "rev/min", above=0.0, most=5000.0)
    return InfeedBench({"thread": thread, "passes": count, "law": law, "method": method, "spindle": turns,
                        "springs": springs, "shown": first}, material)  # fmt: skip
