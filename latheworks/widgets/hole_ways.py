"""The ways bench: drill, ream, end mill or bore, each against the limits of a hole, and which wins."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.drilling import WaysToSize, ways_to_size
from latheworks.drilling.asked import material_rows
from latheworks.drilling.ways_result import PRIORITIES, SURE
from latheworks.errors import Impossible
from latheworks.materials import pick
from latheworks.pictures.style import Look
from latheworks.pictures.ways_zones import WayDrawn, WaysDrawn, WaysPicture
from latheworks.threads import thread
from latheworks.units import U
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Choice, Spec, Words
from latheworks.widgets.sizes import Size, given, mm


class WaysBench(Bench):
    """An internal thread whose minor diameter is wanted, how true its axis, and what counts."""

    kind: ClassVar[str] = "ways"
    title: ClassVar[str] = "Make the hole to size"
    picture_class = WaysPicture
    also: ClassVar[Mapping[str, str]] = {"hole": "thread", "designation": "thread"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        drilled = tuple(name for name, row in material_rows().items() if row["torque Kd"])
        return (
            Words("thread", "Internal thread", start["thread"]),
            Choice("material", "Material", drilled, start["material"]),
            Size("depth", "Hole depth", "l", start["depth"], mm(5.0), mm(60.0), (1.0, 0.05), mm(1.0), mm(500.0)),
            Size("position", "Axis within", "", start["position"], mm(0.02), mm(0.3), (0.01, 0.0005), mm(0.001),
                 mm(10.0)),
            Choice("priority", "What counts", PRIORITIES, start["priority"]),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        return {
            "Accuracy": {"priority": "accuracy"},
            "Tools on hand": {"priority": "tools on hand"},
            "True axis": {"position": mm(0.05)},
            "In steel": {"material": "steel 1018"},
            "A fine thread": {"thread": "M22x1-6H"},
            "Deep": {"depth": mm(60.0)},
        }

    def compute(self, values: Mapping[str, Any]) -> tuple[WaysToSize, WaysDrawn]:
        inside = thread(values["thread"])
        if inside.external:
            raise Impossible(
                f"Internal thread: {inside.designation} is an external one. Type {inside.mate().designation}."
            )
        found = ways_to_size(inside, values["depth"], values["material"], position=values["position"])
        best = found.best(values["priority"])
        ways = tuple(
            WayDrawn(way.name, _mm(way.likely.min), _mm(way.size), _mm(way.likely.max), _mm(way.position), way.holds,
                     float(way.time.m_as(U.s)), way.missing, way.why_not)
            for way in found.ways
        )  # fmt: skip
        low, high = _mm(found.limits.min), _mm(found.limits.max)
        data = WaysDrawn(found.hole, found.material, low, high, _mm(found.depth),
                         _mm(values["position"]), values["priority"], ways,
                         None if best is None else best.name)  # fmt: skip
        return found, data

    def read(self, data: WaysDrawn, look: Look) -> Reading:
        best = next((way for way in data.ways if way.name == data.best), None)
        facts = tuple(
            (way.name, "not open" if way.why_not else
             f"{way.in_100}, {way.seconds / 60:.1f} min, {way.lacks}")
            for way in data.ways
        )  # fmt: skip
        notes = [f"{way.name[0].upper()}{way.name[1:]} is not open: {way.why_not}." for way in data.ways if way.why_not]
        if best is None:
            return Reading(False, "No way is open.", facts, tuple(notes))
        sure = best.holds >= SURE
        verdict = f"On {data.priority} {best.name} wins: it holds in {best.in_100}, in {best.seconds / 60:.1f} min."
        if not sure:
            verdict = f"None is sure. {best.name[0].upper()}{best.name[1:]} holds in {best.in_100}, the best there is."
        notes.append(
            f"A way is sure when size and axis hold in {100 * SURE:.0f} of 100. A drill's oversize is published; what "
            "reaming, milling and boring leave is common practice: measure your own."
        )
        return Reading(sure, verdict, facts, tuple(notes))


def _mm(value: Any) -> float:
    return float(value.m_as(U.mm))


def ways_bench(thread: str = "1-12 UNF-2B", depth: Any = None, material: Any = "aluminum 6061-T6",
               position: Any = None, priority: str = "time") -> WaysBench:  # fmt: skip
    """Return a bench for the ways to the minor diameter of an internal thread: drill, ream, end mill or bore.

    Sizes, places and times as in `latheworks.drilling.ways_to_size`, with the teaching rack and lathe.

    Parameters, all optional, the soil corer's barrel by default: thread, the designation of an internal thread; depth
    [mm, 1 to 500; 20 when left out]; material, a name from the table with published drilling forces; position, how far
    the axis may be off [mm, 0.001 to 10; 0.15 when left out]; priority, "time", "accuracy" or "tools on hand".
    Raises LatheworksError for what cannot be. Source: `latheworks.drilling.ways_to_size`.

    >>> ways_bench().reading.verdict
    'On time drill wins: it holds in 100 of 100, in 1.9 min.'
    """

    with Door("ways_bench") as door:
        inside = door.text(thread, "thread", longest=80, example='thread="1-12 UNF-2B"')
        deep, off = given(depth, 20.0), given(position, 0.15)
        door.number(deep, "depth", "mm", least=1.0, most=500.0)
        door.number(off, "position", "mm", least=0.001, most=10.0)
        stuff = pick(door, material)
        if not (material_rows().get(stuff.name) or {}).get("torque Kd"):
            door.complain("material", stuff.name, "a material with published drilling forces", '"aluminum 6061-T6"')
        door.choice(priority, "priority", PRIORITIES)
    ways_to_size(inside, deep, stuff.name, position=off)
    return WaysBench({"thread": inside, "depth": deep, "material": stuff.name, "position": off, "priority": priority})
