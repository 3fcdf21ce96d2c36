"""The hole bench: a drill going down from the tailstock, what it asks of the lathe, and what limits it."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.cutting.power import spindle_curve
from latheworks.deflection import clamping_friction
from latheworks.door import Door
from latheworks.drilling import DrilledHole, drill_hole
from latheworks.drilling.asked import material_rows
from latheworks.drilling.hole_steps import FLUTES_OUT
from latheworks.drilling.pecking import BULK
from latheworks.errors import OutOfRange
from latheworks.materials import pick
from latheworks.pictures.drilling_down import DrillingPicture, HoleStage, Meets, coarse, torque
from latheworks.pictures.style import Look
from latheworks.shop import lathe
from latheworks.units import Q_, U, show
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, mm

KINDS = ("through", "blind")
PILOTS = ("with a pilot", "no pilot")
KEPT = 64  # plans: moving the drill, or going back to a setting, then costs only the drawing


class HoleBench(Bench):
    """A part in the chuck, a hole, a drill with or without a pilot, and how far it has gone."""

    kind: ClassVar[str] = "hole"
    title: ClassVar[str] = "Drill the hole"
    picture_class = DrillingPicture

    def __init__(self, opening: Mapping[str, Any], outside: float, hold: Mapping[str, Any]) -> None:
        self._opening, self._outside, self._hold = opening, outside, hold
        self._found: dict[Any, DrilledHole] = {}
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start, most = self._opening, min(0.95 * self._outside, 100.0)
        drilled = tuple(name for name, row in material_rows().items() if row["torque Kd"])
        return (
            Choice("material", "Material", drilled, start["material"]),
            Choice("kind", "Hole", KINDS, start["kind"]),
            Size("depth", "Hole depth", "l", start["depth"], mm(10), mm(290), (5.0, 0.25), mm(1), mm(2000)),
            Size("diameter", "Diameter", "d", start["diameter"], mm(3), mm(min(20.0, most)), (0.5, 0.02), mm(0.3),
                 mm(most)),
            Choice("pilot", "Pilot", PILOTS, start["pilot"]),
            Size("drilled", "Drilled", "s", start["drilled"], mm(0), mm(300), (1.0, 0.05), mm(0)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        own = {"kind": KINDS[0], "depth": mm(250), "diameter": mm(20), "pilot": PILOTS[0]}
        return {
            "Third peck": {**own, "drilled": mm(70)},
            "First end done": {**own, "drilled": mm(132)},
            "Where they meet": {**own, "drilled": mm(255)},
            "No pilot": {"pilot": PILOTS[1]},
            "One end is enough": {**own, "depth": mm(140), "drilled": mm(90)},
            "Blind": {**own, "kind": KINDS[1], "depth": mm(40), "drilled": mm(46)},
            "In steel": {"material": "steel 1018"},
            "Small drill": {**own, "kind": KINDS[1], "diameter": mm(6), "depth": mm(45), "drilled": mm(40)},
        }

    def _plan(self, values: Mapping[str, Any]) -> DrilledHole:
        names = ("material", "kind", "pilot")
        key = (*(values[name] for name in names), *(float(values[name].m_as(U.mm)) for name in ("depth", "diameter")))
        if key not in self._found:
            made = drill_hole(
                values["diameter"], values["depth"], values["material"], values["kind"] == KINDS[0],
                pilot="auto" if values["pilot"] == PILOTS[0] else False,
                grip_diameter=Q_(self._outside, U.mm), **self._hold,
            )  # fmt: skip
            if len(self._found) >= KEPT:
                self._found.clear()
            self._found[key] = made
        return self._found[key]

    def follow(self, changed: Names) -> None:
        last = _travel(self._plan({name: item.value for name, item in self.controls.items()}))
        drilled = self.controls["drilled"]
        # A shorter hole takes the drill back; a travel that is asked for beyond its end is refused.
        if "drilled" not in changed and drilled.value > last:
            drilled.put(last)
        if drilled.high != last:
            drilled.run(Q_(0.0, U.mm), last)

    def compute(self, values: Mapping[str, Any]) -> tuple[DrilledHole, HoleStage]:
        found = self._plan(values)
        last = _travel(found)
        if values["drilled"] > last * (1 + 1e-9):
            control = self.controls["drilled"]
            end = control.written(Q_(np.floor(1000 * last.m_as(U.mm)) / 1000, U.mm))
            raise OutOfRange(
                f"Drilled: {control.as_typed()} is past the end of the hole, at {end}. Type {end} or less."
            )
        gone = min(float(values["drilled"].m_as(U.mm)), float(last.m_as(U.mm)))
        return found, _stage(found, self._outside, gone)

    def read(self, data: HoleStage, look: Look) -> Reading:
        mm = look.mm
        facts = [
            ("drill", data.name if look.system == "metric" else mm(data.drill)),
            ("pilot", mm(data.pilot) if data.pilot else "none"),
            ("spindle", show(Q_(data.spindle, U.rpm))),
            ("feed", show(Q_(data.feed, U.mm_per_rev), look.system)),
            ("thrust", f"{look.newton(data.thrust[0])} to {look.newton(data.thrust[1])}"),
            ("torque", f"{torque(data.torque[0], look)} to {torque(data.torque[1], look)}"),
            (
                "travel from an end",
                " and ".join(coarse(value, look) for value in data.travels),
            ),
            ("pecks", " and ".join(str(len(stops)) for stops in data.pecks)),
            ("time, all tools", f"{data.seconds / 60:.1f} min"),
        ]
        if data.meets is not None:
            facts += [("step, expected", mm(data.meets.step)), ("step, at worst", mm(data.meets.worst_step)),
                      ("leave to bore", mm(data.meets.worst_allowance))]  # fmt: skip
        good = data.grip <= data.grip_most and data.torque[1] <= data.torque_most
        if not good:
            verdict = "Not so: the jaws may slip." if data.grip > data.grip_most else "Not so: the spindle may stall."
        elif data.meets is not None:
            verdict = f"Too deep for one end: drill from both, and leave {mm(data.meets.worst_allowance)} to bore."
        else:
            verdict = "It can be drilled from one end."
        verdict += f" Limited by {', '.join(data.limited_by)}." if data.limited_by else " Nothing limits it."
        notes = []
        if data.drill < data.wanted - 1e-6:
            notes.append(f"The rack's nearest drill leaves {mm(data.wanted - data.drill)} to ream or bore.")
        notes.append(
            "Thrust and torque are a band of three published forms, with the lips fully in and a used drill; the "
            "highest counts. Times include clearing chips and setting the tailstock (common practice)."
        )
        return Reading(good, verdict, tuple(facts), tuple(notes))


def _travel(found: DrilledHole) -> Any:
    """The last drill's travel, from both ends together."""
    return sum(step.travel for step in found.steps if step.does == "drill")


