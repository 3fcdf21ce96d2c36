"""The fit bench: the tolerance zones of two threads that mate, and what a part as cut still passes."""

import math
from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import NotInTable, OutOfRange
from latheworks.pictures.canvas import nice
from latheworks.pictures.flanks import Ends
from latheworks.pictures.mating_zones import MatingPicture, MatingZones
from latheworks.pictures.style import Look
from latheworks.threads import Fit, Thread, fit, thread, virtual_pitch_diameter
from latheworks.threads.fit_kernel import plating_factor
from latheworks.threads.spec import PARALLEL_PIPE
from latheworks.units import Q_, Span, U
from latheworks.widgets.bench import Bench, Names, Reading
from latheworks.widgets.controls import Spec, Words
from latheworks.widgets.sizes import Size

NOTHING = Q_(0.0, U.mm)


class FitBench(Bench):
    """Two threads, and a part cut off the middle of its limits, with a lead error and a layer of plating."""

    kind: ClassVar[str] = "fit"
    title: ClassVar[str] = "Will it fit"
    picture_class = MatingPicture
    also: ClassVar[Mapping[str, str]] = {"lead_error": "lead"}

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        width = reach(thread(start["external"]))
        return (
            Words("external", "External thread", start["external"]),
            Words("internal", "Internal thread", start["internal"]),
            Size("oversize", "Oversize", "\u0394d2", start["oversize"], -width, width, (0.005, 0.0002)),
            Size("lead", "Lead error", "\u03b4", start["lead"], Q_(-0.06, U.mm), Q_(0.06, U.mm), (0.002, 0.0001)),
            Size("layer", "Plating", "t", start["layer"], NOTHING, Q_(0.03, U.mm), (0.001, 0.0001), NOTHING),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        limits = thread(self._opening["external"]).limits.pitch_diameter
        most = (limits.max - limits.min) / 2
        return {
            "Bent away": {"oversize": 1.3 * most},
            "Cut too deep": {"oversize": -1.3 * most},
            "Lead error": {"oversize": 0.6 * most, "lead": Q_(0.03, U.mm)},
            "Plated": {"oversize": 0.8 * most, "layer": Q_(0.005, U.mm)},
            "Acme": {"external": "1-5 ACME-2G"},
        }

    def follow(self, changed: Names) -> None:
        outer = thread(self.controls["external"].value)
        if "external" in changed and "internal" not in changed and outer.external:
            self.controls["internal"].put(outer.mate().designation)
        off, width = self.controls["oversize"], reach(outer)
        if off.high != width:
            off.run(-width, width)

    def compute(self, values: Mapping[str, Any]) -> tuple[Any, MatingZones]:
        # Read here first: a wrong designation is then said once, in the thread room's own words.
        pair = drawable(values["external"], external=True), drawable(values["internal"], external=False)
        joint = fit(*pair)
        outer = joint.external
        pitch, half = outer.pitch.m_as(U.mm), math.radians(outer.included_angle.m_as(U.deg)) / 2
        layer = values["layer"].m_as(U.mm)
        if layer > pitch / 10:
            raise OutOfRange("A layer thicker than a tenth of the pitch is no plating. Type 0.005 mm or 0.0002 in.")
        grown = plating_factor(half, half) * layer
        lead = virtual_pitch_diameter(outer, lead_error=values["lead"]).growth
        found = joint.passes(values["oversize"] + Q_(grown, U.mm), growth=lead)
        return found, zones(joint, found, layer > 0)

    def read(self, data: MatingZones, look: Look) -> Reading:
        mm, grown = look.mm, data.virtual - data.cut
        if not data.passes_go:
            verdict = f"Go stays off: {mm(data.virtual - data.go)} too large where it meets the flanks."
            if data.virtual <= data.loosest:
                verdict += f" A large {data.internal} would take it all the same; its gage does not."
        elif not data.held_by_not_go:
            verdict = f"Not-go screws on: the pitch diameter is {mm(data.not_go - data.cut)} too small."
        elif data.virtual <= data.tightest + 1e-9:
            verdict = f"Both gages accept it, and it goes into every {data.internal}."
        else:
            verdict = f"Both gages accept it, but the smallest {data.internal} does not take it."
        facts = (
            ("pitch diameter", mm(data.cut)),
            ("a lead error adds", mm(grown)),
            ("a mate meets", mm(data.virtual)),
            ("go ring", mm(data.go)),
            ("not-go ring", mm(data.not_go)),
            ("left to go", mm(data.go - data.virtual)),
            ("play in the smallest mate", mm(data.tightest - data.virtual)),
            ("play in the largest mate", mm(data.loosest - data.virtual)),
        )
        return Reading(data.passes_go and data.held_by_not_go, verdict, facts)


def reach(outer: Thread) -> Any:
    """How far the slider goes off the middle of the limits: a good tolerance of the pitch diameter [length]."""
    width = (outer.limits.pitch_diameter.max - outer.limits.pitch_diameter.min).m_as(U.mm)
    return Q_(nice(1.2 * width), U.mm)


def drawable(designation: str, external: bool | None = None) -> Thread:
    """The thread of a designation, if it is of the kind asked for and its crests are flat enough to be drawn here."""
    named = thread(designation)
    if named.system == PARALLEL_PIPE or named.planes is not None:
        raise NotInTable(
            f"{named.designation} is not drawn on this bench: it shows parallel threads with straight flanks and "
            "flat crests. Type 1-12 UNF-2A, M24x1.5-6g or 1-5 ACME-2G."
        )
    if external is not None and named.external is not external:
        here, kind = ("external", "internal") if external else ("internal", "external")
        raise NotInTable(
            f"{named.designation} is an {kind} thread, and an {here} one is wanted here. Type "
            f"{named.mate().designation}."
        )
    return named


def zones(joint: Fit, found: Any, plated: bool) -> MatingZones:
    """What the picture draws of a fit, and of a part in it."""
    outer, inner = joint.external, joint.internal
    flanks = outer.limits.pitch_diameter
    # A class with an allowance keeps it for plating: the plated part may reach basic size.
    go = outer.pitch_diameter if plated and outer.allowance.magnitude > 0 else flanks.max
    mm = U.mm
    return MatingZones(
        outer.designation, inner.designation, outer.pitch.m_as(mm),
        math.tan(math.radians(outer.included_angle.m_as(U.deg)) / 2),
        (outer.major.m_as(mm), outer.pitch_diameter.m_as(mm), outer.minor.m_as(mm)),
        ends(outer.limits), ends(inner.limits), ends(joint.clearance), float(found.pitch_diameter.m_as(mm)),
        float(found.virtual.m_as(mm)), go.m_as(mm), flanks.min.m_as(mm),
        inner.limits.pitch_diameter.min.m_as(mm), inner.limits.pitch_diameter.max.m_as(mm),
    )  # fmt: skip


def ends(limits: Any) -> tuple[Ends, Ends, Ends]:
    """Both ends of the three diameters in mm; None where one is open."""

    def both(span: Span) -> Ends:
        low, high = (None if e is None else float(e.m_as(U.mm)) for e in (span.min, span.max))
        return low, high

    return both(limits.major), both(limits.pitch_diameter), both(limits.minor)


def fit_bench(external: str = "1-12 UNF-2A", internal: str | None = None, oversize: Any = NOTHING,
              lead: Any = NOTHING, layer: Any = NOTHING) -> FitBench:  # fmt: skip
    """Return a bench for two threads that mate: their tolerance zones to scale, and what a part as cut passes.

    A mate meets the pitch diameter + |lead error| cot a; a layer of plating adds 2 t / sin a to the pitch diameter.

    Parameters, all optional, the joint of the soil corer by default: external, a designation; internal, the one it
    goes into, the usual mate when left out; oversize, of the external part's pitch diameter, from the middle of its
    limits [length, negative for undersize]; lead, the lead error over the length engaged [length]; layer, of
    plating on a side [length, 0 to a tenth of the pitch]. Raises LatheworksError for what cannot be.
    Source: `latheworks.threads.fit`, `virtual_pitch_diameter` and `plating`.

    >>> fit_bench()
    Will it fit (bench): Both gages accept it, and it goes into every 1-12 UNF-2B.
    """
    with Door("fit_bench") as door:
        for name, value in (("oversize", oversize), ("lead", lead)):
            door.number(value, name, "mm", least=-10.0, most=10.0)
        door.number(layer, "layer", "mm", least=0.0, most=1.0)
    joint = fit(drawable(external, True), None if internal is None else drawable(internal, False))
    return FitBench({"external": joint.external.designation, "internal": joint.internal.designation,
                     "oversize": oversize, "lead": lead, "layer": layer})  # fmt: skip
