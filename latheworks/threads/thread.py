"""A thread from its designation, with the limits of size that the standard prints."""

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads import metric, unified
from latheworks.threads.designation import LONGEST, read
from latheworks.threads.spec import METRIC, Spec, Step
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of size of a thread; an end that the standard leaves open is None."""

    major: Span
    pitch_diameter: Span
    minor: Span


@dataclass(frozen=True, slots=True)
class Thread(Result):
    """One thread: what its designation says, its basic sizes, and its limits of size as printed.

    Sizes are in inches for Unified threads and in mm for ISO metric ones. `minor` is the basic minor diameter
    of the form (D - 1.0825 P, or D - 1.1908 P with the UNR root). The largest minor diameter of an external
    thread is a reference value: the root's form, not a gage, decides it.
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
    allowance: Any
    limits: Limits
    notes: tuple[str, ...] = field(default=(), compare=False)
    printed: tuple[tuple[str, str, str], ...] = field(default=(), compare=False, repr=False)
    steps: tuple[Step, ...] = field(default=(), compare=False, repr=False)

    def mate(self, tolerance_class: str | None = None) -> "Thread":
        """Return the thread that screws onto this one: same size, pitch, hand and starts, the other kind.

        Parameter: tolerance_class, such as "2B" or "6H"; without one the usual partner is taken: 1A-1B, 2A-2B,
        3A-3B; 6g-6H; finer external grades with 5H, 7 and 8 with 7H, 9 with 8H; 4H and 5H with 4h, 6H with 6g,
        7H and 8H with 8g; up to M1.4 6h with 5H; the nearest where the tables lack the grade. Raises
        LatheworksError for a class of the same kind as this thread's, or one not in the tables.
        Source: ASME B1.1 and ISO 965-1 (choice of classes), from memory.

        >>> thread("1/2-13 UNC-2A").mate().designation, thread("M10").mate().designation
        ('1/2-13 UNC-2B', 'M10x1.5-6H')
        """
        partner = self._partner() if tolerance_class is None else tolerance_class
        stem, _, tail = self.designation.partition(f"-{self.tolerance_class}")
        # Only external threads have the rounded root, so the mate's series is plain UN.
        found = thread(stem.replace("UNR", "UN") + tail, tolerance_class=partner)
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
        if self.system != METRIC:
            return own[0] + ("B" if self.external else "A")
        return metric.partner(self.major.magnitude, self.pitch.magnitude, own)

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
        system = "metric" if self.system == METRIC else "inch"
        inch = [] if self.system == METRIC else [("threads per inch", f"{1 / self.pitch.magnitude:g}")]
        rows = [*inch, ("pitch", show(self.pitch, system)), ("lead", show(self.lead, system)),
                ("lead angle", show(self.lead_angle)), ("class", self.tolerance_class),
                ("allowance", show(self.allowance, system))]  # fmt: skip
        limits = [(name, f"{low} to {high}") for name, low, high in self.printed]
        return (*rows, *limits, *(("note", note) for note in self.notes))

    def columns(self) -> dict[str, Any]:
        names, low, high = zip(*self.printed, strict=True)
        return {"diameter": names, "min": low, "max": high}


def thread(designation: str, tolerance_class: str | None = None) -> Thread:
    """Return the thread a designation names, with limits of size as ASME B1.1 or ISO 965-1 prints them.

    Unified: d2 = D - 0.64951905 P, D1 = D - 1.08253175 P, Td2(2A) = 0.0015 D^(1/3) + 0.0015 LE^(1/2) +
    0.015 P^(2/3), rounded step by step as B1.1 does, with the values that its tables print otherwise.
    ISO metric: the tables of ISO 965-1, never their formulas.

    Parameters: designation, 1 to 60 characters as a drawing has it: `1/2-13 UNC-2A`, `#10-24 UNC-3B`,
    `0.190-32 UNF-2A`, `1 1/4-12 UN-2A-LH`, `.750-.0625P-.1875L(3-STARTS)UNF-2A`, `M10`, `M8x1-4g6g`,
    `M16xPh3P1.5-6H`; sizes 0.060 to 6 in, M1 to M300. tolerance_class, for a designation without one:
    1A 2A 3A 1B 2B 3B, or a grade 3 to 9 with e f g h, 4 to 8 with G H. Without any class the external thread
    is returned (2A; 6g, or 6h up to M1.4), and `.notes` says so; `.mate()` gives the internal one.
    A bare 10-24 is #10; a pitch in no series is UNS. Raises LatheworksError that names the nearest readable
    form. Source: ASME B1.1-2003 and 2019 (formulas partly from memory, checked against printed tables),
    Machinery's Handbook 31st ed. (worked examples, read), ISO 261, ISO 965-1 (tables).

    >>> t = thread("1/2-13 UNC-2A")
    >>> show(t.limits.pitch_diameter.max, "inch"), show(t.limits.pitch_diameter.min, "inch")
    ('0.4485 in', '0.4435 in')
    """
    with Door("thread") as door:
        text = door.text(designation, "designation", longest=LONGEST, example="1/2-13 UNC-2A")
        if tolerance_class is not None:
            tolerance_class = door.text(tolerance_class, "tolerance_class", longest=4, example="2B")
    return _thread(text, tolerance_class)


@lru_cache(maxsize=1024)
def _thread(text: str, tolerance_class: str | None) -> Thread:
    return build(read(text, tolerance_class))


def build(spec: Spec) -> Thread:
    """The thread of a designation already taken apart."""
    kernel, unit = (metric, U.mm) if spec.system == METRIC else (unified, U.inch)
    found, allowance, steps = kernel.limits(spec)
    pitch_diameter, minor = kernel.basic(spec)

    def quantity(value: Any) -> Any:
        return None if value is None else Q_(float(value), unit)

    def written(value: Any) -> str:
        return "open" if value is None else f"{value} {unit:~}"

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
        allowance=quantity(allowance),
        limits=Limits(spans["major"], spans["pitch_diameter"], spans["minor"]),
        notes=spec.notes,
        printed=tuple(
            (f"{name.split('_')[0]} diameter", written(low), written(high)) for name, (low, high) in found.items()
        ),
        steps=tuple(steps),
    )
