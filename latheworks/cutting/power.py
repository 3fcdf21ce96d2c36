"""Power and torque of a cut, and whether the lathe's spindle can give both at its speed."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from latheworks.cutting.chip_result import CuttingForces
from latheworks.cutting.plain_numbers import machine
from latheworks.door import Door
from latheworks.errors import Impossible
from latheworks.results import Result
from latheworks.shop import Lathe
from latheworks.units import Q_, Span, U, show
from latheworks.working import Line, Working


@dataclass(frozen=True, slots=True)
class Power(Result):
    """What a cut takes and what the spindle gives.

    Fields: cut; diameter before the cut [mm]; spindle [rev/min]; surface_speed at that diameter [m/min]; removal_rate
    [cm^3/min]; torque at the spindle [N m] and cutting_power [kW], with torque_band and power_band by the published
    values; motor_power, with the drive's loss [kW]; torque_available and power_available at the work, at this speed;
    limit, "torque" below the lathe's base speed and "power" above it; share of that limit in use; lathe.
    """

    cut: CuttingForces
    diameter: Any
    spindle: Any
    surface_speed: Any
    removal_rate: Any
    torque: Any
    cutting_power: Any
    torque_band: Span
    power_band: Span
    motor_power: Any
    torque_available: Any
    power_available: Any
    limit: str
    share: float
    lathe: Lathe

    @property
    def fits(self) -> bool:
        """Whether the spindle gives both the torque and the power."""
        return self.share <= 1.0

    @property
    def fits_at_worst(self) -> bool:
        """Whether it still does with the highest of the published values."""
        return bool(self.share * (self.torque_band.max / self.torque).m_as(U.one) <= 1.0)

    def title(self) -> str:
        """The cut, the diameter and the speed."""
        return f"{self.cut.title()}, {show(self.diameter, self.cut.system)} at {show(self.spindle)}"

    def facts(self) -> list[tuple[str, str]]:
        """What the cut takes, what the spindle gives, and which of the two is the limit."""
        low, high = show(self.power_band.min), show(self.power_band.max)
        fits = "the spindle gives it"
        if not self.fits:
            fits = f"the spindle does not give it: its {self.limit} is the limit; take less depth or feed"
        elif not self.fits_at_worst:
            fits = f"the spindle gives it, but not with the highest published values: its {self.limit} is near"
        return [
            ("surface speed", show(self.surface_speed, self.cut.system)),
            ("removal rate", f"{self.removal_rate.m_as('cm**3/min'):.2f} cm³/min"),
            ("torque", f"{_nm(self.torque)} of {_nm(self.torque_available)}"),
            ("cutting power", f"{show(self.cutting_power)} of {show(self.power_available)}; published {low} to {high}"),
            ("power of the motor", f"{show(self.motor_power)} of {show(self.lathe.power)}"),
            (f"share of the {self.limit}", f"{100 * self.share:.0f} %"),
            ("so", fits),
        ]

    @property
    def working(self) -> Working:
        """The lines from which torque and power can be redone by hand."""
        force, depth = self.cut.tangential.m_as(U.N), self.cut.depth.m_as(U.mm)
        size, turns = self.diameter.m_as(U.mm), self.spindle.m_as(U.rpm)
        torque, spent = self.torque.m_as("N*m"), self.cutting_power.m_as("kW")
        share = self.lathe.drive_efficiency.m_as("percent")
        lines = (
            Line("T", "Fc (D - depth) / 2, at the middle of the chip", f"{force:.1f} x ({size:g} - {depth:g}) / 2000",
                 f"{torque:.2f} N m", "geometry"),
            Line("P", "2 pi n T / 60", f"2 pi x {turns:g} x {torque:.2f} / 60000", f"{spent:.3f} kW", "geometry"),
            Line("P motor", "P / share of the drive", f"{spent:.3f} / {share / 100:g}",
                 f"{self.motor_power.m_as('kW'):.3f} kW", self.lathe.name),
        )  # fmt: skip
        return Working(self.title(), lines)


def power(cut: Any, diameter: Any, spindle: Any, lathe: Any = None) -> Power:
    """Return the torque and power of a cut, against what the lathe's spindle gives at that speed.

    T = Fc (D - depth)/2 and P = 2 pi n T; the motor gives P over the drive's efficiency. Up to the base speed the
    spindle has a constant torque, above it a constant power: a slow heavy cut stalls on torque with power to spare.
    Removal rate: pi/4 (D^2 - d^2) f n, with d = D - 2 depth.

    Parameters: cut, of `cutting_forces(...)`; diameter before the cut [mm, above 0 to 5000]; spindle [rev/min, above 0
    to the lathe's fastest]; lathe, a Lathe, the teaching lathe when not given.
    Raises LatheworksError for a wrong dimension, a value outside its range, or a depth past the center.
    Source: mechanics; the drive's efficiency and base speed are the lathe's; usual values 70 to 90 %, Machinery's
    Handbook, from memory.

    >>> from latheworks.cutting import cutting_forces
    >>> cut = cutting_forces("steel 1018", Q_(1, "mm"), Q_(0.15, "mm/rev"))
    >>> round(power(cut, Q_(32, "mm"), Q_(600, "rev/min")).share, 2)
    0.26
    """
    with Door("power") as door:
        chosen = machine(door, lathe)
        fastest = chosen.fastest_spindle.m_as(U.rpm)
        size = door.number(diameter, "diameter", "mm", above=0, most=5000, example='diameter=Q_(32, "mm")')
        turns = door.number(spindle, "spindle", "rev/min", above=0, most=fastest, example='spindle=Q_(600, "rev/min")')
        taken = door.instance(cut, "cut", CuttingForces, "the forces of a cut", "cut=cutting_forces(...)")
        if taken is not None and not door.complaints and 2 * taken.depth.m_as(U.mm) > size:
            got, wanted = f"{size:g} mm for a depth of {taken.depth.m_as(U.mm):g} mm", "at least twice the depth"
            door.complain("diameter", got, wanted, "a smaller depth: it is counted on the radius", Impossible)
    depth, feed = taken.depth.m_as(U.mm), taken.feed.m_as(U.mm_per_rev)
    arm = (size - depth) / 2000.0  # m
    omega = 2.0 * np.pi * turns / 60.0  # rad/s
    torque = taken.tangential.m_as(U.N) * arm
    ends = [taken.tangential_band.min.m_as(U.N) * arm, taken.tangential_band.max.m_as(U.N) * arm]
    given, base = spindle_curve(chosen, turns)
    removed = np.pi / 4.0 * (size**2 - (size - 2.0 * depth) ** 2) * feed * turns / 1000.0
    spent = torque * omega / 1000.0
    return Power(
        cut=taken, diameter=Q_(size, U.mm), spindle=Q_(turns, U.rpm),
        surface_speed=Q_(np.pi * size * turns / 1000.0, U.m_per_min), removal_rate=Q_(removed, "cm**3/min"),
        torque=Q_(torque, "N*m"), cutting_power=Q_(spent, "kW"),
        torque_band=Span(Q_(ends[0], "N*m"), Q_(ends[1], "N*m")),
        power_band=Span(Q_(ends[0] * omega / 1000.0, "kW"), Q_(ends[1] * omega / 1000.0, "kW")),
        motor_power=Q_(spent / chosen.drive_efficiency.m_as(U.one), "kW"),
        torque_available=Q_(given, "N*m"), power_available=Q_(given * omega / 1000.0, "kW"),
        limit="torque" if turns < base else "power", share=float(torque / given), lathe=chosen,
    )  # fmt: skip


def spindle_curve(lathe: Lathe, turns: Any) -> tuple[Any, float]:
    """The torque [N m] a lathe gives at the work at so many rev/min, and its base speed [rev/min]."""
    base = lathe.base_spindle.m_as(U.rpm)
    watts = lathe.power.m_as("W") * lathe.drive_efficiency.m_as(U.one)
    return watts / (2.0 * np.pi * np.maximum(turns, base) / 60.0), base


def _nm(torque: Any) -> str:
    return f"{torque.m_as('N*m'):.1f} N m"
