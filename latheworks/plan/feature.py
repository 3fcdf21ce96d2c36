"""One feature of a turned part: where it lies, its size and its limits."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

from latheworks.door import Door, given
from latheworks.errors import Impossible, LatheworksError, WrongUnit
from latheworks.results import Result
from latheworks.threads import Thread, thread
from latheworks.units import Q_, Span, U, show

KINDS = ("cylinder", "taper", "groove", "thread", "chamfer", "face")
SIDES = ("outside", "inside")
ENDS = ("A", "B")
LARGEST = 10_000.0  # mm
MOST_COUNT = 200
_LIMITS = 'limits=Span(Q_(31.95, "mm"), Q_(32.0, "mm"))'


class PlainFeature(NamedTuple):
    """A feature on plain floats [mm, um]; an open limit is None; limits of a thread are those of its pitch diameter."""

    name: str
    kind: str
    inside: bool
    start: float
    end: float
    diameter: float
    end_diameter: float
    low: float | None
    high: float | None
    repeats: int
    spacing: float
    floor_radius: float
    finish: float | None
    pitch: float
    length_low: float | None
    length_high: float | None

    @property
    def tolerance(self) -> float | None:
        """The width of the limits; None where an end is open."""
        return None if self.low is None or self.high is None else self.high - self.low

    @property
    def aim(self) -> float:
        """The size to aim at: the middle of the limits where both are there, else the size written."""
        return self.diameter if self.low is None or self.high is None else (self.low + self.high) / 2


@dataclass(frozen=True)
class Feature(Result):
    """One feature of a part, in the part's own place along the axis: z is 0 at end A and grows toward end B.

    Parameters: name, its own in the part [1 to 40 characters]; kind, "cylinder" (a bore is one inside), "taper",
    "groove", "thread", "chamfer" or "face"; start and end along the axis [mm, start below end; of a face both its
    place]; diameter [mm, above 0; of a groove that of its floor, of a taper or a chamfer that at its start, of a thread
    not asked for]; end_diameter of a taper or a chamfer, at its end [mm]; side, "outside" or "inside"; limits of the
    diameter, a Span of which one end may be open [mm; none when left out: of a thread they are those of its
    designation]; length_limits of where a face or a shoulder at `end` lies from end A, or of a groove's width [mm, a
    Span; none when left out]; finish, the roughness Ra allowed [um, above 0 to 100; not asked for when left out];
    designation of a thread, such as "M16x1.5-6H"; count of repeated grooves [1 to 200] and spacing from one to the
    next [mm]; floor_radius of a groove [mm]; runout, to the datum, whole reading allowed [mm, above 0]; datum, the
    name of the feature it is held to.
    Raises LatheworksError naming every argument that does not fit. Source: geometry; limits are the drawing's.

    >>> body = Feature("body", "cylinder", Q_(0, "mm"), Q_(250, "mm"), Q_(32, "mm"), limits=Span(Q_(31.9, "mm"), None))
    >>> body.plain.low
    31.9
    """

    name: str
    kind: str
    start: Any
    end: Any
    diameter: Any = None
    end_diameter: Any = None
    side: str = "outside"
    limits: Span | None = None
    length_limits: Span | None = None
    finish: Any = None
    designation: str | None = None
    count: int = 1
    spacing: Any = None
    floor_radius: Any = None
    runout: Any = None
    datum: str | None = None
    plain: PlainFeature = field(init=False, repr=False, compare=False)
    thread: Thread | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        with Door("Feature") as door:
            door.text(self.name, "name", longest=40, example="body")
            kind = door.choice(self.kind, "kind", KINDS)
            inside = door.choice(self.side, "side", SIDES) == "inside"
            start = door.number(self.start, "start", "mm", least=-LARGEST, most=LARGEST, example='start=Q_(0, "mm")')
            end = door.number(self.end, "end", "mm", least=-LARGEST, most=LARGEST, example='end=Q_(40, "mm")')
            if not door.complaints and (start > end or (start == end) != (kind == "face")):
                word = "the same place for both" if kind == "face" else "an end beyond the start"
                door.complain("start and end", f"{start:g} and {end:g} mm", word, f'end=Q_({start + 10:g}, "mm")')
            cut = self._thread(door, kind, inside)
            size, far = self._sizes(door, kind, cut, inside)
            limits = _span(door, self.limits, "limits", _LIMITS)
            if cut is not None and self.limits is None:
                limits = _ends(cut.limits.pitch_diameter)
            lengths = _span(door, self.length_limits, "length_limits", _LIMITS.replace("limits", "length_limits"))
            finish = None if self.finish is None else door.number(self.finish, "finish", "um", above=0, most=100,
                                                                  example='finish=Q_(1.6, "um")')  # fmt: skip
            count = door.whole(self.count, "count", least=1, most=MOST_COUNT)
            spacing = self._spacing(door, kind, start, end, count)
            radius = 0.0 if self.floor_radius is None else door.number(
                self.floor_radius, "floor_radius", "mm", least=0, most=max((end - start) / 2, 0.0)
            )  # fmt: skip
            if self.runout is not None:
                door.number(self.runout, "runout", "mm", above=0, most=10, example='runout=Q_(0.05, "mm")')
            if self.datum is not None:
                door.text(self.datum, "datum", longest=40, example="bore")
        pitch = 0.0 if cut is None else float(cut.pitch.m_as(U.mm))
        object.__setattr__(self, "thread", cut)
        object.__setattr__(self, "plain", PlainFeature(
            self.name, kind, inside, start, end, size, far, *limits, count, spacing, radius, finish, pitch, *lengths,
        ))  # fmt: skip

    def _thread(self, door: Door, kind: str, inside: bool) -> Thread | None:
        """The thread that the designation names, on the side that the feature lies."""
        if kind != "thread":
            if self.designation is not None:
                door.complain("designation", given(self.designation), "none, but for a thread", 'kind="thread"')
            return None
        try:
            cut = thread(self.designation or "")
        except LatheworksError as error:
            door.complain("designation", given(self.designation), f"a thread ({str(error)[:120]})",
                          'designation="M16x1.5-6g"', WrongUnit)  # fmt: skip
            return None
        if cut.external == inside:
            mate = "6H" if inside else "6g"
            door.complain("designation", cut.designation, f"an {'internal' if inside else 'external'} thread for the "
                          f"{self.side}", f"the other class, such as {mate}")  # fmt: skip
        return cut

    def _sizes(self, door: Door, kind: str, cut: Thread | None, inside: bool) -> tuple[float, float]:
        """The diameter at the start, or of the floor, and at the end [mm]."""
        if kind == "thread":
            if self.diameter is not None:
                door.complain("diameter", given(self.diameter), "none: the designation says it", "to leave it out")
            size = 1.0 if cut is None else float((cut.minor if inside else cut.major).m_as(U.mm))
            return size, size
        if kind == "face" and self.diameter is None:
            return 0.0, 0.0
        size = door.number(self.diameter, "diameter", "mm", above=0, most=LARGEST, example='diameter=Q_(32, "mm")')
        if kind in ("taper", "chamfer"):
            far = door.number(self.end_diameter, "end_diameter", "mm", above=0, most=LARGEST,
                              example='end_diameter=Q_(30, "mm")')  # fmt: skip
            return size, far
        if self.end_diameter is not None:
            door.complain("end_diameter", given(self.end_diameter), "none, but for a taper or a chamfer",
                          'kind="taper"')  # fmt: skip
        return size, size

    def _spacing(self, door: Door, kind: str, start: float, end: float, count: int) -> float:
        """From one groove to the next [mm]; 0 for a single one."""
        if count == 1:
            return 0.0
        if kind != "groove":
            door.complain("count", str(count), "1, but for grooves", "count=1", Impossible)
            return 0.0
        width = end - start
        apart = door.number(self.spacing, "spacing", "mm", above=0, most=LARGEST,
                            example=f'spacing=Q_({2 * width:g}, "mm")')  # fmt: skip
        if apart <= width:
            door.complain("spacing", f"{apart:g} mm for grooves {width:g} mm wide", "more than the width, so that a "
                          "wall stays", f'spacing=Q_({2 * width:g}, "mm")')  # fmt: skip
        return apart

    @property
    def last_end(self) -> float:
        """Where the last of repeated grooves ends [mm]; else the end."""
        return self.plain.end + (self.plain.repeats - 1) * self.plain.spacing

    def title(self) -> str:
        """Its name and what it is."""
        return f"{self.name}: {self.side} {self.kind}"

    def facts(self) -> list[tuple[str, str]]:
        """Place, size and limits."""
        rows = [("from", show(self.start)), ("to", show(self.end))]
        if self.thread is not None:
            rows.append(("thread", self.thread.designation))
        elif self.plain.diameter:
            rows.append(("diameter", show(Q_(self.plain.diameter, U.mm))))
        if self.limits is not None:
            rows.append(("limits", str(self.limits)))
        return rows


def _ends(span: Span) -> tuple[float | None, float | None]:
    low, high = (None if end is None else float(end.m_as(U.mm)) for end in (span.min, span.max))
    return low, high


def _span(door: Door, value: Any, name: str, example: str) -> tuple[float | None, float | None]:
    """The ends of limits [mm], None where open or left out."""
    if value is None:
        return None, None
    if not isinstance(value, Span):
        door.complain(name, given(value), "a Span of two sizes", example, WrongUnit)
        return None, None
    ends = [None if end is None else door.number(end, name, "mm", least=-LARGEST, most=LARGEST, example=example)
            for end in (value.min, value.max)]  # fmt: skip
    low, high = ends
    if low is not None and high is not None and low >= high:
        door.complain(name, f"{low:g} to {high:g} mm", "a smaller one before a larger one", example)
        return None, None
    return low, high
