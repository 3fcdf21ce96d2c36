"""The form that a single-point tool cuts: angle, width of the groove at the surface, depth, by kind of thread.

Plain floats in mm. The tool is as wide at its point as the groove is at the root, and the groove is half a pitch wide
at the pitch line in every form: opening - 2 (depth to the pitch line) tan(half angle) = P/2.
"""

import math
from dataclasses import dataclass
from typing import Any

from latheworks.threads import infeed_kernel as kernel
from latheworks.threads.spec import ACME, NPT, PARALLEL_PIPE, TRAPEZOIDAL
from latheworks.units import U

# Depth on the radius in pitches: ASME B1.20.1 between its least truncations; Whitworth's form, 2/3 of the sharp V.
NPT_HEIGHT, WHITWORTH_HEIGHT = 0.8, 0.640327
_SHARES = {"external": ("17/24 H", "tap_catalog"), "internal": ("5/8 H", "tap_catalog"),
           "external UNR": ("11/16 H", "depth_constants")}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Form:
    """Half of the included angle [deg]; pitch, width at the surface and usual depth [mm]; how it is said; source."""

    half_angle: float
    pitch: float
    opening: float
    depth: float
    share: str
    key: str

    @property
    def tan(self) -> float:
        """The tangent of the half angle."""
        return kernel.TAN if self.half_angle == 30 else math.tan(math.radians(self.half_angle))

    @property
    def height(self) -> float:
        """The height of the sharp V, in pitches."""
        return 1 / (2 * self.tan)

    def flat(self, depth: float) -> float:
        """The flat at the tool's point [mm] that leaves the groove as wide as the form asks at a depth."""
        return max(self.opening - 2 * depth * self.tan, 0.0)

    @property
    def trapezoidal(self) -> bool:
        """Whether the root is a wide flat: ACME and trapezoidal."""
        return self.half_angle < 20


def form(thread: Any) -> Form:
    """The form of a thread's groove."""
    pitch = thread.pitch.m_as(U.mm)
    half = thread.included_angle.magnitude / 2
    if thread.system in (ACME, TRAPEZOIDAL):
        # A quarter of a pitch lies between the basic crest and the pitch line.
        opening = pitch * (0.5 + 0.5 * math.tan(math.radians(half)))
        gap = _clearance(thread)
        return Form(half, pitch, opening, pitch / 2 + gap, f"P/2 and a clearance of {gap:.3g} mm",
                    "b15" if thread.system == ACME else "iso2901")  # fmt: skip
    if thread.system in (NPT, PARALLEL_PIPE):
        height, share, key = (
            (NPT_HEIGHT, "0.8 P", "b1201") if thread.system == NPT else (WHITWORTH_HEIGHT, "2/3 H", "iso228")
        )
        opening = pitch * (0.5 + height * math.tan(math.radians(half)))
        return Form(half, pitch, opening, height * pitch, share, key)
    kind = kernel.depth_kind(thread.external, thread.root)
    share, key = _SHARES[kind]
    return Form(half, pitch, kernel.OPENING[thread.external] * pitch, kernel.DEPTHS[kind] * pitch, share, key)


def _clearance(thread: Any) -> float:
    """What the root lies deeper than the mating crest [mm on the radius], from the basic form and the root's limit."""
    if thread.external:
        gap = thread.major - thread.pitch - thread.limits.minor.max
    else:
        gap = thread.limits.major.min - thread.major
    # The limits are rounded; the clearance is a whole hundredth of an inch or of a millimeter on the diameter.
    unit = thread.pitch.units
    return round(float(gap.m_as(unit)), 2) / 2 * (25.4 if unit == U.inch else 1.0)


def surface(thread: Any, at: float) -> float:
    """Diameter [mm] where cutting starts, at a distance [mm] along the thread from the end that the tool enters.

    External: the basic major diameter; internal: the basic minor one. A taper pipe thread grows from the pipe's end,
    and a fitting narrows from its opening.
    """
    planes = thread.planes
    if planes is None:
        return float((thread.major if thread.external else thread.minor).m_as(U.mm))
    height, taper = NPT_HEIGHT * thread.pitch.m_as(U.mm), planes.taper.magnitude
    if thread.external:
        return float(planes.e0.m_as(U.mm) + height + taper * at)
    return float(planes.e1.m_as(U.mm) - height - taper * at)


def usual_length(thread: Any) -> float:
    """The length [mm] taken when none is given: a major diameter; of a taper pipe thread all that is effective."""
    planes = thread.planes
    if planes is None:
        return float(thread.major.m_as(U.mm))
    return float((planes.l2 if thread.external else planes.l1 + planes.l3).m_as(U.mm))


def longest(thread: Any) -> float:
    """The longest thread [mm] that makes sense: a taper pipe thread runs out at L4."""
    return 10_000.0 if thread.planes is None else float(thread.planes.l4.m_as(U.mm))
