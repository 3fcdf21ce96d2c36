"""A thread from its designation, with the limits of size that the standard prints."""

import math
import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads import acme, metric, parallel_pipe, taper_pipe, trapezoidal, unified
from latheworks.threads.designation import LONGEST, read
from latheworks.threads.planes import Planes, planes
from latheworks.threads.spec import (
    ACME,
    INCH_SYSTEMS,
    INCLUDED_ANGLE,
    METRIC,
    NPT,
    PARALLEL_PIPE,
    TRAPEZOIDAL,
    UNIFIED,
    Spec,
    Step,
)
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working

KERNELS: dict[str, Any] = {
    UNIFIED: unified, METRIC: metric, ACME: acme, TRAPEZOIDAL: trapezoidal, NPT: taper_pipe,
    PARALLEL_PIPE: parallel_pipe,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of size of a thread; an end that the standard leaves open is None."""

    major: Span
    pitch_diameter: Span
    minor: Span


@dataclass(frozen=True, slots=True)
class Thread(Result):
    """One thread: what its designation says, its basic sizes, and its limits of size as printed.

    Sizes are in inches for Unified, ACME and NPT threads and in mm for the others. `minor` is the basic minor
    diameter of the form (D - 1.0825 P, or D - 1.1908 P with the UNR root; D - P for ACME and trapezoidal threads,
    whose roots lie a clearance deeper). The largest minor diameter of an external V thread is a reference value: the
    root's form, not a gage, decides it. `included_angle` is that between the flanks: 60, 29, 30 or 55 degrees.
    `planes` are those of a taper pipe thread, whose sizes and limits are at the hand-tight plane; None for others.
    """

    designation: str
    system: str
    external: bool
    size: str
    series: str
    root: str | None
    pitch: Any
    starts: int
    lead: Any
    hand: str
    tolerance_class: str
    major: Any
    pitch_diameter: Any
    minor: Any
    lead_angle: Any
    included_angle: Any
    allowance: Any
    limits: Limits
    planes: Planes | None = None
    notes: tuple[str, ...] = field(default=(), compare=False)
    printed: tuple[tuple[str, str, str], ...] = field(default=(), compare=False, repr=False)
    steps: tuple[Step, ...] = field(default=(), compare=False, repr=False)

    def mate(self, tolerance_class: str | None = None) -> "Thread":
        """Return the thread that screws onto this one: same size, pitch, hand and starts, the other kind.

        Parameter: tolerance_class, such as "2B" or "6H"; without one the usual partner is taken: 1A-1B, 2A-2B,
        3A-3B; 6g-6H; finer external grades with 5H, 7 and 8 with 7H, 9 with 8H; 4H and 5H with 4h, 6H with 6g,
        7H and 8H with 8g; up to M1.4 6h with 5H; the nearest where the tables lack the grade; ACME the same class;
        trapezoidal 7e-7H, 8e-8H, 8c with 8H, 9c-9H; G the one internal class, or A; NPT none. Raises
        LatheworksError for a class of the same kind as this thread's, or one not in the tables.
        Source: ASME B1.1 and ISO 965-1 (choice of classes), from memory.

        >>> thread("1/2-13 UNC-2A").mate().designation, thread("M10").mate().designation
        ('1/2-13 UNC-2B', 'M10x1.5-6H')
        """
        partner = self._partner() if tolerance_class is None else tolerance_class
        stem = re.sub(rf"[ -]{self.tolerance_class}(?![0-9A-Za-z])", "", self.designation, count=1)
        # Only external threads have the rounded root, so the mate's series is plain UN.
        stem = stem.removesuffix(" INT").replace("UNR", "UN")
        if self.system == ACME and isinstance(partner, str) and partner.strip():
            # Screw and nut share their classes, so the kind goes with it.
            found = thread(stem, tolerance_class=f"{partner} {'INT' if self.external else 'EXT'}")
        else:
            found = thread(stem, tolerance_class=partner)
        if found.external == self.external:
            kind = "internal" if self.external else "external"
            raise NotInTable(
                f"mate: tolerance_class: got {partner!r}, expected a class of an {kind} thread, since "
                f'{self.designation} is {"external" if self.external else "internal"}. Try .mate("{self._partner()}").'
            )
        return found

    def _partner(self) -> str:
        """The class that usually goes with this thread's own."""
        own = self.tolerance_class
        if self.system == UNIFIED:
            return own[0] + ("B" if self.external else "A")
        if self.system == METRIC:
            return metric.partner(self.major.magnitude, self.pitch.magnitude, own)
        partner: str = KERNELS[self.system].partner(read(self.designation, None))
        return partner

    @property
    def taper(self) -> Any:
        """The taper on the diameter: 1/16 for NPT, 0 for parallel threads."""
        return Q_(0.0, U.one) if self.planes is None else self.planes.taper

    @property
    def working(self) -> Working:
        """Every step from the designation to the limits, with its source."""
        lines = tuple(Line(s.symbol, s.formula, s.numbers, s.result, cite(s.keys)) for s in self.steps)
        return Working(f"Limits of {self.designation}", lines)

    def title(self) -> str:
        kind = "external" if self.external else "internal"
        return f"{self.designation}: {kind} thread, {self.hand} hand" + (
            f", {self.starts} starts" if self.starts > 1 else ""
        )

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.system in INCH_SYSTEMS else "metric"
        inch = [("threads per inch", f"{1 / self.pitch.magnitude:g}")] if system == "inch" else []
        form = [] if self.included_angle.magnitude == 60 else [("included angle", show(self.included_angle))]
        rows = [*inch, ("pitch", show(self.pitch, system)), ("lead", show(self.lead, system)),
                ("lead angle", show(self.lead_angle)), *form, ("class", self.tolerance_class),
                ("allowance", show(self.allowance, system))]  # fmt: skip
        limits = [(name, f"{low} to {high}") for name, low, high in self.printed]
        where = () if self.planes is None else self.planes.facts()
        return (*rows, *limits, *where, *(("note", note) for note in self.notes))

    def columns(self) -> dict[str, Any]:
        names, low, high = zip(*self.printed, strict=True)
        return {"diameter": names, "min": low, "max": high}


def thread(designation: str, tolerance_class: str | None = None) -> Thread:
    """Return the thread a designation names, with limits of size as its standard prints them.

    Unified: d2 = D - 0.64951905 P, D1 = D - 1.08253175 P, Td2(2A) = 0.0015 D^(1/3) + 0.0015 LE^(1/2) +
    0.015 P^(2/3), rounded step by step as B1.1 does, with the values that its tables print otherwise.
    ISO metric: the tables of ISO 965-1, never their formulas. ACME: d2 = D - P/2, d3 = D - P - clearance of 0.020 in
    (0.010 finer than 10 to the inch). Trapezoidal: d2 = D - P/2, d3 = D - P - 2 ac. NPT: E1 = E0 + L1/16.

    Parameters: designation, 1 to 60 characters as a drawing has it: `1/2-13 UNC-2A`, `#10-24 UNC-3B`,
    `0.190-32 UNF-2A`, `1 1/4-12 UN-2A-LH`, `.750-.0625P-.1875L(3-STARTS)UNF-2A`, `M10`, `M8x1-4g6g`,
    `M16xPh3P1.5-6H`, `1-5 ACME-2G`, `.500-.1P-.2L-ACME-2G`, `Tr 40x7-7e`, `Tr 40x14(P7)-7e LH`, `1/2-14 NPT`,
    `G 1/2 A`; sizes 0.060 to 6 in, M1 to M300, ACME 1/4 to 5 in, Tr 8 to Tr 300, NPT 1/16 to 12, G 1/16 to 6.
    tolerance_class, for a designation without one: 1A 2A 3A 1B 2B 3B, a grade 3 to 9 with e f g h, 4 to 8 with G H,
    2G 3G 4G, 7e 8e 8c 9c 7H 8H 9H, A B; INT or EXT for ACME, NPT and G (INT alone), where one name means both. Without
    any class the external thread is returned (2A; 6g, or 6h up to M1.4; 2G; 7e; G without a letter is internal by
    its standard), and `.notes` says so; `.mate()` gives the internal one. A bare 10-24 is #10; a pitch in no series
    is UNS. Raises LatheworksError that names the nearest readable form. Source: ASME B1.1-2003 and 2019 (formulas
    partly from memory, checked against printed tables), Machinery's Handbook 31st ed. (worked examples, read), ISO
    261, ISO 965-1 (tables), ASME B1.5, ISO 2901 to 2904, ASME B1.20.1 and ISO 228-1 (from memory, checked against
    printed tables).

    >>> t = thread("1/2-13 UNC-2A")
    >>> show(t.limits.pitch_diameter.max, "inch"), show(t.limits.pitch_diameter.min, "inch")
    ('0.4485 in', '0.4435 in')
    """
    with Door("thread") as door:
        text = door.text(designation, "designation", longest=LONGEST, example="1/2-13 UNC-2A")
        if tolerance_class is not None:
            tolerance_class = door.text(tolerance_class, "tolerance_class", longest=8, example="2B")
    return read_once(text, tolerance_class)


@lru_cache(maxsize=2048)
def read_once(text: str, tolerance_class: str | None) -> Thread:
    """The thread of a designation, built at the first call and kept."""
    return build(read(text, tolerance_class))


def build(spec: Spec) -> Thread:
    """The thread of a designation already taken apart."""
    kernel, (unit, symbol) = KERNELS[spec.system], (U.inch, "in") if spec.system in INCH_SYSTEMS else (U.mm, "mm")
    found, allowance, steps = kernel.limits(spec)
    pitch_diameter, minor = kernel.basic(spec)

    def quantity(value: Any) -> Any:
        return None if value is None else Q_(float(value), unit)

    def written(value: Any) -> str:
        return "open" if value is None else f"{value} {symbol}"

    spans = {name: Span(quantity(low), quantity(high)) for name, (low, high) in found.items()}
    angle = math.degrees(math.atan(float(spec.lead) / (math.pi * float(pitch_diameter))))
    return Thread(
        designation=spec.designation,
        system=spec.system,
        external=spec.external,
        size=spec.size,
        series=spec.series,
        root=spec.root,
        pitch=quantity(spec.pitch),
        starts=spec.starts,
        lead=quantity(spec.lead),
        hand="left" if spec.left else "right",
        tolerance_class=spec.tolerance_class,
        major=quantity(spec.major),
        pitch_diameter=quantity(pitch_diameter),
        minor=quantity(minor),
        lead_angle=Q_(angle, U.deg),
        included_angle=Q_(float(INCLUDED_ANGLE[spec.system]), U.deg),
        allowance=quantity(allowance),
        limits=Limits(spans["major"], spans["pitch_diameter"], spans["minor"]),
        planes=planes(spec) if spec.system == NPT else None,
        notes=spec.notes,
        printed=tuple(
            (f"{name.split('_')[0]} diameter", written(low), written(high)) for name, (low, high) in found.items()
        ),
        steps=tuple(steps),
    )
