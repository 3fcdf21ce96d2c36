"""How strong a threaded joint is: stress area, shear areas, the length of engagement, and what gives way first."""

import math
from dataclasses import dataclass, field
from typing import Any

from latheworks.door import Door, given
from latheworks.errors import Impossible
from latheworks.results import Result
from latheworks.tables import cite
from latheworks.threads import strength_kernel as kernel
from latheworks.threads.spec import ACME, METRIC, NPT, PARALLEL_PIPE, TRAPEZOIDAL, UNIFIED
from latheworks.threads.strength_notes import notes_of
from latheworks.threads.thread import Thread
from latheworks.threads.thread import thread as read_thread
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

HIGH_STRENGTH = Q_(100.0, "ksi").m_as("MPa")
LONGEST = 20.0  # diameters: no joint engages more
FAILURES = ("external thread breaks", "external thread strips", "internal thread strips")
AREA_FORMULA = {
    UNIFIED: ("pi (d2/2 - 0.16238 P)^2", "mh24_engagement"),
    METRIC: ("pi/4 (d - 0.938194 P)^2", "iso898_loads"),
    ACME: ("pi ((d2 min + d3 min)/4)^2", "b15_areas"),
    TRAPEZOIDAL: ("pi ((d2 + d3)/4)^2", "power_thread_area"),
}


@dataclass(frozen=True, slots=True, eq=False)
class Engagement(Result):
    """The strength of a pair of threads, both at their least-material limits.

    Shear areas are for `length`, and those `per_length` for one unit of it. `area_factor` is J = As S_ext/(An S_int):
    over 1 the internal thread strips before the external one, and `required_length` is J times `external_length`,
    the length at which the external thread strips no sooner than the screw breaks. Forces are None without
    strengths. `pitch_error` and `shear_ratio` are what `with_pitch_error` changed: the share of its shear area that
    the given thread keeps.
    """

    thread: Thread
    external: Thread
    internal: Thread
    length: Any
    external_strength: Any
    internal_strength: Any
    pitch_error: Any
    stress_area: Any
    shear_area_external: Any
    shear_area_internal: Any
    external_per_length: Any
    internal_per_length: Any
    area_factor: float
    external_length: Any
    required_length: Any
    breaking_force: Any
    external_stripping_force: Any
    internal_stripping_force: Any
    fails_first: str
    shear_ratio: float
    notes: tuple[str, ...]
    high_strength: bool = field(repr=False)
    sizes: kernel.Sizes = field(repr=False)

    def with_pitch_error(self, error: Any) -> "Engagement":
        """Return the same joint with the pitch diameter of the given thread off its least-material limit.

        Parameter: error [length], added to that limit: negative on an external thread and positive on an internal
        one takes material away. Each pitch of an external thread then shears over pi D1 (error tan a) less or more,
        of an internal one over pi d (error tan a). Raises LatheworksError where no thread would be left, or no
        space for its mate. Source: the shear areas of engagement, derived.

        >>> joint = engagement("1/2-13 UNC-2A")
        >>> f"{joint.with_pitch_error(Q_(-0.005, 'in')).shear_ratio:.3f}"
        '0.934'
        """
        name = f"{self.thread.pitch.units:~}"
        pitch, half = self.external.pitch.magnitude, _half_angle(self.external)
        with Door("with_pitch_error") as door:
            value = door.number(error, "error", name, example=f'error=Q_(-0.002, "{name}")')
            off = _sizes(self.external, self.internal, self.thread.external, value)
            thick = kernel.external_thickness if self.thread.external else kernel.internal_thickness
            if not 0.0 < thick(off, pitch, half) < pitch:
                kind = "thread" if thick(off, pitch, half) <= 0.0 else "space for the mate"
                door.complain("error", given(error), f"one that leaves some {kind}", f'error=Q_(-0.002, "{name}")',
                              Impossible)  # fmt: skip
        return _build(self.thread, self.external, self.internal, self.length.m_as(name),
                      (self.external_strength, self.internal_strength), value)  # fmt: skip

    def title(self) -> str:
        return f"Strength of {self.external.designation} in {self.internal.designation}"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = "inch" if self.thread.pitch.units == U.inch else "metric"
        rows = [
            ("length engaged", show(self.length, system)),
            ("stress area", show(self.stress_area, system)),
            ("shear area, external", show(self.shear_area_external, system)),
            ("shear area, internal", show(self.shear_area_internal, system)),
            ("J", f"{self.area_factor:.3f}"),
            ("required length", show(self.required_length, system)),
            ("gives way first", self.fails_first),
        ]
        if self.breaking_force is not None:
            rows += [("external breaks at", show(self.breaking_force, system)),
                     ("external strips at", show(self.external_stripping_force, system)),
                     ("internal strips at", show(self.internal_stripping_force, system))]  # fmt: skip
        if self.pitch_error.magnitude:
            kept = f"{100 * self.shear_ratio:.1f} % of the shear area is kept"
            rows.append(("pitch error", f"{show(self.pitch_error, system)}: {kept}"))
        return (*rows, *(("note", note) for note in self.notes))

    @property
    def working(self) -> Working:
        """The areas, the required length, and what it stands on."""
        t, s, unit = self.external, self.sizes, f"{self.thread.pitch.units:~}"
        p, a = t.pitch.magnitude, t.included_angle.m_as("degree") / 2
        formula, key = AREA_FORMULA[t.system]
        if self.high_strength:
            formula, key = "pi (d2 min/2 - 0.16238 P)^2", "h28_engagement"
        areas = cite("mh24_engagement" if t.system in (UNIFIED, METRIC) else "b15_areas")
        given_sizes = f"D {t.major.magnitude:g}, d2 {t.pitch_diameter.magnitude:g}, d2 min {s.d2:g}, P {p:.6g}"
        lines = [
            Line("At", formula, given_sizes,
                 f"{self.stress_area.magnitude:.5g} {unit}^2", cite(key)),
            Line("As", "pi/P D1 max (P/2 + tan a (d2 min - D1 max))",
                 f"pi/{p:.6g} x {s.minor:g} ({p / 2:.6g} + tan {a:g} ({s.d2:g} - {s.minor:g}))",
                 f"{self.external_per_length.magnitude:.5g} {unit}^2 a {unit}", areas),
            Line("An", "pi/P d min (P/2 + tan a (d min - D2 max))",
                 f"pi/{p:.6g} x {s.d:g} ({p / 2:.6g} + tan {a:g} ({s.d:g} - {s.pitch:g}))",
                 f"{self.internal_per_length.magnitude:.5g} {unit}^2 a {unit}", areas),
            Line("Le", "2 At/As", "", f"{self.external_length.magnitude:.4g} {unit}", areas),
            Line("J", "As S_ext/(An S_int)", "", f"{self.area_factor:.4g}", areas),
            Line("required", "Le, or J Le when J is over 1", "", f"{self.required_length.magnitude:.4g} {unit}", areas),
        ]  # fmt: skip
        return Working(self.title(), tuple(lines))


