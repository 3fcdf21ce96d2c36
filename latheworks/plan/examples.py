"""The soil corer of the lessons, invented: its barrel and its cutting shoe, and a plan for each."""

from typing import Any

from latheworks.plan.feature import Feature
from latheworks.plan.operation import Operation
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.setup import Setup
from latheworks.units import Q_, Span, U

SIZE = "1-12 UNF"
# Tools of the teaching rack.
TURNING, FINISHING, CHAMFERING, INNER_CHAMFERING = (
    "right-hand tool", "finishing tool", "chamfer tool", "inside chamfer tool",
)  # fmt: skip
GROOVING, INNER_GROOVING = "3 mm grooving tool", "2 mm inside grooving tool"
OUTER_THREADING, INNER_THREADING = "threading tool", "inside threading tool"
CENTER, PILOT, DRILL, SHOE_DRILL = "center drill 3.15", "5 mm long drill", "20 mm long drill", "18 mm drill"
BORING = "16 mm boring bar"


def _mm(value: float | None) -> Any:
    return None if value is None else Q_(float(value), U.mm)


def _limits(low: float | None, high: float | None) -> Span:
    return Span(_mm(low), _mm(high))


def _on(name: str, kind: str, start: float, end: float, *sizes: float, limits: Any = None, **more: Any) -> Feature:
    """A feature with its places and diameters in mm."""
    first, last = (*map(_mm, sizes), None, None)[:2]
    return Feature(name, kind, _mm(start), _mm(end), first, last, limits=limits, **more)


def _cut(kind: str, feature: str, tool: str, **more: Any) -> Operation:
    """A cutting operation on one feature, with cutting fluid."""
    return Operation(kind, (feature,), tool, coolant=True, **more)


def corer_barrel() -> Part:
    """Return the barrel of the soil corer: aluminum, long and slender, bored through, with an internal thread.

    End A has the grip grooves, end B the socket for the cutting shoe. Raises nothing. Source: invented for teaching.

    >>> print(corer_barrel().title())
    corer barrel, aluminum 6061-T6
    """
    ra = Q_(3.2, "um")
    return Part("corer barrel", "6061-T6", (
        _on("face A", "face", 0, 0),
        _on("body", "cylinder", 0, 215, 32, limits=_limits(31.9, 32.0), finish=Q_(1.6, "um")),
        _on("grip grooves", "groove", 15, 19, 29, limits=_limits(28.9, 29.1), count=5, spacing=_mm(8),
            floor_radius=_mm(0.2)),
        _on("edge A", "chamfer", 0, 1, 30, 32),
        _on("nose", "cylinder", 215, 250, 30, limits=_limits(29.93, 30.0), length_limits=_limits(214.8, 215.2),
            finish=Q_(1.6, "um")),
        _on("edge B", "chamfer", 249, 250, 30, 28),
        _on("bore", "cylinder", 0, 226, 20, side="inside", limits=_limits(19.9, 20.4)),
        _on("socket", "cylinder", 226, 250, 23.35, side="inside", limits=_limits(23.12, 23.57), finish=ra,
            runout=_mm(0.1), datum="nose"),
        _on("thread relief", "groove", 226, 230, 25.8, side="inside", limits=_limits(25.6, 26.0),
            floor_radius=_mm(0.2)),
        _on("socket thread", "thread", 230, 250, side="inside", designation=f"{SIZE}-2B", runout=_mm(0.1),
            datum="nose"),
        _on("thread chamfer", "chamfer", 248.7, 250, 23.2, 25.8, side="inside"),
        _on("face B", "face", 250, 250, length_limits=_limits(249.8, 250.2), finish=ra),
    ), _mm(35), _mm(254), note="Invented for teaching: the barrel of a soil corer for a school garden.")  # fmt: skip


def cutting_shoe() -> Part:
    """Return the cutting shoe of the soil corer: steel, short and heavy, with the external thread and a tapered edge.

    End A is the screw, end B the cutting edge. Raises nothing. Source: invented for teaching.

    >>> print(cutting_shoe().length)
    58.0 millimeter
    """
    ra = Q_(3.2, "um")
    return Part("cutting shoe", "steel 1018", (
        _on("face A", "face", 0, 0),
        _on("screw", "cylinder", 0, 20, 25.21, limits=_limits(25.07, 25.35)),
        _on("screw relief", "groove", 16, 20, 22.3, limits=_limits(22.1, 22.5), floor_radius=_mm(0.2)),
        _on("screw thread", "thread", 0, 16, designation=f"{SIZE}-2A", runout=_mm(0.1), datum="collar"),
        _on("screw chamfer", "chamfer", 0, 1.5, 22.2, 25.2),
        _on("collar", "cylinder", 20, 46, 34, limits=_limits(33.9, 34.1), length_limits=_limits(45.8, 46.2),
            finish=ra),
        _on("cutting edge", "taper", 46, 58, 34, 22, finish=ra),
        _on("shoe bore", "cylinder", 0, 58, 19, side="inside", limits=_limits(19.0, 19.3), finish=ra, runout=_mm(0.1),
            datum="collar"),
        _on("face B", "face", 58, 58, length_limits=_limits(57.8, 58.2)),
    ), _mm(36), _mm(62), note="Invented for teaching: the cutting shoe of the soil corer.")  # fmt: skip


