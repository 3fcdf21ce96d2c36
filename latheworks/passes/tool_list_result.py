"""The tool list as text, as a page to print and as a table; its blanks stay blank."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Any

import numpy as np

from latheworks.passes.offsets import HeightError, OffsetError
from latheworks.passes.offsets_nose import NoseError
from latheworks.results import Result
from latheworks.shop import Tool, cautions
from latheworks.units import U, show

# What only the machine can tell; True where it is asked for of a tool in the tailstock, too.
BLANKS = {
    "offset X": False, "offset Z": True, "wear": False, "center height checked": False,
    "diameter measured after touching off": False, "initials": True,
}  # fmt: skip
_RULE, _NOT_ASKED = "________", "-"
# Common practice, no source.
_FIRST = (
    "With the spindle stopped: clamp the tool with the stickout of the list, no more; turn the chuck round by hand.",
)
_HEIGHT = "Set the edge to center height against a center or a gage; initial 'center height checked' when it is."
_STEPS = {
    "outside": (
        _HEIGHT,
        "Take a light cut over the face, leave the tool along the axis, draw it back across: that is offset Z.",
        "Take a light cut on the diameter, leave the tool across, draw it back along the axis; stop the spindle.",
        "Measure that diameter cold and write it down: offset X is set from it, not from the drawing.",
    ),
    "inside": (
        _HEIGHT,
        "Wind the bar to full depth with the spindle stopped: bar and holder must clear hole and face.",
        "Touch the face lightly: that is offset Z. Take a light cut in the bore, draw out along the axis; stop.",
        "Measure that bore and write it down: offset X is set from it. Drawing back goes toward the axis here.",
    ),
    "axis": (
        "Check the tailstock on the axis and the quill short and locked; no offset across.",
        "Touch the face lightly with the point: that is offset Z. The point's own length comes on top of the depth.",
    ),
}
_LAST = (
    "Cut a trial diameter, measure it, and only then put the difference into 'wear'.",
    "Whoever set the tool signs with initials. What is blank has not been done.",
)
_NAMES = {"outside": "tools outside", "inside": "tools in a bore", "axis": "tools in the tailstock"}


@dataclass(frozen=True, slots=True)
class ListedTool:
    """One line of the list: number; tool of the rack; diameter, the smallest that it cuts [mm]; and what the error of
    setting does: offset, height and nose; left_out, what leaving out the whole nose radius does; None where they do not
    apply. What is measured has no field."""

    number: int
    tool: Tool
    diameter: Any
    offset: OffsetError
    height: HeightError | None = None
    nose: NoseError | None = None
    left_out: NoseError | None = None


@dataclass(frozen=True, slots=True)
class ToolList(Result):
    """The tools of a job: rows, one a tool, in order; error of setting that the effects are for [mm]; rack, its name;
    system of the text. Nothing measured is kept here: the blanks are for a person."""

    rows: tuple[ListedTool, ...]
    error: Any
    rack: str
    system: str

    @property
    def steps(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """How to touch off, for the kinds of tool that the list has."""
        sides = {row.tool.side for row in self.rows}
        of_kinds = [(name, _STEPS[side]) for side, name in _NAMES.items() if side in sides]
        return (("each tool", _FIRST), *of_kinds, ("then", _LAST))

    def title(self) -> str:
        """How many tools, of which rack."""
        return f"tool list, {len(self.rows)} of the {self.rack}"

    def facts(self) -> list[tuple[str, str]]:
        """Each tool, its blanks as rules to write on, what an error does, and how to touch off."""
        rows = []
        for row in self.rows:
            nose = "" if row.tool.nose_radius is None else f", nose {show(row.tool.nose_radius, self.system)}"
            known = f"{row.tool.name}: {_shape(row, self.system)}{nose}, out {show(row.tool.stickout, self.system, 0)}"
            rows.append((f"T{row.number}", known))
            rows.append(("", "; ".join(f"{name} {_RULE}" for name in BLANKS if _blank(row, name))))
            rows.append(("", f"{show(self.error, self.system)} wrong {_effect(row, self.system)}"))
        return rows + self._how()

    def _how(self) -> list[tuple[str, str]]:
        """The steps and the cautions."""
        rows = [(name if i == 0 else "", text) for name, steps in self.steps for i, text in enumerate(steps)]
        said = [cautions("turning")[0], *cautions("gaging")]
        return [*rows, *(("caution", str(line)) for line in said)]

    def columns(self) -> dict[str, Any]:
        """A row a tool; the blanks are columns of empty text."""
        known = {
            "tool number": np.array([row.number for row in self.rows]),
            "tool": [row.tool.name for row in self.rows],
            "insert": [_shape(row, "metric") for row in self.rows],
            "nose radius [mm]": np.array([_plain(row.tool.nose_radius) for row in self.rows], dtype=object),
            "stickout [mm]": np.array([row.tool.stickout.m_as(U.mm) for row in self.rows]),
            "what the error does": [_effect(row, "metric") for row in self.rows],
        }
        return known | {name: [""] * len(self.rows) for name in BLANKS}

    def _repr_html_(self) -> str:
        cell = 'style="text-align:left;border:1px solid"'
        blank = cell.replace("border", "min-width:4.5em;border")
        heads = ("no.", "tool", "insert", "nose radius", "stickout", *BLANKS,
                 f"what {show(self.error, self.system)} wrong does")  # fmt: skip
        body = []
        for row in self.rows:
            nose = _NOT_ASKED if row.tool.nose_radius is None else show(row.tool.nose_radius, self.system)
            known = (row.tool.name, _shape(row, self.system), nose, show(row.tool.stickout, self.system, 0))
            cells = [
                f'<th scope="row" {cell}>T{row.number}</th>',
                *(f"<td {cell}>{escape(text)}</td>" for text in known),
            ]
            cells += [f"<td {blank}>{'' if _blank(row, name) else _NOT_ASKED}</td>" for name in BLANKS]
            body.append(f"<tr>{''.join(cells)}<td {cell}>{escape(_effect(row, self.system))}</td></tr>")
        head = "".join(f'<th scope="col" {cell}>{escape(name)}</th>' for name in heads)
        listed = "".join(f"<div><b>{escape(name)}</b> {escape(text)}</div>" if name else f"<div>{escape(text)}</div>"
                         for name, text in self._how())  # fmt: skip
        caption = f'<caption style="text-align:left">{escape(self.title())}</caption>'
        table = f"{caption}<thead><tr>{head}</tr></thead><tbody>{''.join(body)}</tbody>"
        return f'<table style="border-collapse:collapse">{table}</table>{listed}'


def _plain(size: Any) -> Any:
    return "" if size is None else float(size.m_as(U.mm))


def _shape(row: ListedTool, system: str) -> str:
    """Insert, blade, thread or point, in words."""
    tool = row.tool
    if tool.blade_width is not None:
        return f"blade {show(tool.blade_width, system)}"
    if tool.insert is not None:
        return f"{tool.insert}, {tool.hand}-hand" if tool.hand != "neutral" else f"{tool.insert}, neutral"
    if tool.threads:
        low, high = show(tool.least_pitch, system), show(tool.largest_pitch, system)
        return f"thread {show(tool.thread_angle)}, pitch {low} to {high}"
    point = f", point {show(tool.point_angle)}" if tool.point_angle is not None else ""
    return f"{show(tool.diameter, system)}{point}"


def _effect(row: ListedTool, system: str) -> str:
    """What the error of setting does, in words."""
    along = show(row.offset.length, system)
    if row.height is None:
        return f"along: depth {along}"
    small = row.height.error.m_as(U.mm) < 0.001
    size = f"less than {show(0.001 * U.mm, system)}" if small else show(row.height.error, system)
    surfaces = "pitch diameter" if row.tool.threads else "diameters"
    faces = "start of the thread" if row.tool.threads else "faces"
    said = [f"across: {surfaces} {show(row.offset.diameter, system)}", f"along: {faces} {along}",
            f"height: {show(row.diameter, system)} by {size}"]  # fmt: skip
    if row.tool.side == "outside" and not row.tool.threads:
        said.append(f"pip on a face {show(row.height.pip, system)}")
    if row.nose is not None and row.left_out is not None:
        whole = show(row.left_out.left_standing, system)
        said.append(f"nose radius: 45° chamfer {show(row.nose.left_standing, system)}, {whole} if left out")
    return "; ".join(said)


def _blank(row: ListedTool, name: str) -> bool:
    """Whether this tool has that blank to fill in."""
    return BLANKS[name] or row.tool.side != "axis"
