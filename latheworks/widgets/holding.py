"""The holding bench: the bar in the lathe, how far it bends from the tool, and the size error it is left with."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.deflection import BetweenCenters, Chuck, ChuckAndCenter, Shaft, deflected_shape, deflection
from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.pictures.bar import HOLDINGS, BarPicture, HeldBar
from latheworks.pictures.style import Look
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.sizes import Size, given, mm

POINTS = 81


class HoldingBench(Bench):
    """A bar in the chuck, with a center, or between centers."""

    kind: ClassVar[str] = "holding"
    title: ClassVar[str] = "Hold the bar"
    picture_class = BarPicture

    def __init__(self, opening: Mapping[str, Any], tolerance: float, material: Any) -> None:
        self._opening, self._tolerance, self._material = opening, tolerance, material
        self._ways = dict(zip(HOLDINGS, (Chuck(), ChuckAndCenter(), BetweenCenters()), strict=True))
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        return (
            Size("length", "Bar length", "L", start["length"], mm(30), mm(400), (5.0, 0.25), mm(5), mm(2000)),
            Size("outside", "Outside", "D", start["outside"], mm(12), mm(60), (1.0, 0.0625), mm(1), mm(500),
                 by_fraction=True),
            Size("bore", "Bore", "d", start["bore"], mm(0), mm(36), (1.0, 0.0625), mm(0), mm(490)),
            Choice("holding", "Held", HOLDINGS, start["holding"]),
            Size("force", "Push", "F", start["force"], Q_(0.0, U.N), Q_(400.0, U.N), (10.0, 2.0),
                 Q_(0.0, U.N), Q_(10000.0, U.N), kind="force"),
            Size("at", "Tool at", "a", start["at"], mm(0), start["length"], (5.0, 0.25), mm(0)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        length = self._opening["length"]
        return {
            "Chuck, free end": {"holding": HOLDINGS[0], "at": length},
            "Chuck, short": {"holding": HOLDINGS[0], "length": length / 3, "at": length / 3},
            "Center, middle": {"holding": HOLDINGS[1], "at": length / 2},
            "Two centers, middle": {"holding": HOLDINGS[2], "at": length / 2},
            "Two centers, end": {"holding": HOLDINGS[2], "at": length},
        }

    def follow(self, changed: set[str]) -> None:
        length, tool = self.controls["length"].value, self.controls["at"]
        # A bar made shorter takes the tool along with its free end; a tool set beyond the end is refused.
        if "length" in changed and "at" not in changed and tool.value > length:
            tool.put(length)
        if tool.high != length:
            tool.run(Q_(0.0, U.mm), length)

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, HeldBar]:
        length, outside, bore, at = (values[name].m_as(U.mm) for name in ("length", "outside", "bore", "at"))
        written = self.controls["length"].written
        said = {name: self.controls[name].as_typed() for name in ("length", "outside", "bore", "at")}
        if bore >= outside:
            raise Impossible(
                f"A bore of {said['bore']} leaves no wall in a bar of {said['outside']}. "
                f"Type a bore of {written(values['outside'] * 0.5)} or less."
            )
        if at > length * (1 + 1e-9):
            raise OutOfRange(
                f"The tool at {said['at']} is past the end of a bar of {said['length']}. Type {said['length']} or less."
            )
        at = min(at, length)
        shaft = Shaft.bar(Q_(length, U.mm), Q_(outside, U.mm), Q_(bore, U.mm), self._material)
        along = np.linspace(0.0, length, POINTS)
        places, tool, force = Q_(along, U.mm), Q_(at, U.mm), values["force"]
        way = self._ways[values["holding"]]
        here = deflection(shaft, way, force, tool)
        errors = {name: 2 * deflection(shaft, each, force, places).m_as(U.mm) for name, each in self._ways.items()}
        shape = deflected_shape(shaft, way, force, tool, places).m_as(U.mm)
        data = HeldBar(length, outside, bore, values["holding"], force.m_as(U.N), at, self._tolerance, along, shape,
                       errors, 2 * here.m_as(U.mm))  # fmt: skip
        return here, data

    def read(self, data: HeldBar, look: Look) -> Reading:
        verdict = "Inside the tolerance all along" if data.inside else "Outside the tolerance"
        plug = ("A bored end takes no usual center: it needs a plug with a center hole, or a wide cone.",)
        most = ((f"most, {name}", look.mm(float(np.max(data.errors[name])))) for name in HOLDINGS)
        return Reading(
            data.inside,
            f"{verdict}: left {look.mm(data.largest)} large at most, 0 to {look.mm(data.tolerance)} allowed.",
            (
                ("held", data.holding),
                ("bend at the tool", look.mm(data.error_here / 2)),
                ("diameter large there", look.mm(data.error_here)),
                *most,
            ),
            ("Positions count from the headstock end. Length is "
             f"{data.length / data.outside:.1f} times the diameter. The bar bends away from the tool: the "
             "diameter is left large by twice the bend.", *(plug if data.needs_plug else ())),
        )  # fmt: skip


def holding_bench(length: Any = None, outside: Any = None, bore: Any = None, holding: str = HOLDINGS[0],
                  force: Any = None, at: Any = None, tolerance: Any = None,
                  material: Any = None) -> HoldingBench:  # fmt: skip
    """Return a bench for the bar in the chuck, with a center, or between centers, and the size error along it.

    diameter error = 2 x deflection under the tool.

    Parameters, all optional, the soil corer's barrel by default: length standing out [mm, 5 to 2000]; outside
    and bore diameter [mm]; holding, "in the chuck", "chuck and center" or "between centers"; force, the push of
    the tool square to the axis [N, 0 to 10 000]; at, where the tool stands from the headstock end [mm, 0 to the
    length]; tolerance, the most that the diameter may be left large, from 0 to plus this [mm, above 0 to 10]: a bar
    that bends away is never left small; material, a name from the table or an elastic modulus [MPa]. Raises
    LatheworksError for what cannot be. Source: `latheworks.deflection`.

    >>> holding_bench(length=Q_(80, "mm"), force=Q_(50, "N"))
    Hold the bar (bench): Inside the tolerance all along: left 0.014 mm large at most, 0 to 0.050 mm allowed.
    """

    with Door("holding_bench") as door:
        allowed = door.number(given(tolerance, 0.05, U.mm), "tolerance", "mm", above=0.0, most=10.0)
        long = given(length, 250.0, U.mm)
        door.number(long, "length", "mm", least=5.0, most=2000.0)
        door.choice(holding, "holding", HOLDINGS)
    opening = {
        "length": long, "outside": given(outside, 32.0, U.mm), "bore": given(bore, 20.0, U.mm), "holding": holding,
        "force": given(force, 100.0, U.N), "at": long if at is None else at,
    }  # fmt: skip
    return HoldingBench(opening, allowed, Q_(69000.0, U.MPa) if material is None else material)