def engagement(thread: Thread | str, length: Any = None, *, external_strength: Any = None,
               internal_strength: Any = None, mate_class: str | None = None) -> Engagement:  # fmt: skip
    """Return the strength of a thread in its mate, both at their least-material limits.

    As = pi/P L D1max (P/2 + tan a (d2min - D1max)), An = pi/P L dmin (P/2 + tan a (dmin - D2max)), a half the angle
    of the thread. Stress area At: pi (d2/2 - 0.16238 P)^2 for Unified threads, with the basic d2 as printed (which
    is pi/4 (D - 0.9743 P)^2), pi/4 (d - 0.938194 P)^2 for ISO metric ones, pi ((d2 + d3)/4)^2 for Acme (at their
    least) and trapezoidal ones (basic). Required length
    Le = 2 At/(As per length), shear strength counted as half the tensile strength; J = As S_ext/(An S_int), and
    J Le where J is over 1. Unified threads above 100 ksi: the least d2 in At, and `.notes` say so.
    Parameters: thread, a Thread or its designation, external or internal; length, of full threads engaged [length,
    above 0 to 20 diameters], one major diameter when left out; external_strength and internal_strength, tensile
    [stress, 1 to 5000 MPa], both or neither (then the materials are alike); mate_class, the other thread's class,
    its usual partner when left out. Pipe threads are refused. Raises LatheworksError.
    Source: Machinery's Handbook 24th ed. and FED-STD-H28/2B (read on pages that restate them); ISO 898-1; ASME B1.5
    (from memory, checked against a printed table). A planning aid, not a design approval.

    >>> joint = engagement("1/2-13 UNC-2A", external_strength=Q_(60, "ksi"), internal_strength=Q_(30, "ksi"))
    >>> show(joint.stress_area, "inch", 4), show(joint.required_length, "inch", 3), joint.fails_first
    ('0.1419 in²', '0.505 in', 'internal thread strips')
    """
    if isinstance(thread, str):
        thread = read_thread(thread)
    with Door("engagement") as door:
        t = door.instance(thread, "thread", Thread, "a Thread or its designation", 'engagement("1/2-13 UNC-2A")')
        if t is not None and t.system in (NPT, PARALLEL_PIPE):
            door.complain("thread", t.designation, "a fastening or a power thread: this rating is not made for pipe "
                          "threads", 'engagement("1/2-13 UNC-2A")')  # fmt: skip
        unit, diameter = ("mm", 10.0) if t is None else (f"{t.pitch.units:~}", t.major.magnitude)
        reach = diameter
        if length is not None:
            reach = door.number(length, "length", unit, above=0, most=LONGEST * diameter)
        strengths = {"external_strength": external_strength, "internal_strength": internal_strength}
        for name, value in strengths.items():
            if value is not None:
                door.number(value, name, "MPa", least=1, most=5000, example=f'{name}=Q_(60, "ksi")')
            elif any(other is not None for other in strengths.values()):
                door.complain(name, "None", "a strength for each thread, or for neither", f'{name}=Q_(60, "ksi")')
        if mate_class is not None:
            mate_class = door.text(mate_class, "mate_class", longest=4, example="6H")
    assert t is not None
    mate = t.mate(mate_class)
    external, internal = (t, mate) if t.external else (mate, t)
    return _build(t, external, internal, reach, (external_strength, internal_strength), 0.0)