def barrel_plan() -> Plan:
    """Return a plan for the barrel: the socket end first, short in the jaws, its nose turned while the bar is cold
    and solid; then the other end, the outside last.

    Raises nothing. Source: invented for teaching; one good order among several.

    >>> barrel_plan().operations
    26
    """
    return Plan(corer_barrel(), (
        Setup("socket end", "A", _mm(70), stop=True, tailstock_locked=True, quill_locked=True, operations=(
            _cut("face", "face B", TURNING),
            _cut("turn", "nose", TURNING, leave=_mm(0.3)),
            _cut("turn", "nose", FINISHING, spring_passes=1),
            _cut("chamfer", "edge B", CHAMFERING),
            _cut("center drill", "bore", CENTER),
            _cut("drill", "bore", PILOT, drill_depth=_mm(129)),
            _cut("drill", "bore", DRILL, drill_depth=_mm(129)),
            _cut("bore", "socket", BORING, leave=_mm(0.2)),
            _cut("bore", "socket", BORING),
            _cut("groove", "thread relief", INNER_GROOVING),
            _cut("chamfer", "thread chamfer", INNER_CHAMFERING),
            _cut("thread", "socket thread", INNER_THREADING, spring_passes=2),
            Operation("deburr", ("socket thread", "nose")),
            Operation("gage", ("socket thread", "nose", "socket", "thread relief")),
        )),
        Setup("grip end", "B", _mm(70), stop=True, tailstock_locked=True, quill_locked=True,
              zero="face B against the stop", operations=(
            _cut("face", "face A", TURNING),
            _cut("center drill", "bore", CENTER),
            _cut("drill", "bore", PILOT, drill_depth=_mm(129)),
            _cut("drill", "bore", DRILL, drill_depth=_mm(129)),
            Operation("deburr", ("bore",)),
            Operation("gage", ("face A", "face B", "bore")),
        )),
        Setup("outside", "B", _mm(218), holding="soft jaws", support="cone center", tailstock_locked=True,
              quill_locked=True, zero="shoulder of the nose against the jaws", operations=(
            _cut("turn", "body", TURNING, leave=_mm(0.3)),
            _cut("groove", "grip grooves", GROOVING),
            _cut("turn", "body", FINISHING, spring_passes=1),
            _cut("chamfer", "edge A", CHAMFERING),
            Operation("deburr", ("grip grooves", "edge A")),
            Operation("gage", ("body", "grip grooves")),
        )),
    ))  # fmt: skip


def shoe_plan() -> Plan:
    """Return a plan for the cutting shoe: the edge end first, then turned round in soft jaws.

    Raises nothing. Source: invented for teaching; one good order among several.

    >>> shoe_plan().part.name
    'cutting shoe'
    """
    return Plan(cutting_shoe(), (
        Setup("edge end", "A", _mm(42), stop=True, tailstock_locked=True, quill_locked=True, operations=(
            _cut("face", "face B", TURNING),
            _cut("center drill", "shoe bore", CENTER),
            _cut("drill", "shoe bore", PILOT),
            _cut("drill", "shoe bore", SHOE_DRILL),
            _cut("turn", "collar", TURNING, leave=_mm(0.3)),
            _cut("taper", "cutting edge", TURNING, leave=_mm(0.2)),
            _cut("bore", "shoe bore", BORING, leave=_mm(0.3)),
            _cut("bore", "shoe bore", BORING, spring_passes=1),
            _cut("turn", "collar", FINISHING),
            _cut("taper", "cutting edge", FINISHING),
            Operation("deburr", ("cutting edge", "shoe bore")),
            Operation("gage", ("collar", "shoe bore", "face B")),
        )),
        Setup("screw end", "B", _mm(26), holding="soft jaws", stop=True, zero="face B against the stop", operations=(
            _cut("face", "face A", TURNING),
            _cut("turn", "screw", TURNING, leave=_mm(0.3)),
            _cut("turn", "screw", FINISHING),
            _cut("groove", "screw relief", GROOVING),
            _cut("chamfer", "screw chamfer", CHAMFERING),
            _cut("thread", "screw thread", OUTER_THREADING, spring_passes=2),
            Operation("deburr", ("screw thread",)),
            Operation("gage", ("screw thread", "screw", "screw relief", "face A")),
        )),
    ))  # fmt: skip
