"""What a reader of a joint's strength has to know: assumptions, lengths that fall short, and the standing caution."""

from latheworks.threads.spec import METRIC, UNIFIED
from latheworks.threads.strength_kernel import inch_stress_area
from latheworks.threads.thread import Thread
from latheworks.units import Q_, U, show

USUAL_MOST = 1.5  # diameters
CAUTION = (
    "a planning aid for training, not a design approval: preload, fatigue, bending, heat and proof of the material "
    "are not in it, and a qualified person approves any joint that people rely on"
)


def notes_of(thread: Thread, external: Thread, length: float, needed: float, error: float, known: bool,
             high_strength: bool, area: float) -> tuple[str, ...]:  # fmt: skip
    """The notes, lengths in the thread's own unit."""
    unit, system = thread.pitch.units, "inch" if thread.pitch.units == U.inch else "metric"
    major = external.major.magnitude
    notes = ["count full threads only: leave out chamfers, runout and the first incomplete turns"]
    if not known:
        notes.append("no strengths given: both materials are taken as alike")
    if high_strength:
        usual = show(Q_(inch_stress_area(external.pitch_diameter.magnitude, external.pitch.magnitude), unit**2), system)
        notes.append(
            f"above 100 ksi the stress area is counted from the least pitch diameter, "
            f"{show(Q_(area, unit**2), system)} in place of {usual}; some editions change over at 180 ksi"
        )
    if length < needed * (1 - 1e-9):
        short = show(Q_(needed - length, unit), system)
        notes.append(f"{short} short of the required length: a thread strips before the screw breaks")
    if max(length, needed) > USUAL_MOST * major:
        notes.append(
            f"the first turns carry most of the load: length beyond about {USUAL_MOST:g} diameters adds little "
            "(common practice, no source)"
        )
    if error:
        takes = (error < 0) == thread.external
        notes.append(
            f"{thread.designation} is {'outside its class: too little material' if takes else 'nearer to the mate'}; "
            f"the gages of its class decide, not its strength"
        )
    if external.system not in (UNIFIED, METRIC):
        notes.append("in a power thread wear and pressure on the flanks usually decide, before strength does")
    return (*notes, CAUTION)
