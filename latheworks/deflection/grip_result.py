"""What `grip` returns: the force that is left, what is asked of it, and a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from latheworks.results import Result
from latheworks.shop import cautions
from latheworks.tables import cite
from latheworks.units import U, show
from latheworks.working import Line, Working

LEAST_SAFETY = 1.5


@dataclass(frozen=True, slots=True)
class Grip(Result):
    """How a chuck holds a part at speed.

    Fields: gripping, "outside" or "inside"; jaws; spindle; clamping_force of all jaws at rest [N]; centrifugal_force
    of all jaws [N]; effective_force, what is left at speed [N], or None where nothing is left and the part is
    released; cut_ratio, diameter of the cut over that of the grip, None without a cut; friction; torque [N*m];
    grip_diameter [mm]; thrust [N] and shoulder, whether something else takes it; needed_force, the grip that just
    holds the cut [N]; machining_safety, clamping_safety; required_force, to be clamped at rest [N];
    permissible_spindle, None where speed does not loosen the grip.
    """

    gripping: str
    jaws: int
    spindle: Any
    clamping_force: Any
    centrifugal_force: Any
    effective_force: Any
    cut_ratio: float | None
    friction: float
    torque: Any
    grip_diameter: Any
    thrust: Any
    shoulder: bool
    needed_force: Any
    machining_safety: float
    clamping_safety: float
    required_force: Any
    permissible_spindle: Any

    @property
    def finding(self) -> str:
        """ "stop" when the part is released or slips, "caution" when a margin is missing, else "holds"."""
        if self.effective_force is None or self.effective_force < self.needed_force:
            return "stop"
        # From inside, the grip at rest is the least there is; a cut started or stopped there must hold too.
        if self.clamping_force < self.needed_force:
            return "stop"
        thin = min(self.machining_safety, self.clamping_safety) < LEAST_SAFETY
        return "caution" if thin or self.clamping_force < self.required_force else "holds"

    @property
    def says(self) -> str:
        """The finding as a sentence, with what to do."""
        at, flung, clamped = show(self.spindle), show(self.centrifugal_force), show(self.clamping_force)
        slower = "Turn slower, clamp harder as far as the part bears it, or use lighter jaws."
        if self.effective_force is None:
            return (
                f"Stop: at {at} the jaws are flung outwards with {flung}, and only {clamped} clamp the part. "
                f"It would be released. {slower}"
            )
        left, need = show(min(self.effective_force, self.clamping_force, key=_newtons)), show(self.needed_force)
        if self.finding == "stop":
            moves = "be pushed into the chuck" if self._pushed else "turn in the jaws"
            return (
                f"Stop: {left} grip the part at {at}, and the cut needs {need}. It would {moves}. Take a lighter cut, "
                "clamp harder, grip a larger diameter, give it a shoulder or a stop, or turn slower."
            )
        if self.clamping_force < self.required_force:
            return (
                f"Caution: it holds with less margin than asked for; {show(self.required_force)} should be clamped at "
                f"rest, and {clamped} are. {slower}"
            )
        if self.finding == "caution":
            return f"Caution: it holds, but a safety factor is below the {LEAST_SAFETY:g} that VDI 3106 asks for."
        return f"Holds: {left} grip the part at {at}, and the cut needs {need}."

    @property
    def _pushed(self) -> bool:
        """Whether it is more the thrust than the torque that moves the part."""
        around = 2.0 * self.torque.m_as("N*mm") / self.grip_diameter.m_as(U.mm)
        return bool(not self.shoulder and self.thrust.m_as(U.N) > around)

    def title(self) -> str:
        """One line that says what this is."""
        return f"Grip from {self.gripping} in {self.jaws} jaws at {show(self.spindle)}"

    def facts(self) -> list[tuple[str, str]]:
        """The sentence first, then the forces."""
        said = [("finding", self.says), ("clamped at rest", show(self.clamping_force))]
        word = "gained by speed" if self.gripping == "inside" else "lost by speed"
        said.append((word, show(self.centrifugal_force)))
        if self.effective_force is not None:
            said.append(("grip at speed", show(self.effective_force)))
        said.append(("needed by the cut", f"{show(self.needed_force)}, at a friction of {self.friction:g}"))
        if self.cut_ratio is not None:
            said.append(("cut over grip diameter", f"{self.cut_ratio:.2f}"))
        said.append(("to be clamped at rest", show(self.required_force)))
        if self.permissible_spindle is not None:
            fastest = show(self.permissible_spindle) if self.permissible_spindle.magnitude else "none: clamp harder"
            said.append(("fastest spindle", fastest))
        return [*said, *(("note", note) for note in self.notes)]

    @property
    def notes(self) -> tuple[str, ...]:
        """What to mind; the standing caution last."""
        said = ["The speed marked on the chuck, and the length that its maker wants gripped, go before any result."]
        if self.gripping == "inside":
            said.append("From inside, speed adds to the grip and to the stretch of a thin wall; count on none of it.")
        if self.thrust.magnitude and not self.shoulder:
            said.append(
                "Thrust pushes the part into the chuck: a shoulder on the jaws or a stop takes it off the grip."
            )
        return (*said, str(cautions("holding")[-1]))

    @property
    def working(self) -> Working:
        """The lines from which the forces can be redone by hand."""
        rest, flung, need = (_newtons(f) for f in (self.clamping_force, self.centrifugal_force, self.needed_force))
        twist, across = float(self.torque.m_as("N*mm")), float(self.grip_diameter.m_as(U.mm))
        axial = 0.0 if self.shoulder else _newtons(self.thrust)
        sz, sk, source = self.machining_safety, self.clamping_safety, cite("vdi3106")
        sign, n = ("+" if self.gripping == "inside" else "−"), float(self.spindle.m_as(U.rpm))
        moment = flung / (3.141592653589793 * n / 30) ** 2 if n else 0.0
        back = "−" if self.gripping == "inside" else "+"
        numbers = f"{sk:g} × ({sz:g} × {need:.9g} {back} {flung:.9g})"
        lines = [
            Line("Ft", "2 T/D_grip", f"2 × {twist:.9g} / {across:g}", f"{2 * twist / across:.6g} N", "torque"),
            Line("Fz", "sqrt(Ft² + Fa²)/mu", f"({2 * twist / across:.9g}² + {axial:.9g}²)^0.5 / {self.friction:g}",
                 f"{need:.6g} N", "friction against the resultant"),
        ]  # fmt: skip
        if n:
            lines.append(
                Line("Fcent", "sum of m r × (pi n/30)²", f"{moment:.9g} × (pi × {n:g} / 30)²", f"{flung:.6g} N", source)
            )
        if self.effective_force is not None:
            left = _newtons(self.effective_force)
            lines.append(Line("F", f"F0 {sign} Fcent", f"{rest:.9g} {sign} {flung:.9g}", f"{left:.6g} N", source))
        lines.append(Line("required", f"Sk (Sz Fz {back} Fcent)", numbers, show(self.required_force), source))
        return Working(self.title(), tuple(lines))


def _newtons(force: Any) -> float:
    """A force in newtons."""
    return float(force.m_as(U.N))
