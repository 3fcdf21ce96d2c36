"""How two threads fit: the clearance between their limits, and what go and not-go gages accept."""

from dataclasses import dataclass
from typing import Any, NamedTuple

from latheworks.door import Door
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads.fit_door import pair, system_of, written
from latheworks.threads.fit_passing import Passing, passing
from latheworks.threads.thread import Limits, Thread
from latheworks.units import Span, show
from latheworks.working import Line, Working

_GO = "the virtual size, over the full length: pitch diameter with the errors of lead and flank angle"
_NOT_GO = "the pitch diameter alone"


class Gage(NamedTuple):
    """One gage: which part it checks, its name, its pitch diameter, what it checks, and when the part is accepted."""

    part: str
    name: str
    pitch_diameter: Any
    checks: str
    accepts: str


@dataclass(frozen=True, slots=True)
class Fit(Result):
    """The fit of an external and an internal thread.

    Fields: external and internal, the threads; clearance, of diameters, as limits `.major`, `.pitch_diameter` and
    `.minor` (each a Span: the tightest pair to the loosest; an end is None where a standard leaves the limit open);
    gages, the go and not-go ring for the external part and the go and not-go plug for the internal one.
    """

    external: Thread
    internal: Thread
    clearance: Limits
    gages: tuple[Gage, ...]

    @property
    def always_goes_together(self) -> bool:
        """Whether every external part inside its limits screws into every internal one inside its own."""
        ends = (self.clearance.major.min, self.clearance.pitch_diameter.min, self.clearance.minor.min)
        return all(end is None or end.magnitude >= -1e-9 for end in ends)

    def passes(self, oversize: Any, part: Any = "external", growth: Any = None) -> Passing:
        """Return what a part cut oversize by so much still passes, and which mates it still screws onto.

        The part was meant for the middle of its limits; its pitch diameter is that middle + oversize. Go sees that
        size with the growth that errors of lead and flank angle bring, not-go sees it without.
        Parameters: oversize, on diameter at the pitch line, one or many [length, a tenth of the pitch diameter at
        the most; negative for undersize: an external thread left large by a part that bent is oversize, an internal
        one cut too deep as well]; part, "external" or "internal"; growth, as `virtual_pitch_diameter` gives it
        [length, 0 or more; 0 when not given]. Raises LatheworksError with one message for all that do not fit.
        Source: as in `fit`.

        >>> from latheworks.units import Q_
        >>> joint = fit("M16x1.5-6g", "M16x1.5-6H")
        >>> bent = joint.passes(Q_([0.06, 0.08, 0.11], "mm"))
        >>> bent.go.tolist(), bent.tightest_mate.tolist()
        ([True, False, False], [True, True, False])
        """
        with Door("passes") as door:
            which = door.choice(part, "part", ("external", "internal"))
            cut = self.external if which == "external" else self.internal
            most = cut.pitch_diameter.m_as("mm") / 10
            sizes = door.array(oversize, "oversize", "mm", least=-most, most=most, example='oversize=Q_(0.05, "mm")')
            added = 0.0 if growth is None else door.number(growth, "growth", "mm", least=0, most=most,
                                                           example='growth=Q_(0.02, "mm")')  # fmt: skip
        return passing(self.external, self.internal, which == "external", sizes, added)

    def title(self) -> str:
        return f"Fit of {self.external.designation} in {self.internal.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.external)
        gaps = [(f"clearance at the {words} diameter", written(span, system)) for words, span in (
            ("major", self.clearance.major), ("pitch", self.clearance.pitch_diameter), ("minor", self.clearance.minor)
        )]  # fmt: skip
        together = "every part with every part" if self.always_goes_together else "not every part with every part"
        gages = [(f"{g.name} for the {g.part} part", f"{show(g.pitch_diameter, system)}: {g.accepts}")
                 for g in self.gages]  # fmt: skip
        return (*gaps, ("goes together", together), *gages,
                ("note", "Go checks " + _GO + "; not-go checks " + _NOT_GO + "."),
                ("note", "The clearance at the minor diameter is to the largest root of the external thread, a "
                         "reference value."))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        unit = f"{self.external.pitch.units:~}"
        return {
            "gage": [f"{gage.part} {gage.name}" for gage in self.gages],
            f"pitch diameter [{unit}]": [gage.pitch_diameter.magnitude for gage in self.gages],
            "checks": [gage.checks for gage in self.gages],
            "accepts": [gage.accepts for gage in self.gages],
        }

    @property
    def working(self) -> Working:
        """The two ends of the clearance at each diameter, and why the gages have the sizes they have."""
        system, lines = system_of(self.external), []
        for name in ("major", "pitch_diameter", "minor"):
            outer, inner = getattr(self.external.limits, name), getattr(self.internal.limits, name)
            gap, word = getattr(self.clearance, name), name.replace("_diameter", "")
            for symbol, hole, screw, end in (
                (f"tightest, {word}", inner.min, outer.max, gap.min),
                (f"loosest, {word}", inner.max, outer.min, gap.max),
            ):
                if end is not None:
                    numbers = f"{show(hole, system)} - {show(screw, system)}"
                    lines.append(Line(symbol, "internal - external", numbers, show(end, system), "definition"))
        for gage in self.gages:
            size = show(gage.pitch_diameter, system)
            lines.append(Line(f"{gage.name}, {gage.part}", gage.checks, gage.accepts, size, cite("gage_usage")))
        return Working(self.title(), tuple(lines))


