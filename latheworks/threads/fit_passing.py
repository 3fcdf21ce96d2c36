"""What a part of a given pitch diameter passes: its go and not-go gage, and the mates it screws onto."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.results import Result
from latheworks.threads.fit_door import own, system_of
from latheworks.threads.thread import Thread
from latheworks.units import U, show
from latheworks.working import Line, Working

# A size within this many mm of a limit is on it: rounding in the conversion of inches, no more.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Passing(Result):
    """What a part cut oversize passes; arrays of the shape asked for.

    Fields: part, "external" or "internal"; thread, the part's; oversize; pitch_diameter, the part's own; virtual,
    the pitch diameter that go and a mate meet; go, whether it passes its go gage; not_go, whether the not-go gage
    holds it back, as it should; tightest_mate and loosest_mate, whether it screws onto the mate at the tightest and
    at the loosest end of its limits; margin, how much more metal go would still pass [length, negative: too much].
    """

    part: str
    thread: Thread
    oversize: Any
    pitch_diameter: Any
    virtual: Any
    go: np.ndarray
    not_go: np.ndarray
    tightest_mate: np.ndarray
    loosest_mate: np.ndarray
    margin: Any

    @property
    def accepted(self) -> np.ndarray:
        """Whether both gages accept the part."""
        return self.go & self.not_go

    def title(self) -> str:
        return f"{self.thread.designation} cut oversize at the pitch line"

    def facts(self) -> tuple[tuple[str, str], ...]:
        system = system_of(self.thread)
        return (("oversize", show(self.oversize, system)), ("pitch diameter", show(self.pitch_diameter, system)),
                ("virtual", show(self.virtual, system)), ("passes go", _words(self.go)),
                ("held by not-go", _words(self.not_go)), ("screws onto the tightest mate", _words(self.tightest_mate)),
                ("screws onto the loosest mate", _words(self.loosest_mate)),
                ("margin to go", show(self.margin, system)),
                ("note", "What fails its gage is out of limits, even where one mate happens to go on."))  # fmt: skip

    def columns(self) -> dict[str, Any]:
        unit = f"{self.pitch_diameter.units:~}"
        sizes = {"oversize": self.oversize, "pitch diameter": self.pitch_diameter, "virtual": self.virtual,
                 "margin": self.margin}  # fmt: skip
        found: dict[str, Any] = {f"{name} [{unit}]": np.atleast_1d(size.magnitude) for name, size in sizes.items()}
        marks = {"go": self.go, "not-go holds": self.not_go, "tightest mate": self.tightest_mate,
                 "loosest mate": self.loosest_mate}  # fmt: skip
        return found | {name: np.atleast_1d(mark) for name, mark in marks.items()}

    @property
    def working(self) -> Working:
        """The size of the part, and the limit it is held against."""
        system, limits = system_of(self.thread), self.thread.limits.pitch_diameter
        sign = "+" if self.part == "external" else "-"
        go = limits.max if self.part == "external" else limits.min
        return Working(self.title(), (
            Line("pitch diameter", "middle of the limits + oversize", show(limits.mid, system),
                 show(self.pitch_diameter, system), "definition"),
            Line("virtual", f"pitch diameter {sign} growth", "", show(self.virtual, system),
                 "see virtual_pitch_diameter"),
            Line("margin", "go limit against virtual", show(go, system), show(self.margin, system),
                 "go is the maximum-material limit"),
        ))  # fmt: skip


def passing(outer: Thread, inner: Thread, external: bool, oversize: Any, growth: float) -> Passing:
    """What a part passes; oversize and growth in mm."""
    cut, mate = (outer, inner) if external else (inner, outer)
    limits, others = cut.limits.pitch_diameter, mate.limits.pitch_diameter
    low, high = limits.min.m_as(U.mm), limits.max.m_as(U.mm)
    # Turned so that more metal is more: an internal thread has more metal when it is smaller.
    sign = 1.0 if external else -1.0
    most_metal, least_metal = (high, low) if external else (low, high)
    tight, loose = (others.min, others.max) if external else (others.max, others.min)
    size = (low + high) / 2 + oversize
    virtual = size + sign * growth
    margin = sign * (most_metal - virtual)
    return Passing(
        part="external" if external else "internal",
        thread=cut,
        oversize=own(cut, oversize),
        pitch_diameter=own(cut, size),
        virtual=own(cut, virtual),
        go=margin >= -_HAIR,
        not_go=sign * (size - least_metal) >= -_HAIR,
        tightest_mate=sign * (tight.m_as(U.mm) - virtual) >= -_HAIR,
        loosest_mate=sign * (loose.m_as(U.mm) - virtual) >= -_HAIR,
        margin=own(cut, margin),
    )


def _words(marks: np.ndarray) -> str:
    return ", ".join("yes" if mark else "no" for mark in np.atleast_1d(marks))
