"""The load of a drill as a result: thrust, torque and power by three published forms, side by side."""

from dataclasses import dataclass
from typing import Any

from latheworks.results import Result
from latheworks.tables import cite
from latheworks.units import Q_, Span, U, check_system, show
from latheworks.working import Line, Working

SOURCES = {"handbook": "mh31_drilling+mh_kd_memory", "Kienzle": "kienzle_drilling", "Shaw and Oxford": "shaw_oxford"}


def written_torque(torque: Any, system: str = "metric") -> str:
    """A torque as a shop writes it, N m or inch pounds."""
    if system == "inch":
        return f"{torque.m_as('inch*lbf'):.0f} lbf in"
    return f"{torque.m_as('N*m'):.2f} N m"


@dataclass(frozen=True, slots=True)
class DrillingLoad(Result):
    """What a drill asks of the lathe, by three published forms.

    Fields: material, its name; diameter [mm]; feed [mm/rev]; pilot, the hole already there [mm] or None; split, a
    split point or a standard one; point_angle [deg]; wear; hardness used [plain number, HB]; spindle [rev/min] or
    None; forms, their names; thrust_by_form [N] and torque_by_form [N m], arrays in that order; thrust [N] and torque
    [N m], the handbook's; thrust_band and torque_band over all forms; power [kW] of that torque and power_band, None
    without a spindle speed; removal_rate [cm^3/min] or None; system; constants, the numbers behind the forms.
    """

    material: str
    diameter: Any
    feed: Any
    pilot: Any
    split: bool
    point_angle: Any
    wear: float
    hardness: float
    spindle: Any
    forms: tuple[str, ...]
    thrust_by_form: Any
    torque_by_form: Any
    thrust: Any
    torque: Any
    thrust_band: Span
    torque_band: Span
    power: Any
    power_band: Span | None
    removal_rate: Any
    system: str
    constants: dict[str, float]

    def title(self) -> str:
        """The drill, the feed and the material."""
        behind = "" if self.pilot is None else f" behind a pilot of {show(self.pilot, self.system)}"
        return f"{self.material}, {show(self.diameter, self.system)} drill at {show(self.feed, self.system)}{behind}"

    def facts(self) -> list[tuple[str, str]]:
        """Each form's thrust and torque, the band, the power and what the numbers leave out."""
        check_system(self.system)
        rows = [
            (form, f"thrust {show(thrust, self.system)}, torque {written_torque(torque, self.system)}")
            for form, thrust, torque in zip(self.forms, self.thrust_by_form, self.torque_by_form, strict=True)
        ]
        low, high = self.torque_band.min, self.torque_band.max
        rows += [
            ("thrust", f"{show(self.thrust_band.min, self.system)} to {show(self.thrust_band.max, self.system)}"),
            ("torque", f"{written_torque(low, self.system)} to {written_torque(high, self.system)}"),
        ]
        if self.power is not None and self.power_band is not None:
            lowest, highest = (show(end, self.system) for end in (self.power_band.min, self.power_band.max))
            rows += [("power at the drill", f"{show(self.power, self.system)}; {lowest} to {highest}"),
                     ("removal rate", f"{self.removal_rate.m_as('cm**3/min'):.2f} cm³/min")]  # fmt: skip
        return [*rows, *(("note", note) for note in self.notes)]

    def columns(self) -> dict[str, Any]:
        """A row a form."""
        return {"form": self.forms, "thrust [N]": self.thrust_by_form.magnitude,
                "torque [N*m]": self.torque_by_form.magnitude}  # fmt: skip

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know before the numbers are used."""
        notes = ["thrust pushes the work into the chuck: a shoulder or a stop behind it, or the jaws alone, must hold"]
        if self.pilot is None:
            notes.append("Kienzle's form has no chisel edge in it, so its thrust is low without a pilot")
        if not self.material.startswith("steel"):
            notes.append("Shaw and Oxford measured steel; here their numbers are scaled by hardness")
        return tuple(notes)

    @property
    def working(self) -> Working:
        """The lines from which the three forms can be redone by hand."""
        c, d, f = self.constants, self.diameter.m_as(U.mm), self.feed.m_as(U.mm_per_rev)
        t = [f"{force:.0f} N" for force in self.thrust_by_form.magnitude]
        m = [f"{torque:.2f} N m" for torque in self.torque_by_form.magnitude]
        book, lips, shaw = (cite(SOURCES[form]) for form in self.forms)
        w, q = self.wear, c["q"]
        thrust = (f"0.05 x {c['thrust_kd']:g} x {f:g}^0.8 x {d:g}^0.8 x {c['b']:.3f} x {w:g} + "
                  f"0.007 x {c['thrust_kd']:g} x {d:g}^2 x {c['j']:.3f} x {w:g}")  # fmt: skip
        numbers = f"0.000025 x {c['torque_kd']:g} x {f:g}^0.8 x {d:g}^1.8 x {c['a']:.3f} x {w:g}"
        hole = q * d
        lines = [
            Line("T handbook", "0.05 Kd Ff FT B W + 0.007 Kd D^2 J W", thrust, t[0], book),
            Line("M handbook", "0.000025 Kd Ff FM A W", numbers, m[0], book),
            Line("kc", "kc1.1 (f/2 sin(angle/2))^-mc W", f"{c['kc11']:g} x {c['h']:.4f}^-{c['mc']:g} x {w:g}",
                 f"{c['kc']:.0f} MPa", lips),
            Line("T Kienzle", "0.5 kc f (D - d)/2 sin(angle/2)",
                 f"0.5 x {c['kc']:.0f} x {f:g} x ({d:g} - {hole:.4g})/2 x {c['lean']:.4f}", t[1], lips),
            Line("M Kienzle", "kc f (D^2 - d^2)/8000",
                 f"{c['kc']:.0f} x {f:g} x ({d:g}^2 - {hole:.4g}^2)/8000", m[1], lips),
            Line("T Shaw", "(57500 f^0.8 d^0.8 b + 625 d^2 j) HB/200 W, in and lb",
                 f"(57500 x {f / 25.4:.5f}^0.8 x {d / 25.4:.4f}^0.8 x {c['sb']:.4f} + 625 x {d / 25.4:.4f}^2 x "
                 f"{c['sj']:.4f}) x {self.hardness:g}/200 x {w:g}", t[2], shaw),
            Line("M Shaw", "25200 f^0.8 d^1.8 a HB/200 W, in and lb",
                 f"25200 x {f / 25.4:.5f}^0.8 x {d / 25.4:.4f}^1.8 x {c['sa']:.4f} x {self.hardness:g}/200 x {w:g}",
                 m[2], shaw),
        ]  # fmt: skip
        if self.power is not None:
            n = self.spindle.m_as(U.rpm)
            lines.append(Line("P", "M n/9549", f"{self.torque.m_as('N*m'):.2f} x {n:g}/9549",
                              f"{self.power.m_as('kW'):.3f} kW", "mechanics"))  # fmt: skip
        return Working(self.title(), tuple(lines))


def newton_span(values: Any) -> Span:
    """Lowest and highest thrust."""
    return Span(Q_(float(values.min()), U.N), Q_(float(values.max()), U.N))
