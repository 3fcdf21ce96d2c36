"""What `making` returns: sizes to prepare, room for the tool, and what several starts change."""

from dataclasses import dataclass
from typing import Any

from latheworks.results import Result
from latheworks.shop import Lathe, cautions
from latheworks.tables import cite
from latheworks.threads.fit_door import system_of, written
from latheworks.threads.thread import Thread
from latheworks.units import Span, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class Making(Result):
    """How a thread is prepared and cut. Lengths are in the thread's own unit, angles in degrees.

    Fields: thread; blank, the diameter to turn (external: the class's major limits) or to bore (internal: its minor
    limits) before threading; under_nominal, how far the larger end of it lies under the nominal size (external);
    relief_width, relief_diameter; chamfer_diameter, where the chamfer starts on the end face, chamfer_length along
    the axis, chamfer_angle from the axis; depth of the groove on the radius; lead_angles at the major, pitch and
    minor diameter; leading_clearance and trailing_clearance, the side clearance to grind on the tool's flanks;
    tool_clearance, what relief under the point alone gives; left_leading, what of it the helix leaves on the leading
    flank; tilt, how far to tilt a tool with like flanks; spindle_limit and spindle_reason, as in `infeed`;
    relief_spindle, the fastest that can still be stopped by hand inside the relief; start_shift along the axis and
    start_turn of the spindle to the next start (0 for a single start); lathe.
    """

    thread: Thread
    blank: Span
    under_nominal: Any
    relief_width: Any
    relief_diameter: Any
    chamfer_diameter: Any
    chamfer_length: Any
    chamfer_angle: Any
    depth: Any
    lead_angles: tuple[Any, Any, Any]
    leading_clearance: Any
    trailing_clearance: Any
    tool_clearance: Any
    left_leading: Any
    tilt: Any
    spindle_limit: Any
    spindle_reason: str
    relief_spindle: Any
    start_shift: Any
    start_turn: Any
    lathe: Lathe
    least_clearance: Any
    tool_relief: Any

    @property
    def tool_rubs(self) -> bool:
        """Whether a tool with relief under its point alone would rub on the leading flank."""
        return bool(self.left_leading.magnitude < 0)

    def title(self) -> str:
        return f"Making {self.thread.designation}"

    def facts(self) -> list[tuple[str, str]]:
        """In the order of the work: prepare, relieve, chamfer, set the tool, set the speed."""
        t, system = self.thread, system_of(self.thread)
        word = "turn to" if t.external else "bore to"
        major, pitch, minor = (show(angle) for angle in self.lead_angles)
        trailing = show(self.trailing_clearance)
        if self.trailing_clearance.magnitude < 0:
            trailing += ", none to grind: the helix itself runs away from this flank"
        said = [
            (f"{word}, before threading", written(self.blank, system)),
            ("relief", f"{show(self.relief_width, system)} wide, {show(self.relief_diameter, system)} across"),
            ("chamfer", f"from {show(self.chamfer_diameter, system)} on the face, {show(self.chamfer_length, system)} "
             f"long, {show(self.chamfer_angle, digits=0)} to the axis"),
            ("depth, on the radius", show(self.depth, system)),
            ("lead angle", f"{pitch} at the pitch diameter, {major} at the major, {minor} at the minor"),
            ("leading flank's clearance", show(self.leading_clearance)),
            ("trailing flank's clearance", trailing),
            ("clearance of a plain tool", f"{show(self.tool_clearance)}, {show(self.left_leading)} of it left at the "
             "leading flank"),
            ("spindle", f"at most {show(self.spindle_limit)}: {self.spindle_reason}"),
            ("spindle, stopped by hand", f"at most {show(self.relief_spindle)}, to stop inside the relief"),
        ]  # fmt: skip
        if t.starts > 1:
            said += [
                ("lead", f"{show(t.lead, system)}, {t.starts} starts of {show(t.pitch, system)}"),
                ("next start", f"{show(self.start_shift, system)} along the axis, or {show(self.start_turn)}"),
                ("note", "Gear for the lead, cut to the depth of the pitch: the groove is no deeper for more starts."),
            ]
        return [*said, *(("note", note) for note in self.notes)]

    @property
    def notes(self) -> tuple[str, ...]:
        """What to mind; the standing caution last."""
        t, said = self.thread, []
        if t.external:
            said.append("Turn to the class's limits: the largest major diameter, not the nominal size, is the most.")
        else:
            said.append("Bore to the class's minor limits, in the middle of them: a bar cuts no oversize as a drill "
                        "does.")  # fmt: skip
        if self.tool_rubs:
            said.append(f"A plain tool rubs on its leading flank: tilt it by {show(self.tilt)} or grind the clearance.")
        if t.hand == "left":
            said.append("Left hand: the carriage feeds the other way, so the tool's other flank leads, and the tilt is "
                        "the other way.")  # fmt: skip
        if self.relief_spindle.magnitude < self.lathe.slowest_spindle.m_as(U.rpm):
            said.append("No speed of this lathe is slow enough to stop by hand in this relief: turn the spindle by "
                        "hand for the last turns, run the tool out, or cut away from the shoulder.")  # fmt: skip
        said.append("Relief of 3 pitches and its diameter are common practice, no source; a drawing or standard goes "
                    "first.")  # fmt: skip
        return (*said, str(cautions("threading")[-1]))

    @property
    def working(self) -> Working:
        """The lines from which the sizes, angles and speeds can be redone."""
        t, system = self.thread, system_of(self.thread)
        name = "major" if t.external else "minor"
        slack, half = show(self.least_clearance), t.included_angle.m_as(U.deg) / 2
        root = "least root - 0.1 P" if t.external else "largest root + 0.1 P"
        return Working(self.title(), (
            Line("blank", f"the class's {name} limits", "", written(self.blank, system), "the standard of the class"),
            Line("relief diameter", root, "", show(self.relief_diameter, system), "common practice, no source"),
            Line("relief width", "3 P, or as given", show(t.pitch, system), show(self.relief_width, system),
                 "common practice, no source"),
            Line("lead angle", "atan(lead / (pi d))", show(t.lead, system), show(self.lead_angles[1]), "definition"),
            Line("leading clearance", "lead angle at the smaller diameter + clearance",
                 f"{show(self.lead_angles[2])} + {slack}", show(self.leading_clearance), "geometry of the helix"),
            Line("trailing clearance", "clearance - lead angle at the larger diameter",
                 f"{slack} - {show(self.lead_angles[0])}", show(self.trailing_clearance), "geometry of the helix"),
            Line("plain tool", "atan(tan(relief) tan a)", f"relief {show(self.tool_relief)}, a {half:g}",
                 show(self.tool_clearance), cite("flank_clearance")),
            Line("stopped by hand", "(width - P) / (lead x reaction)", "", show(self.relief_spindle),
                 "geometry; reaction is common practice, no source"),
        ))  # fmt: skip
