"""A hole being drilled from the tailstock: the held part in section, the drill's point close up, and what limits it."""

from dataclasses import dataclass

import numpy as np

from latheworks.drilling.load_result import written_torque
from latheworks.pictures.canvas import Picture, nice
from latheworks.pictures.drill_shapes import Hollow
from latheworks.pictures.hole_whole import WholeHole
from latheworks.pictures.point_close import ClosePoint
from latheworks.pictures.share_bars import Share, ShareBars
from latheworks.pictures.style import Look, Table
from latheworks.units import Q_


@dataclass(frozen=True)
class Meets:
    """Where holes from both ends meet [mm]: what is left of the runout, `off`; drift a mm; the step expected and at
    worst; what a bore takes on the diameter to hide it at worst, and as expected."""

    off: float
    drift: float
    step: float
    worst_step: float
    allowance: float
    worst_allowance: float


@dataclass(frozen=True)
class HoleStage:
    """What the picture needs: lengths in mm, forces in N, torques in N m, spindle in rev/min, feed in mm/rev.

    `travels` are the point's travels from each end that is drilled, `pecks` the travels at which each draws back.
    `drilled` is how far the drill has gone, from both ends together.
    """

    material: str
    outside: float
    wanted: float
    depth: float
    through: bool
    name: str
    drill: float
    point_angle: float
    tip: float
    flutes: float
    flutes_out: float
    pilot: float
    travels: tuple[float, ...]
    pecks: tuple[np.ndarray, ...]
    loose: float
    drilled: float
    spindle: float
    feed: float
    thrust: tuple[float, float]
    torque: tuple[float, float]
    torque_most: float
    grip: float
    grip_most: float
    quill: float
    settings: int
    seconds: float
    meets: Meets | None
    limited_by: tuple[str, ...]

    @property
    def end(self) -> int:
        """Which end is being drilled, 1 or 2."""
        return 2 if len(self.travels) == 2 and self.drilled > self.travels[0] + 1e-6 else 1

    @property
    def inside(self) -> float:
        """How far the point has gone from the end being drilled."""
        return self.drilled - self.travels[0] if self.end == 2 else self.drilled

    @property
    def full(self) -> float:
        """How deep the full diameter is from the end being drilled, within the part."""
        return min(max(self.inside - self.tip, 0.0), self.depth)

    @property
    def part(self) -> float:
        """The part's length: that of a through hole, or for a blind one enough to draw a floor."""
        return self.depth if self.through else self.depth + self.tip + self.drill

    @property
    def stops(self) -> np.ndarray:
        """Where the point draws back from the end being drilled; the last is the end of the hole."""
        return self.pecks[self.end - 1]

    @property
    def peck(self) -> int:
        """The peck being drilled, counted from 1."""
        return min(int(np.searchsorted(self.stops, self.inside - 1e-9)) + 1, len(self.stops))

    @property
    def since(self) -> float:
        """How far it has drilled since the flutes were cleared."""
        return self.inside - (float(self.stops[self.peck - 2]) if self.peck > 1 else 0.0)

    @property
    def chips(self) -> float:
        """The chips in the flutes since then [cm^3], less what a pilot has taken before."""
        return self.loose * np.pi / 4.0 * (self.drill**2 - self.pilot**2) * self.since / 1000.0

    @property
    def spare(self) -> float:
        """How much of the flutes stands out of the hole."""
        return self.flutes - self.inside

    def hollows(self, larger: float = 0.0) -> list[Hollow]:
        """The holes that are there now, shifted sideways by what is expected at worst, drawn so many times larger."""
        radius, long, cone = self.drill / 2, self.part, self.tip * self.pilot / self.drill
        lean = larger * self.meets.drift if self.meets else 0.0
        first = larger * self.meets.off if self.meets else 0.0
        made = []
        sizes = [(radius, self.tip)] + ([(self.pilot / 2, cone)] if self.pilot else [])
        for n, (size, point) in enumerate(sizes):
            if self.end == 2:
                gone = self.travels[0]
                made.append(Hollow(0.0, gone, size, point, first, first + lean * gone))
            # The pilot has been drilled all the way before.
            gone = self.inside if n == 0 else self.travels[self.end - 1]
            if gone > 0:
                made.append(Hollow(long, long - gone, size, point, 0.0, -lean * gone))
        return made

    def shares(self, look: Look) -> tuple[Share, ...]:
        """What is used of each limit."""
        gone, two = self.travels[-1], len(self.travels) == 2
        one = self.depth + self.tip if two else gone

        def mm(value: float) -> str:
            return coarse(value, look)

        return (
            Share("flutes", one / (self.flutes - self.flutes_out), mm(one), mm(self.flutes - self.flutes_out)),
            Share("quill", gone / self.quill, mm(gone), mm(self.quill)),
            Share("torque", self.torque[1] / self.torque_most, torque(self.torque[1], look),
                  torque(self.torque_most, look)),
            Share("jaw grip", self.grip / self.grip_most, look.newton(self.grip), look.newton(self.grip_most)),
        )  # fmt: skip


