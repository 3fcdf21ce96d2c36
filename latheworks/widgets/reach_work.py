"""What the reach bench works on and with: parts of the soil corer, its tools, and how they are held. All invented."""

from dataclasses import dataclass
from typing import Any

from latheworks.passes import Groove, Profile, TurningTool, insert_angles
from latheworks.units import Q_, U

Pair = tuple[float, float]


def _mm(value: float) -> Any:
    return Q_(float(value), U.mm)


def _profile(*points: Pair, **more: Any) -> Profile:
    return Profile([(_mm(z), _mm(d)) for z, d in points], **more)


@dataclass(frozen=True)
class Work:
    """A profile, its other side (a bore, or the outside around one; 0 for solid) as a diameter [mm], jaws and center
    as where they begin and their diameter [mm], and where the tool stands at first [mm]."""

    profile: Profile
    other: float
    jaws: Pair | None
    center: Pair | None
    start: float


WORKS = {
    "barrel, grip grooves": Work(
        _profile((0, 32), (60, 32), stock=_mm(33),
                 grooves=Groove(_mm(14), _mm(4), _mm(29), 4, _mm(9), _mm(0.4), _mm(0.3))),
        20.0, (0.0, 80.0), (63.0, 46.0), 25.0,
    ),
    "shoe, taper toward the chuck": Work(
        _profile((0, 28), (12, 28), (20, 36), (24, 36), (38, 27), stock=_mm(36.5)), 0.0, (0.0, 80.0), None, 17.0
    ),
    "shoe, relief behind the thread": Work(
        _profile((0, 32), (12, 32), (12, 25.4), (36, 25.4), stock=_mm(33),
                 grooves=Groove(_mm(12), _mm(3.5), _mm(22.5), floor_radius=_mm(0.4))),
        0.0, (0.0, 80.0), (39.0, 30.0), 13.75,
    ),
    "barrel, relief in the bore": Work(
        _profile((0, 20), (22, 20), (22, 23.5), (48, 23.5), side="inside", stock=_mm(19),
                 grooves=Groove(_mm(22), _mm(4), _mm(26), floor_radius=_mm(0.4))),
        32.0, None, None, 24.0,
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Kind:
    """A tool of the rack: letter or blade, hand, usual entering angle [deg], nose radius or blade width [mm]."""

    insert: str | None
    hand: str
    entering: float | None
    size: float
    words: str


TOOLS = {
    "C, 80\u00b0": Kind("C", "right", 95.0, 0.4, "tool with a C insert"),
    "D, 55\u00b0": Kind("D", "right", 93.0, 0.4, "tool with a D insert"),
    "D, left-hand": Kind("D", "left", 93.0, 0.4, "left-hand tool with a D insert"),
    "S, 90\u00b0": Kind("S", "right", 75.0, 0.8, "tool with an S insert"),
    "T, 60\u00b0": Kind("T", "right", 93.0, 0.4, "tool with a T insert"),
    "V, 35\u00b0": Kind("V", "right", 93.0, 0.4, "tool with a V insert"),
    "V, neutral": Kind("V", "neutral", 72.5, 0.4, "neutral tool with a V insert"),
    "round": Kind("R", "right", None, 1.5, "round-nosed tool"),
    "blade": Kind(None, "right", None, 3.0, "blade"),
    "blade, left-hand": Kind(None, "left", None, 3.0, "left-hand blade"),
}
CORNER = 0.2  # of a blade [mm]
SHANK, BAR, BAR_LENGTH = 20.0, 12.0, 55.0
REACH, BAR_REACH = 8.0, 4.0


def made(kind: Kind, entering: Any, size: Any, reach: Any, inside: bool) -> TurningTool:
    """The tool as the library knows it; raises LatheworksError, in its words, for one that cannot be."""
    held = {"shank": _mm(BAR), "bar_length": _mm(BAR_LENGTH)} if inside else {"shank": _mm(SHANK)}
    if kind.insert is None:
        return TurningTool(
            nose_radius=min(_mm(CORNER), size / 2), blade_width=size, reach=reach, hand=kind.hand, **held
        )
    return TurningTool(kind.insert, None if kind.entering is None else entering, size, reach=reach, hand=kind.hand,
                       **held)  # fmt: skip


def angle(kind: Kind) -> float:
    """The insert's included angle [deg]; 0 for a blade and a round insert."""
    return insert_angles()[kind.insert] if kind.insert else 0.0
