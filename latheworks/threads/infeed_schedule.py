"""The infeed schedule: what `infeed` returns, how it shows itself, and its working by hand."""

import math
from dataclasses import dataclass
from html import escape
from typing import Any

from latheworks.materials import Material
from latheworks.results import Result
from latheworks.shop import Lathe
from latheworks.tables import cite
from latheworks.threads.forms import form
from latheworks.units import U, display_unit, show
from latheworks.working import Line, Working

LAW_FORMULAS = {
    "equal area": "h sqrt(k / n)",
    "equal depth": "h k / n",
    "eased first pass": "h sqrt(psi / (n - 1)), psi = 0.3, 1, 2, 3, ...",
}


@dataclass(frozen=True, slots=True, eq=False)
class InfeedSchedule(Result):
    """The passes of a single-point thread. Lengths are in the thread's own unit; depths are on the radius.

    Arrays, an entry a pass, cutting passes first and then the spring passes at full depth: depth, reached after
    the pass; step; side_shift, along the axis in the direction of the feed, from the touch-off (flank methods) or
    from the groove's center (radial, alternating); from_center, the same from the finished groove's center for
    every method; slide_travel, read on the compound (flank methods) or on the cross slide (others); area of the
    chip; force, the main cutting force [N], or None where the material has no published cutting pair; start_diameter
    and finish_diameter, where the tool's point starts and ends the pass on the basic form: the same on a parallel
    thread, apart by length/16 on NPT.

    Scalars: total_depth, passes, spring_passes, flat (at the tool's point), compound_angle [deg, from the cross
    slide's direction], spindle, spindle_limit [rev/min], spindle_reason, feed of the carriage [length/min],
    run_in before the thread, start_shift and start_turn to the next start (0 for a single start), length of the
    thread, time [s]. Also thread, law, method, material, lathe, notes.
    """

    thread: Any
    law: str
    method: str
    total_depth: Any
    passes: int
    spring_passes: int
    depth: Any
    step: Any
    start_diameter: Any
    finish_diameter: Any
    side_shift: Any
    from_center: Any
    slide_travel: Any
    area: Any
    force: Any
    flat: Any
    compound_angle: Any
    spindle: Any
    spindle_limit: Any
    spindle_reason: str
    feed: Any
    run_in: Any
    start_shift: Any
    start_turn: Any
    length: Any
    time: Any
    material: Material
    lathe: Lathe
    notes: tuple[str, ...]

    @property
    def system(self) -> str:
        """How this thread's lengths are written: "metric" or "inch"."""
        return "metric" if self.total_depth.units == U.mm else "inch"

    def title(self) -> str:
        """The thread, the law and the method."""
        return f"Infeed for {self.thread.designation}: {self.law}, {self.method}"

    def facts(self) -> list[tuple[str, str]]:
        """What to set on the machine, in the order it is set, then the notes."""
        said = [
            ("material", self.material.name),
            ("total depth, on the radius", show(self.total_depth, self.system)),
            ("total on a dial reading diameter", show(2 * self.total_depth, self.system)),
            ("passes", f"{self.passes} and {self.spring_passes} spring passes"),
        ]
        if self.method in ("flank", "modified flank"):
            said += [
                ("compound set to", f"{show(self.compound_angle)} from the cross slide's direction"),
                ("travel of the compound", show(self.slide_travel[-1], self.system)),
            ]
        said += [
            ("spindle", f"{show(self.spindle)}, limit {show(self.spindle_limit)}: {self.spindle_reason}"),
            ("carriage feed", f"{self.feed.magnitude:.4g} {self.feed.units:~P}"),
            ("run-in", show(self.run_in, self.system)),
        ]
        if self.thread.starts > 1:
            turn = show(self.start_turn)
            said.append(("next start", f"{show(self.start_shift, self.system)} along the axis, or {turn}"))
        if self.force is not None:
            said.append(("largest cutting force", show(self.force.max(), self.system)))
        minutes, seconds = divmod(round(self.time.m_as(U.s)), 60)
        said.append(("time at the machine", f"{minutes} min {seconds} s for {show(self.length, self.system)}"))
        return [*said, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a pass: number, kind, depth, step, shift, travel, area and force."""
        unit = f"{self.total_depth.units:~P}"
        total = self.passes + self.spring_passes
        found: dict[str, Any] = {
            "pass": list(range(1, total + 1)),
            "kind": ["cut"] * self.passes + ["spring"] * self.spring_passes,
            f"depth [{unit}]": self.depth.magnitude,
            f"step [{unit}]": self.step.magnitude,
            f"side shift [{unit}]": self.side_shift.magnitude,
            f"slide travel [{unit}]": self.slide_travel.magnitude,
            f"chip area [{unit}²]": self.area.magnitude,
        }
        if self.force is not None:
            force, written, _ = display_unit(self.force, self.system)
            found[f"force [{written}]"] = self.force.m_as(force)
        if self.thread.planes is not None:
            found[f"diameter at the start [{unit}]"] = self.start_diameter.magnitude
            found[f"at the finish [{unit}]"] = self.finish_diameter.magnitude
        return found

    def rows(self) -> list[list[str]]:
        """The same rows as written text, in shop digits."""
        places = {"metric": (3, 4), "inch": (4, 6)}[self.system]
        written = []
        for heading, values in self.columns().items():
            digits = 0 if heading.startswith("force") else places["area" in heading]
            written.append([v if isinstance(v, str) else str(v) if isinstance(v, int) else f"{v:.{digits}f}"
                            for v in values])  # fmt: skip
        return [list(row) for row in zip(*written, strict=True)]

    def __str__(self) -> str:
        table = [list(self.columns()), *self.rows()]
        widths = [max(len(row[i]) for row in table) for i in range(len(table[0]))]
        lines = ["  " + "  ".join(f"{cell:>{width}}" for cell, width in zip(row, widths, strict=True)) for row in table]
        return "\n".join([Result.__str__(self), "", *lines])

    def _repr_html_(self) -> str:
        left = 'style="text-align:left"'
        head = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in self.columns())
        body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in self.rows())
        caption = f"<caption {left}>Pass by pass</caption>"
        table = f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
        return Result._repr_html_(self) + table

    @property
    def working(self) -> Working:
        """The lines from which depth, first and last pass, chip, force, speed, run-in and time can be redone."""
        thread, system = self.thread, self.system

        def size(quantity: Any) -> str:
            return show(quantity, system)

        shape = form(thread)
        ratio = float((self.total_depth / thread.pitch).m_as(U.one))
        usual = abs(ratio * shape.pitch - shape.depth) < 1e-9
        opening, tan, half = shape.opening / shape.pitch, shape.tan, f"{shape.half_angle:g}"
        angle = self.compound_angle
        lines = [
            Line("H", f"{shape.height:.6f} P", f"{shape.height:.6f} x {size(thread.pitch)}",
                 size(thread.pitch * shape.height), f"height of the sharp {2 * shape.half_angle:g} degree V"),
            Line("h", shape.share if usual else "as given", f"{ratio:.4f} P", size(self.total_depth),
                 cite(shape.key) if usual else "asked for"),
            Line("tool flat", f"opening - 2 h tan {half}", f"{opening:.3f} P - {2 * ratio * tan:.4f} P",
                 size(self.flat),
                 "geometry: the groove is left as wide as the form asks"),
            Line("depth after pass k", LAW_FORMULAS[self.law], f"k = 1, n = {self.passes}", size(self.depth[0]),
                 cite("makers_infeed") if self.law == "eased first pass" else "geometry of the V"),
        ]  # fmt: skip
        if self.method in ("flank", "modified flank"):
            lines += [
                Line("compound travel", "h / cos(angle)", f"{size(self.total_depth)} / cos {show(angle)}",
                     size(self.slide_travel[-1]), "geometry"),
                Line("side shift", "h tan(angle)", f"{size(self.total_depth)} x tan {show(angle)}",
                     size(self.side_shift[-1]), "geometry"),
            ]  # fmt: skip
        area = show(self.area.sum(), system, 5)
        lines.append(
            Line("groove", f"h (flat + h tan {half}), the sum of the chips", f"{self.passes} passes", area, "geometry")
        )
        if self.force is not None:
            # In mm and N whatever the thread: published values of kc1.1 are for a chip of 1 mm by 1 mm.
            first, flat = self.depth[0].m_as(U.mm), self.flat.m_as(U.mm)
            # In the first pass a flank is cut along half its length on average, as thick as the step x sin(half angle).
            sine = tan / math.hypot(1.0, tan)
            flank = f"2 x {first / (2 * math.sqrt(1 - sine**2)):.3f} mm x {first * sine:.3f} mm"
            pair = f"kc1.1 {show(self.material.specific_cutting_force)}, mc {self.material.chip_thickness_exponent:g}"
            numbers = f"root {flat:.3f} mm x {first:.3f} mm, flanks {flank}, {pair}"
            force = show(self.force[0]) + (f", {show(self.force[0], system)}" if system == "inch" else "")
            lines.append(Line("Fc of pass 1", "kc1.1 b h^(1 - mc), root and two flanks added", numbers,
                              force, f"{cite('kienzle')}; {cite('akyildiz')}"))  # fmt: skip
        if thread.planes is not None:
            apart = f"{size(self.length)}/16"
            lines.append(Line("finish diameter", "start diameter " + ("+" if thread.external else "-") + " length/16",
                              f"{size(self.start_diameter[-1])}, {apart}", size(self.finish_diameter[-1]),
                              cite("b1201")))  # fmt: skip
        pull = self.lathe.acceleration
        pull = f"{pull.m_as('mm/s**2'):g} mm/s²" if system == "metric" else f"{pull.m_as('inch/s**2'):.4g} in/s²"
        reason = self.spindle_reason
        why = cite("threading_cap") if "teaching cap" in reason else reason
        travel = f"{size(self.length)} and {size(self.run_in)} run-in, {thread.starts} start(s)"
        return Working(self.title(), (
            *lines,
            Line("spindle limit", "the least of feed / lead, cap, top speed", "", show(self.spindle_limit), why),
            Line("carriage feed", "spindle x lead", f"{show(self.spindle)} x {size(thread.lead)}",
                 f"{self.feed.magnitude:.4g} {self.feed.units:~P}", "definition of lead"),
            Line("run-in", "v^2 / (2 a)", f"a = {pull}", size(self.run_in),
                 "constant acceleration"),
            Line("time", "passes x (travel / feed + travel / largest feed)", travel, show(self.time), "definition"),
        ))  # fmt: skip
