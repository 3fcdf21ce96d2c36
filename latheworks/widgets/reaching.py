"""The reach bench: a tool sliding along a profile, and what it has to leave standing."""

from collections.abc import Mapping
from typing import Any, ClassVar

import numpy as np

from latheworks.door import Door
from latheworks.errors import Impossible, OutOfRange
from latheworks.passes import Reach, reach
from latheworks.pictures.reaching import Piece, Reached, ReachPicture
from latheworks.pictures.style import Look
from latheworks.pictures.tool_outline import ToolShape
from latheworks.units import Q_, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.reach_work import BAR_REACH, REACH, TOOLS, WORKS, Kind, Work, angle, made
from latheworks.widgets.sizes import Size, mm

KEPT = 64  # closings: sliding the tool, or going back to a setting, then costs only the drawing
CLEARANCE = 2.0


class ReachBench(Bench):
    """A part of the corer, a tool, and the place of the tool along it."""

    kind: ClassVar[str] = "reach"
    title: ClassVar[str] = "What the tool can reach"
    picture_class = ReachPicture
    also: ClassVar[Mapping[str, str]] = {"entering_angle": "entering", "nose_radius": "size", "blade_width": "size",
                                         "reach": "out", "insert": "tool"}  # fmt: skip

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        self._found: dict[Any, Reach] = {}
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        def degree(value: float) -> Any:
            return Q_(float(value), U.deg)

        start = self._opening
        low, high = _ends(WORKS[start["work"]])
        return (
            Choice("work", "Work", tuple(WORKS), start["work"]),
            Choice("tool", "Tool", tuple(TOOLS), start["tool"]),
            Size("entering", "Entering angle", "\u03ba", start["entering"], degree(45), degree(120), (1.0, 1.0),
                 degree(10), degree(150), kind="angle"),
            Size("size", "Nose or width", "", start["size"], mm(0.1), mm(4), (0.1, 0.005), mm(0.05), mm(10)),
            Size("out", "Tip out", "l", start["out"], mm(0.5), mm(15), (0.5, 0.02), mm(0.2), mm(60)),
            Size("at", "Tool at", "z", start["at"], low, high, (0.5, 0.02)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        grip, taper, relief, bore = WORKS
        return {
            "C in the grooves": {"work": grip, "tool": "C, 80\u00b0"},
            "V in the grooves": {"work": grip, "tool": "V, 35\u00b0"},
            "Round": {"work": grip, "tool": "round"},
            "Blade": {"work": grip, "tool": "blade"},
            "Short blade": {"work": grip, "tool": "blade", "out": Q_(1.0, U.mm)},
            "Taper": {"work": taper, "tool": "C, 80\u00b0"},
            "Relief": {"work": relief, "tool": "D, 55\u00b0"},
            "In the bore": {"work": bore, "tool": "D, 55\u00b0"},
        }

    def follow(self, changed: Names) -> None:
        held = {name: item.value for name, item in self.controls.items()}
        kind, work = TOOLS[held["tool"]], WORKS[held["work"]]
        # Another tool comes with its own usual angle and size, other work with its own place and holder.
        if "tool" in changed:
            if "entering" not in changed and kind.entering is not None:
                self.controls["entering"].put(Q_(kind.entering, U.deg))
            if "size" not in changed:
                self.controls["size"].put(Q_(kind.size, U.mm))
        if "work" in changed:
            if "at" not in changed:
                self.controls["at"].put(Q_(work.start, U.mm))
            if "out" not in changed:
                self.controls["out"].put(Q_(BAR_REACH if work.profile.inside else REACH, U.mm))
        low, high = _ends(work)
        if self.controls["at"].low != low or self.controls["at"].high != high:
            self.controls["at"].run(low, high)

    def compute(self, values: Mapping[str, Any]) -> tuple[Reach, Reached]:
        kind, work = TOOLS[values["tool"]], WORKS[values["work"]]
        control, at = self.controls["at"], values["at"].m_as(U.mm)
        low, high = _ends(work)
        if not low <= values["at"] <= high:
            raise OutOfRange(
                f"Tool at: {control.as_typed()} is off the work, which goes from {control.written(low)} to "
                f"{control.written(high)}. Type {control.written(Q_(work.start, U.mm))}."
            )
        self._fits(kind, values)
        entering = values["entering"]
        if kind.hand == "neutral" and abs(entering.m_as(U.deg) - (kind.entering or 0)) > 1e-6:
            raise Impossible(
                f"Entering angle: {self.controls['entering'].as_typed()} on a neutral tool, which stands "
                f"the same to both sides. Type {kind.entering:g}\u00b0, or choose another tool."
            )
        key = (values["work"], values["tool"], *(float(values[name].m_as(unit)) for name, unit in
                                                 (("entering", U.deg), ("size", U.mm), ("out", U.mm))))  # fmt: skip
        if key not in self._found:
            tool = made(kind, entering, values["size"], values["out"], work.profile.inside)
            if len(self._found) >= KEPT:
                self._found.clear()
            self._found[key] = reach(work.profile, tool, _held(work.jaws), _held(work.center), Q_(CLEARANCE, U.mm))
        found = self._found[key]
        return found, _drawn(values["work"], work, found, values["tool"], at)

    def _fits(self, kind: Kind, values: Mapping[str, Any]) -> None:
        """Refuse, in the words of the page, an insert whose back would rub, and a nose longer than the tip."""
        entering, out = self.controls["entering"], self.controls["out"]
        if kind.entering is not None and values["entering"].m_as(U.deg) + angle(kind) > 180.0 - 1e-9:
            raise Impossible(
                f"Entering angle: {entering.as_typed()} and an insert of {angle(kind):g}\u00b0 leave no room "
                f"behind: the insert would rub on what it has cut. Type {kind.entering:g}\u00b0."
            )
        if kind.insert is not None and values["out"] <= values["size"]:
            raise Impossible(
                f"Tip out: {out.as_typed()} is no more than the nose radius. Type {out.written(4 * values['size'])}."
            )

    def read(self, data: Reached, look: Look) -> Reading:
        tool = data.tool
        facts = []
        if tool.entering is not None:
            facts.append(("entering angle", f"{tool.entering:g}\u00b0"))
            facts.append(("insert angle", f"{tool.angle:g}\u00b0"))
            facts.append(("back clears a fall of", f"{min(tool.back or 0.0, 90.0):g}\u00b0"))
        if tool.width is not None:
            facts.append(("blade", f"{look.mm(tool.width)} wide"))
        facts.append(("corner radius" if tool.width is not None else "nose radius", look.mm(tool.nose)))
        facts.append(("out of its bar" if data.inside else "out of its shank", look.mm(tool.reach)))
        facts.append(("left standing", look.mm2(data.area) if data.pieces else "nothing"))
        facts.append(("most on the radius", look.mm(max((piece.height for piece in data.pieces), default=0.0))))
        reasons = dict.fromkeys(piece.why for piece in data.pieces)
        notes = [f"{why[0].upper()}{why[1:]}." for why in reasons]
        if tool.entering is None:
            notes.append("This tool has no entering angle: that control does nothing here.")
        if not data.inside:
            notes.append(f"{look.mm(CLEARANCE)} are kept to jaws and center.")
        places = sum(piece.count for piece in data.pieces)
        verdict = "It reaches the whole profile." if not data.pieces else (
            f"It leaves {look.mm2(data.area)} standing, in {places} place{'s' if places > 1 else ''}: for another "
            "tool, or another hold."
        )  # fmt: skip
        return Reading(not data.pieces, verdict, tuple(facts), tuple(notes))


def _ends(work: Work) -> tuple[Any, Any]:
    return Q_(float(work.profile.z[0]), U.mm), Q_(float(work.profile.z[-1]), U.mm)


def _held(pair: tuple[float, float] | None) -> tuple[Any, Any] | None:
    return None if pair is None else (Q_(pair[0], U.mm), Q_(pair[1], U.mm))


def _drawn(name: str, work: Work, found: Reach, tool: str, at: float) -> Reached:
    """The library's result as what the picture draws."""
    kind, made_tool, profile = TOOLS[tool], found.tool, found.profile
    place = found.place.m_as(U.mm)
    near = min(int(np.searchsorted(place, at)), place.size - 1)
    shape = ToolShape(
        kind.words, kind.insert, None if made_tool.entering_angle is None else made_tool.entering_angle.m_as(U.deg),
        angle(kind), made_tool.nose_radius.m_as(U.mm),
        None if made_tool.blade_width is None else made_tool.blade_width.m_as(U.mm), made_tool.reach.m_as(U.mm),
        made_tool.shank.m_as(U.mm), kind.hand,
        None if made_tool.bar_length is None else made_tool.bar_length.m_as(U.mm),
    )  # fmt: skip
    pieces = tuple(
        Piece(p.start.m_as(U.mm), p.end.m_as(U.mm), p.area.m_as(U.mm2), p.height.m_as(U.mm), p.count, p.reason, p.why)
        for p in found.standing
    )
    return Reached(
        name, profile.inside, profile.z, profile.radius, profile.stock.m_as(U.mm) / 2, work.other / 2,
        None if work.jaws is None else (work.jaws[0], work.jaws[1] / 2),
        None if work.center is None else (work.center[0], work.center[1] / 2), found.z.m_as(U.mm),
        found.wanted.m_as(U.mm) / 2, found.left.m_as(U.mm) / 2, pieces, found.area.m_as(U.mm2), shape, at,
        float(np.interp(at, place, found.path.m_as(U.mm))) / 2, found.stopped_by[near],
    )  # fmt: skip


def reach_bench(work: str = "barrel, grip grooves", tool: str = "D, 55\u00b0", entering: Any = None, size: Any = None,
                out: Any = None, at: Any = None) -> ReachBench:  # fmt: skip
    """Return a bench for what a tool can reach of a part of the soil corer, and what it has to leave.

    The closing of the profile by the tool's shape, with the reasons, as in `latheworks.passes.reach`.

    Parameters, all optional: work, a part of the corer by name; tool, a tool by name; entering angle [deg, 10 to 150];
    size, the nose radius, or the width of a blade [mm, 0.05 to 10]; out, how far the tip stands out of shank or bar
    [mm, 0.2 to 60]; at, the place of the tool from the headstock end of the profile [mm, on the profile].
    Raises LatheworksError for what cannot be. Source: `latheworks.passes.reach`; parts and tools are invented.

    >>> bench = reach_bench("shoe, relief behind the thread", tool="blade")
    >>> [piece.reason for piece in bench.result.standing]
    ['jaws']
    """
    with Door("reach_bench") as door:
        part = WORKS[door.choice(work, "work", tuple(WORKS))]
        kind = TOOLS[door.choice(tool, "tool", tuple(TOOLS))]
        low, high = (end.m_as(U.mm) for end in _ends(part))
        kappa = Q_(kind.entering or 90.0, U.deg) if entering is None else entering
        door.number(kappa, "entering", "degree", least=10.0, most=150.0)
        across = Q_(kind.size, U.mm) if size is None else size
        door.number(across, "size", "mm", least=0.05, most=10.0)
        long = Q_(BAR_REACH if part.profile.inside else REACH, U.mm) if out is None else out
        door.number(long, "out", "mm", least=0.2, most=60.0)
        place = Q_(part.start, U.mm) if at is None else at
        door.number(place, "at", "mm", least=low, most=high)
    bench = ReachBench({"work": work, "tool": tool, "entering": kappa, "size": across, "out": long, "at": place})
    if bench.error:
        bench.close()
        raise Impossible(bench.error)
    return bench