def _stage(found: DrilledHole, outside: float, drilled: float) -> HoleStage:
    """The library's plan as what the picture draws."""
    cuts = [step for step in found.steps if step.does == "drill"]
    own = {word for step in cuts for word in step.limits}
    names = [word.partition(":")[0] for word in found.limits if word in own or word.startswith(("jaw", "flute"))]
    pilots = [step for step in found.steps if step.does == "pilot"]
    cut, tool, m = cuts[-1], found.drill, found.meeting
    d = float(tool.diameter.m_as(U.mm))
    cone = float((tool.diameter / 2 / np.tan(tool.point_angle.m_as(U.rad) / 2)).m_as(U.mm))
    turns = float(cut.spindle.m_as(U.rpm))
    meets = None
    if m is not None:
        meets = Meets(
            float(m.runout.m_as(U.mm)) / 2, float(m.drift.m_as(U.one)) / 100,
            *(float(each.m_as(U.mm)) for each in (m.step, m.worst_step, m.allowance, m.worst_allowance)),
        )  # fmt: skip
    return HoleStage(
        found.material, outside, float(found.diameter.m_as(U.mm)), float(found.depth.m_as(U.mm)), found.through,
        tool.name, d, float(tool.point_angle.m_as(U.deg)), cone, float(tool.reach.m_as(U.mm)), FLUTES_OUT * d,
        float(pilots[-1].tool.diameter.m_as(U.mm)) if pilots else 0.0,
        tuple(float(step.travel.m_as(U.mm)) for step in cuts),
        tuple(np.cumsum(step.pecks.m_as(U.mm)) for step in cuts), BULK, drilled, turns,
        float(cut.feed.m_as(U.mm_per_rev)), (float(cut.thrust.min.m_as(U.N)), float(cut.thrust.max.m_as(U.N))),
        (float(cut.torque.min.m_as("N*m")), float(cut.torque.max.m_as("N*m"))),
        float(spindle_curve(lathe(), turns)[0]), float(found.grip_needed.m_as(U.N)),
        float(found.grip_available.m_as(U.N)), float(lathe().quill_travel.m_as(U.mm)), cut.settings,
        float(found.time.m_as(U.s)), meets, tuple(dict.fromkeys(names)),
    )  # fmt: skip