def _half_angle(t: Thread) -> float:
    return math.radians(t.included_angle.m_as("degree")) / 2


def _sizes(external: Thread, internal: Thread, on_external: bool, error: float) -> kernel.Sizes:
    """The least-material sizes, with a pitch error on the external or on the internal thread."""
    e, i = external.limits, internal.limits
    return kernel.Sizes(
        d2=e.pitch_diameter.min.magnitude + (error if on_external else 0.0),
        d=e.major.min.magnitude,
        minor=i.minor.max.magnitude,
        pitch=i.pitch_diameter.max.magnitude + (0.0 if on_external else error),
    )


def _stress_area(t: Thread, sizes: kernel.Sizes, high_strength: bool) -> float:
    major, pitch = t.major.magnitude, t.pitch.magnitude
    if t.system == METRIC:
        return kernel.metric_stress_area(major, pitch)
    if t.system == UNIFIED:
        return kernel.inch_stress_area(sizes.d2 if high_strength else t.pitch_diameter.magnitude, pitch)
    if t.system == TRAPEZOIDAL:
        return kernel.mean_stress_area(t.pitch_diameter.magnitude, t.limits.minor.max.magnitude)
    return kernel.mean_stress_area(sizes.d2, t.limits.minor.min.magnitude)


def _build(thread: Thread, external: Thread, internal: Thread, length: float, strengths: tuple[Any, Any],
           error: float) -> Engagement:  # fmt: skip
    """The joint from checked arguments; length and error in the thread's own unit."""
    unit, pitch, half = thread.pitch.units, external.pitch.magnitude, _half_angle(external)
    right, off = (_sizes(external, internal, thread.external, e) for e in (0.0, error))
    known = strengths[0] is not None
    tensile = [s.m_as("MPa") if known else 1.0 for s in strengths]
    high = known and external.system == UNIFIED and tensile[0] > HIGH_STRENGTH * (1 + 1e-9)
    area = _stress_area(external, off, high)
    shear = (kernel.external_shear(off, pitch, half), kernel.internal_shear(off, pitch, half))
    own = kernel.external_shear if thread.external else kernel.internal_shear
    factor = shear[0] * tensile[0] / (shear[1] * tensile[1])
    least = area / (kernel.SHEAR_SHARE * shear[0])
    needed = least * max(1.0, factor)
    forces = (area * tensile[0], kernel.SHEAR_SHARE * shear[0] * length * tensile[0],
              kernel.SHEAR_SHARE * shear[1] * length * tensile[1])  # fmt: skip
    # At exactly the required length all three agree, and the screw is what should give way.
    weakest = min(range(3), key=lambda k: forces[k] * (1 if k else 1 - 1e-9))
    to_newton = Q_(1.0, unit).m_as("mm") ** 2
    shown = [Q_(f * to_newton, U.N) if known else None for f in forces]
    square = unit**2
    return Engagement(
        thread=thread,
        external=external,
        internal=internal,
        length=Q_(length, unit),
        external_strength=strengths[0],
        internal_strength=strengths[1],
        pitch_error=Q_(error, unit),
        stress_area=Q_(area, square),
        shear_area_external=Q_(shear[0] * length, square),
        shear_area_internal=Q_(shear[1] * length, square),
        external_per_length=Q_(shear[0], unit),
        internal_per_length=Q_(shear[1], unit),
        area_factor=factor,
        external_length=Q_(least, unit),
        required_length=Q_(needed, unit),
        breaking_force=shown[0],
        external_stripping_force=shown[1],
        internal_stripping_force=shown[2],
        fails_first=FAILURES[weakest],
        shear_ratio=own(off, pitch, half) / own(right, pitch, half),
        notes=notes_of(thread, external, length, needed, error, known, high, area),
        high_strength=high,
        sizes=off,
    )
