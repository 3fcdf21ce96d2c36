"""The planes of a taper pipe thread: where along the thread which diameter is found."""

from dataclasses import dataclass
from typing import Any

from latheworks.door import Door
from latheworks.threads import taper_pipe
from latheworks.threads.spec import Spec
from latheworks.units import Q_, U, show


@dataclass(frozen=True, slots=True)
class Planes:
    """Pitch diameters e0 to e3 of a taper pipe thread, and how far from the end of the pipe they lie.

    taper, on the diameter (1 in 16); outside, of the pipe; e0 at the end of the pipe; e1 at l1, hand-tight, where
    the opening of the fitting comes to lie; e2 at l2, where the effective thread of the pipe ends; e3 in the
    fitting, l3 beyond the pipe's end, as far as a wrench makes it up; l4, all of the thread with its runout.
    Source: ASME B1.20.1, table of basic dimensions.
    """

    taper: Any
    outside: Any
    e0: Any
    e1: Any
    e2: Any
    e3: Any
    l1: Any
    l2: Any
    l3: Any
    l4: Any

    def pitch_diameter_at(self, distance: Any) -> Any:
        """Return the pitch diameter at a distance from the end of the pipe: E0 + distance/16.

        Parameter: distance [in, from -l3, inside the fitting, to l4]. Raises LatheworksError.
        Source: the taper of ASME B1.20.1.

        >>> from latheworks.threads import thread
        >>> planes = thread("1/2-14 NPT").planes
        >>> show(planes.pitch_diameter_at(planes.l1), "inch", 5)
        '0.77843 in'
        """
        with Door("pitch_diameter_at") as door:
            place = door.number(distance, "distance", "in", least=-self.l3.m_as(U.inch) - 1e-9,
                                most=self.l4.m_as(U.inch) + 1e-9)  # fmt: skip
        return self.e0 + Q_(place, U.inch) * self.taper.magnitude

    def facts(self) -> tuple[tuple[str, str], ...]:
        """What a shop asks about the planes, as words and values."""
        return (
            ("taper", "1 in 16 on the diameter"),
            ("outside of the pipe", show(self.outside, "inch")),
            ("hand-tight, L1", f"{show(self.l1, 'inch')}, E1 {show(self.e1, 'inch', 5)}"),
            ("effective thread, L2", f"{show(self.l2, 'inch')}, E2 {show(self.e2, 'inch', 5)}"),
            ("end of the pipe", f"E0 {show(self.e0, 'inch', 5)}"),
            ("limits are", "at the hand-tight plane, one turn of the gage either way"),
        )


def planes(spec: Spec) -> Planes:
    """The planes of an NPT thread already taken apart."""
    row = taper_pipe.row_of(spec)
    sizes = {name: Q_(float(row[f"{name} [in]"]), U.inch) for name in Planes.__slots__ if name != "taper"}
    return Planes(taper=Q_(float(taper_pipe.TAPER), U.one), **sizes)
