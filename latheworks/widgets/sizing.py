"""The size bench: a bar turned in the lathe, and the size along it after the cut and after each spring pass."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, size_error
from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.materials import pick
from latheworks.pictures.bar import HOLDINGS
from latheworks.pictures.size_passes import SizePasses, SizePicture, named, small
from latheworks.pictures.style import Look
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, mm, mm_per_rev

POINTS = 61
# Thinner than this it rubs rather than cuts: common practice, no source; as the library's own notes say it.
RUBS = 0.005


class SizeBench(Bench):
    """A bar held in one of three ways, a cut, and spring passes at the same setting."""

    kind: ClassVar[str] = "size"
    title: ClassVar[str] = "The size after each pass"
    picture_class = SizePicture

    def __init__(self, opening: Mapping[str, Any], bar: Mapping[str, Any], tolerance: float, edge: float) -> None:
        self._opening, self._bar, self._tolerance, self._edge = opening, bar, tolerance, edge
        self._ways = dict(zip(HOLDINGS, (Chuck(), ChuckAndCenter(), BetweenCenters()), strict=True))
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        return (
            Size("length", "Stickout", "L", start["length"], mm(30), mm(300), (5.0, 0.25), mm(5), mm(2000)),
            Choice("holding", "Held", HOLDINGS, start["holding"]),
            Size("depth", "Cut depth", "a", start["depth"], mm(0.05), mm(1.5), (0.05, 0.002), mm(0.001)),
            Size("feed", "Feed", "f", start["feed"], mm_per_rev(0.02), mm_per_rev(0.4), (0.02, 0.001),
                 mm_per_rev(0.001), mm_per_rev(5), kind="feed"),
            Size("spring_passes", "Spring passes", "n", start["spring_passes"], 0, 6, (1, 1), 0, 20, kind="count"),
            Size("shown", "Show pass", "k", start["shown"], 1, start["spring_passes"] + 1, (1, 1), 1, kind="count"),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        last = self._opening["spring_passes"]
        return {
            "The cut": {"shown": 1},
            **{f"Spring {k}": {"shown": k + 1} for k in sorted({1, last}) if 0 < k <= last},
            "Center": {"holding": HOLDINGS[1], "shown": 1},
            "Two centers": {"holding": HOLDINGS[2], "shown": 1},
            "Half depth": {"depth": self._opening["depth"] / 2, "shown": 1},
            "Short": {"length": self._opening["length"] / 2, "shown": 1},
        }

    def follow(self, changed: Names) -> None:
        last, shown = self.controls["spring_passes"].value + 1, self.controls["shown"]
        # Fewer passes take the one shown along; one that is asked for beyond the last is refused.
        if "spring_passes" in changed and "shown" not in changed and shown.value > last:
            shown.put(last)
        if shown.high != last:
            shown.run(1, last)

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, SizePasses]:
        last = values["spring_passes"] + 1
        if values["shown"] > last:
            raise OutOfRange(f"There is no pass {values['shown']}: the last one is pass {last}. Type {last} or less.")
        length, depth = values["length"].m_as(U.mm), values["depth"].m_as(U.mm)
        outside, bore = self._bar["outside"], self._bar["bore"]
        control = self.controls["depth"]
        if depth >= (outside - bore) / 2:
            wall, try_ = (control.written(Q_(share * (outside - bore) / 2, U.mm)) for share in (1.0, 0.5))
            raise Impossible(
                f"A cut {control.as_typed()} deep leaves nothing of a wall of {wall}. Type {try_} or less."
            )
        shaft = Shaft.bar(Q_(length, U.mm), Q_(outside, U.mm), Q_(bore, U.mm), self._bar["material"])
        along = np.linspace(0.0, length, POINTS)
        try:
            found = size_error(
                shaft, self._ways[values["holding"]], values["depth"], values["feed"], Q_(along, U.mm),
                nose_radius=self._bar["nose_radius"], spring_passes=values["spring_passes"],
                edge_force=Q_(self._edge, U.N),
            )  # fmt: skip
        except Impossible as error:
            if error.complaints:
                raise
            what = "buckles under it" if "buckles" in str(error) else "is drawn into the tool, which digs in"
            raise Impossible(
                f"The feed pushes along so slender a bar that it {what}: stop. "
                "Type a smaller depth, a smaller feed or a shorter stickout."
            ) from error
        data = SizePasses(
            length, outside, bore, values["holding"], depth, values["feed"].m_as(U.mm_per_rev), self._tolerance,
            self._edge, values["shown"], along, found.per_pass.m_as(U.mm), found.depth.m_as(U.mm),
            found.radial_force.m_as(U.N), found.edge_limit.m_as(U.mm),
        )  # fmt: skip
        return found, data

    def read(self, data: SizePasses, look: Look) -> Reading:
        verdict = "Inside the tolerance" if data.inside else "Outside the tolerance"
        i, k = data.worst, data.shown - 1
        facts = [
            ("set to", look.mm(data.wanted)),
            ("largest now", look.mm(data.wanted + data.largest)),
            ("there", look.mm(float(data.along[i]))),
            ("smallest now", look.mm(data.wanted + data.smallest)),
            ("depth taken", look.mm(float(data.taken[k, i]))),
            ("chip pushes", look.newton(float(data.push[k, i]))),
            ("edge pushes", look.newton(data.edge)),
            ("edge leaves", small(float(np.max(data.floor)), look)),
        ]
        notes = [
            "The depth and both pushes are those where the part is largest, counted from the headstock end. The tool "
            "feeds toward the headstock, to the left."
        ]
        if self.needs_warning(data):
            notes.append(f"This pass takes less than {look.mm(RUBS)} in places: so thin a cut rubs (common practice).")
        if data.needs_plug:
            notes.append("A bored end takes no usual center: it needs a plug with a center hole, or a wide cone.")
        return Reading(
            data.inside,
            f"{verdict} after {named(data.shown)}: {small(data.largest, look)} large at most, 0 to "
            f"{look.mm(data.tolerance)} allowed.",
            tuple(facts),
            tuple(notes),
        )

    @staticmethod
    def needs_warning(data: SizePasses) -> bool:
        """Whether the pass shown rubs somewhere."""
        return bool((data.taken[data.shown - 1] < RUBS).any())


def size_bench(length: Any = None, outside: Any = None, bore: Any = None, holding: str = HOLDINGS[0],
               depth: Any = None, feed: Any = None, spring_passes: int = 3, shown: int = 1, tolerance: Any = None,
               material: Any = "aluminum 6061-T6", nose_radius: Any = None, edge_force: Any = None,
               ) -> SizeBench:  # fmt: skip
    """Return a bench for the size that comes out along a bar after the cut and after each spring pass.

    Size left = size set + error, with the error of `latheworks.deflection.size_error`, where force and bending are
    in balance: the bar that gives way lowers its own cut.

    Parameters, all optional, the soil corer's barrel by default: length standing out [mm, 5 to 2000]; outside of the
    blank [mm, 1 to 500] and its bore [mm, 0 to less than the outside]; holding, "in the chuck", "chuck and center" or
    "between centers"; depth of cut, on the radius [mm, 0.001 to less than the wall]; feed [mm/rev, 0.001 to 5];
    spring_passes at the same setting [0 to 20]; shown, the pass shown first [1 to spring_passes + 1]; tolerance, the
    most that the diameter may be left large, from 0 to plus this [mm, above 0 to 10]; material, a name from the
    table; nose_radius of the tool [mm, 0 to 20; 0.4 when left out]; edge_force, radial, there at the thinnest cut
    [N, 0 to 1000; 5 when left out, a teaching value]. Raises LatheworksError for what cannot be.
    Source: `latheworks.deflection.size_error`; the edge force is invented: measure your own.

    >>> size_bench(length=Q_(100, "mm"), shown=2)
    The size after each pass (bench): Inside the tolerance after spring pass 1: 0.003 mm large at most, 0 to 0.020 mm allowed.
    """  # noqa: E501

    with Door("size_bench") as door:
        long = given(length, 220.0, U.mm)
        door.number(long, "length", "mm", least=5.0, most=2000.0)
        across = door.number(given(outside, 32.0, U.mm), "outside", "mm", least=1.0, most=500.0)
        hole = door.number(given(bore, 20.0, U.mm), "bore", "mm", least=0.0, below=across)
        door.choice(holding, "holding", HOLDINGS)
        cut, advance = given(depth, 0.5, U.mm), given(feed, 0.1, U.mm_per_rev)
        door.number(cut, "depth", "mm", least=0.001, below=(across - hole) / 2)
        door.number(advance, "feed", "mm/rev", least=0.001, most=5.0)
        springs = door.whole(spring_passes, "spring_passes", least=0, most=20)
        first = door.whole(shown, "shown", least=1, most=springs + 1)
        stuff = pick(door, material)
        allowed = door.number(given(tolerance, 0.02, U.mm), "tolerance", "mm", above=0.0, most=10.0)
        nose = given(nose_radius, 0.4, U.mm)
        door.number(nose, "nose_radius", "mm", least=0.0, most=20.0)
        edge = door.number(given(edge_force, 5.0, U.N), "edge_force", "N", least=0.0, most=1000.0)
    opening = {"length": long, "holding": holding, "depth": cut, "feed": advance, "spring_passes": springs,
               "shown": first}  # fmt: skip
    bar = {"outside": across, "bore": hole, "material": stuff.name, "nose_radius": nose}
    return SizeBench(opening, bar, allowed, edge)