def hole_bench(depth: Any = None, diameter: Any = None, material: Any = "aluminum 6061-T6", kind: str = KINDS[0],
               pilot: str = PILOTS[0], drilled: Any = None, outside: Any = None, stop: Any = True,
               jaws: str = "diamond") -> HoleBench:  # fmt: skip
    """Return a bench for a hole drilled from the tailstock: thrust, torque, pecks and chips as the drill goes down.

    Steps, loads and limits as in `latheworks.drilling.drill_hole`, on the teaching lathe with the teaching rack.

    Parameters, all optional, the soil corer's barrel by default: depth of the full diameter [mm, 1 to 2000]; diameter
    of the hole [mm, 0.3 to 0.95 of the outside]; material, a name from the table with published drilling forces;
    kind, "through" or "blind"; pilot, "with a pilot" (from 12 mm, where the rack has one) or "no pilot"; drilled, how
    far the drill has gone, from both ends together [mm, 0 to its whole travel]; outside of the part, where the jaws
    hold [mm, 1 to 100]; stop, True where a stop or a shoulder takes the thrust; jaws, "smooth", "diamond" or
    "serrated", as in `latheworks.deflection.clamping_friction`.
    Raises LatheworksError for what cannot be. Source: `latheworks.drilling.drill_hole`.

    >>> hole_bench().reading.verdict
    'Too deep for one end: drill from both, and leave 0.353 mm to bore. Limited by quill, torque, flute length.'
    """

    with Door("hole_bench") as door:
        across = door.number(given(outside, 32.0), "outside", "mm", least=1.0, most=100.0)
        size, deep, gone = given(diameter, 20.0), given(depth, 250.0), given(drilled, 0.0)
        door.number(size, "diameter", "mm", least=0.3, most=0.95 * across)
        door.number(deep, "depth", "mm", least=1.0, most=2000.0)
        stuff = pick(door, material)
        if stuff.name not in material_rows() or not material_rows()[stuff.name]["torque Kd"]:
            door.complain("material", stuff.name, "a material with published drilling forces", '"aluminum 6061-T6"')
        door.choice(kind, "kind", KINDS)
        door.choice(pilot, "pilot", PILOTS)
        door.number(gone, "drilled", "mm", least=0.0, most=4200.0)
        if not isinstance(stop, bool):
            door.complain("stop", f"{stop!r:.40}", "True or False", "stop=True")
        share = clamping_friction(door.choice(jaws, "jaws", ("smooth", "diamond", "serrated")))
    hold = {"stop": stop, "friction": share}
    found = drill_hole(size, deep, stuff.name, kind == KINDS[0], pilot="auto" if pilot == PILOTS[0] else False,
                       grip_diameter=Q_(across, U.mm), **hold)  # fmt: skip
    if gone > _travel(found):
        last = show(_travel(found))
        raise OutOfRange(f"drilled: got {show(gone)}, past the end of the hole at {last}. Try drilled=Q_(0, 'mm').")
    opening = {"depth": deep, "diameter": size, "material": stuff.name, "kind": kind, "pilot": pilot, "drilled": gone}
    return HoleBench(opening, across, hold)