def fit(external: Thread | str, internal: Thread | str | None = None) -> Fit:
    """Return how an external and an internal thread fit: clearances between limits, and what the gages accept.

    Clearance = internal - external diameter: tightest pair D2 min - d2 max, loosest D2 max - d2 min, and the same
    at the major and at the minor diameter. Go gages have the maximum-material size (ring: d2 max, plug: D2 min) and
    a full form over the full length, so they check the virtual size; not-go gages have the other limit, and a
    short, cleared form that touches the flanks alone, so they check the pitch diameter.
    Parameters: external, an external Thread or its designation; internal, an internal one of the same size, pitch,
    starts and hand, or None for the usual mate. Raises LatheworksError for a thread of the wrong kind, for two that
    do not screw together, and for a tapered one, whose gage reads how far it screws on.
    Source: principle of Taylor, use of gages read in a gage maker's instructions to ISO 1502 (go over the full
    length by hand, not-go at most two turns); ASME B1.2 in substance from memory (three turns).

    >>> joint = fit("M16x1.5-6g", "M16x1.5-6H")
    >>> show(joint.clearance.pitch_diameter.min), show(joint.clearance.pitch_diameter.max)
    ('0.032 mm', '0.362 mm')
    """
    with Door("fit") as door:
        outer, inner = pair(door, external, internal)
    gaps = {name: gap(getattr(outer.limits, name), getattr(inner.limits, name)) for name in
            ("major", "pitch_diameter", "minor")}  # fmt: skip
    return Fit(outer, inner, Limits(**gaps), (*gages(outer), *gages(inner)))


def gap(outer: Span, inner: Span) -> Span:
    """Clearance from the tightest pair to the loosest; None at an end where a limit is open."""
    tight = None if inner.min is None or outer.max is None else inner.min - outer.max
    loose = None if inner.max is None or outer.min is None else inner.max - outer.min
    return Span(tight, loose)


def gages(thread: Thread) -> tuple[Gage, Gage]:
    """The go and the not-go gage of one part."""
    limits, part = thread.limits.pitch_diameter, "external" if thread.external else "internal"
    kind = "ring" if thread.external else "plug"
    go, not_go = (limits.max, limits.min) if thread.external else (limits.min, limits.max)
    return (
        Gage(part, f"go {kind}", go, _GO, "screws on by hand over the full length"),
        Gage(part, f"not-go {kind}", not_go, _NOT_GO, "screws on two turns at most (metric), three (inch)"),
    )