def coarse(value: float, look: Look) -> str:
    """A travel in mm, as finely as a quill is read."""
    return look.mm(value, 2 if look.system == "inch" else 1)


def torque(value: float, look: Look) -> str:
    """A torque in N m, written with its unit."""
    return written_torque(Q_(float(value), "N*m"), look.system)


class DrillingPicture(Picture):
    """Above, the part in the chuck and the drill in the tailstock, to scale; below, the point, and the limits."""

    width, height = 640, 450

    def build(self) -> None:
        self.whole = WholeHole(self.canvas, self.canvas.axes(0.01, 0.53, 0.98, 0.47, frame=False), self.look)
        self.close = ClosePoint(self.canvas, self.canvas.axes(0.01, 0.145, 0.58, 0.325, frame=False), self.look)
        self.bars = ShareBars(self.canvas, self.canvas.axes(0.615, 0.02, 0.38, 0.43, frame=False))

    def update(self, data: HoleStage, kept: HoleStage | None) -> None:
        self.whole.put(data, self.width * 0.98 / (self.height * 0.47))
        self.close.put(data, self.larger(data), self.width * 0.58 / (self.height * 0.325))
        self.bars.put(data.shares(self.look), None if kept is None else kept.shares(self.look))

    @staticmethod
    def larger(data: HoleStage) -> float:
        """How many times larger the sideways errors are drawn: a tenth of the drill at most, a round number."""
        if data.meets is None or data.end == 1 or data.meets.worst_step <= 0:
            return 1.0
        return max(1.0, 1.0 / nice(data.meets.worst_step / (0.16 * data.drill), (1.0, 2.0, 5.0, 10.0)))

    def alt(self, data: HoleStage, kept: HoleStage | None) -> str:
        look, mm = self.look, self.look.mm
        kind = "through" if data.through else "blind"
        pilot = f" behind a pilot of {mm(data.pilot)}" if data.pilot else ""
        words = (
            f"A {kind} hole {mm(data.depth)} deep in {data.material}, {mm(data.outside)} across, held in the chuck. "
            f"From the tailstock comes a drill of {mm(data.drill)}{pilot}, its point {data.point_angle:.0f}° and "
            f"{mm(data.tip)} long. End {data.end} of {len(data.travels)}: the point is {mm(data.inside)} deep, peck "
            f"{data.peck} of {len(data.stops)}; {mm(data.since)} since the flutes were cleared. Thrust "
            f"{look.newton(data.thrust[0])} to {look.newton(data.thrust[1])}, torque {torque(data.torque[0], look)} to "
            f"{torque(data.torque[1], look)} with the lips fully in. "
        )  # fmt: skip
        words += "Used of the limits: " + "; ".join(f"{s.name} {s.used} of {s.most}" for s in data.shares(look)) + "."
        if data.meets is not None:
            words += (
                f" Drilled from both ends: where they meet a step of about {mm(data.meets.step)} is expected, "
                f"{mm(data.meets.worst_step)} at worst; a bore {mm(data.meets.worst_allowance)} larger hides it."
            )
            if data.end == 2:
                words += f" Close up, sideways errors are drawn {self.larger(data):g} times larger, the worst case."
        if kept is not None:
            words += (
                f" The setting kept for comparison had a thrust of {look.newton(kept.thrust[0])} to "
                f"{look.newton(kept.thrust[1])} and {len(kept.travels)} end{'s'[: len(kept.travels) > 1]}."
            )
        return words

    def table(self, data: HoleStage) -> Table:
        unit, number = self.look.length_unit, self.look.number
        rows = []
        for end, stops in enumerate(data.pecks, 1):
            for n, (stop, before) in enumerate(zip(stops, [0.0, *stops[:-1]], strict=True), 1):
                chips = data.loose * np.pi / 4.0 * (data.drill**2 - data.pilot**2) * (stop - before) / 1000.0
                rows.append((str(end), str(n), number(stop), number(stop - before), self.look.cm3(chips).split()[0]))
        headings = ("end", "peck", f"draw out with the point at [{unit}]", f"drilled since the last [{unit}]",
                    f"chips in the flutes [{self.look.cm3(0.0).split()[1]}]")  # fmt: skip
        return Table(f"Pecks of the {self.look.mm(data.drill)} drill", headings, tuple(rows))
