"""What the jaws do to a thin wall: lobes while it is held, and the same lobes in the bore once it is let go."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from latheworks.deflection.shaft import LONGEST, SMALLEST
from latheworks.door import Door, given
from latheworks.errors import OutOfRange, WrongUnit
from latheworks.materials import pick
from latheworks.results import Result
from latheworks.shop import cautions
from latheworks.tables import cite
from latheworks.units import Q_, U, show
from latheworks.working import Line, Working

_RING = "thin ring, bending without stretch (derivation)"
# A ring whose bore is less than this share of the outside is no thin ring any more.
LEAST_BORE = 0.6
THIN = 0.88
_WIDE = 'width=Q_(20, "mm")'


def lobes(jaws: int) -> tuple[float, float]:
    """How far a ring moves in under each jaw, and out halfway between two, in W R^3/(E I).

    With half the angle between jaws h = pi/N: in = [(h + sin h cos h)/sin^2 h - 2/h]/4 and
    out = [2/h - 1/sin h - h cos h/sin^2 h]/4; the ring bends and keeps its length.
    """
    h = math.pi / jaws
    s, c = math.sin(h), math.cos(h)
    return ((h + s * c) / s**2 - 2 / h) / 4, (2 / h - 1 / s - h * c / s**2) / 4


@dataclass(frozen=True, slots=True)
class JawSqueeze(Result):
    """A thin ring in jaws, and the bore after it is let go.

    Fields: jaws; force of each [N]; outside, bore, width [mm]; elastic_modulus [MPa]; inward, under each jaw, and
    outward, halfway between two, while held, on the radius [mm]; out_of_round, peak to valley on the radius of a bore
    that was turned round while held, once it is let go [mm]; two_point, how much of that two opposite anvils can see,
    as a difference of diameters (none of it with an odd number of jaws) [mm]; shrink, how much the whole ring is
    pressed smaller across while held [mm].
    """

    jaws: int
    force: Any
    outside: Any
    bore: Any
    width: Any
    elastic_modulus: Any
    inward: Any
    outward: Any
    out_of_round: Any
    two_point: Any
    shrink: Any

    def title(self) -> str:
        """One line that says what this is."""
        return f"Ring of {show(self.outside)} with a bore of {show(self.bore)} in {self.jaws} jaws"

    def facts(self) -> list[tuple[str, str]]:
        """What it looks like held, and let go."""
        said = [
            ("force of each jaw", show(self.force)),
            ("held, under a jaw", f"{show(self.inward, digits=4)} in"),
            ("held, between jaws", f"{show(self.outward, digits=4)} out"),
            ("let go", f"{self.jaws} lobes in a bore turned round, {show(self.out_of_round, digits=4)} peak to valley"),
            ("a two-point gage sees", show(self.two_point, digits=4)),
        ]
        return [*said, *(("note", note) for note in self.notes)]

    @property
    def notes(self) -> tuple[str, ...]:
        """What to mind about this result; the standing caution last."""
        said = []
        if self.jaws % 2:
            said.append("An odd number of lobes has the same diameter everywhere: use three points, or turn the part.")
        if (self.bore / self.outside).m_as(U.one) < THIN:
            said.append(f"Not a very thin ring: a first estimate. Thinner ones were measured: {cite('ring_in_chuck')}.")
        said.append("Soft jaws bored to size, or a split sleeve, spread the force and leave far less.")
        return (*said, str(cautions("holding")[-1]))

    @property
    def working(self) -> Working:
        """The lines from which the lobes can be redone by hand."""
        outside, bore, width = (float(size.m_as(U.mm)) for size in (self.outside, self.bore, self.width))
        push, modulus = float(self.force.m_as(U.N)), float(self.elastic_modulus.m_as(U.MPa))
        wall, mean = (outside - bore) / 2, (outside + bore) / 4
        inertia = width * wall**3 / 12
        into, out = lobes(self.jaws)
        scale = push * mean**3 / (modulus * inertia)
        numbers = f"{push:g} × {mean:g}³ / ({modulus:g} × {inertia:.9g})"
        return Working(self.title(), (
            Line("R", "(D + d)/4", f"({outside:g} + {bore:g}) / 4", f"{mean:.6g} mm", "mean radius"),
            Line("I", "b t³/12", f"{width:g} × {wall:g}³ / 12", f"{inertia:.6g} mm⁴", "a strip of the wall"),
            Line("W R³/(E I)", "", numbers, f"{scale:.6g} mm", _RING),
            Line("in", f"{into:.6f} W R³/(E I)", f"{into:.9g} × {scale:.9g}", f"{into * scale:.6g} mm", _RING),
            Line("out", f"{out:.6f} W R³/(E I)", f"{out:.9g} × {scale:.9g}", f"{out * scale:.6g} mm", _RING),
            Line("let go", "in + out", f"{into * scale:.9g} + {out * scale:.9g}", f"{(into + out) * scale:.6g} mm",
                 "the bore springs back by what it was bent"),
        ))  # fmt: skip


def jaw_squeeze(outside: Any, bore: Any, width: Any, force: Any, material: Any, jaws: Any = 3) -> JawSqueeze:
    """Return the lobes that jaws press into a thin wall, and the bore's out-of-round once it is let go.

    Under each jaw the wall moves in by c_in W R^3/(E I), halfway between two it moves out by c_out W R^3/(E I), with
    I = b t^3/12, mean radius R, wall t; c_in, c_out are 0.074389, 0.068310 for 2 jaws, 0.015939, 0.014257 for 3,
    0.006079, 0.005386 for 4 and 0.001682, 0.001480 for 6. A bore turned round while held keeps both, the other way
    round, when it is let go: in + out, peak to valley on the radius. Half the wall, about eight times the lobes.
    Parameters: outside and bore of the ring [mm, bore at least 0.6 of the outside]; width, the length of wall that
    carries the jaws' load, about that of the jaws for a long part [mm]; force of EACH jaw, so the grip divided by the
    number of jaws [N, 0 or more]; material, a name from the table or an elastic modulus [MPa]; jaws [2 to 12].
    Raises WrongUnit, OutOfRange or NotInTable, and Impossible for a ring that the jaws would crush.
    Source: ring under equal loads, closed form as in Roark's Formulas, from memory, checked by its Fourier series and
    by a frame model. A thin-ring model came within 6 percent of rings measured in a chuck at a bore of 0.881 of the
    outside (abstract of J. Manuf. Sci. Eng. 126, 2004, read); thicker walls give a little more than computed.

    >>> ring = jaw_squeeze(Q_(32, "mm"), Q_(28, "mm"), Q_(20, "mm"), Q_(1000, "N"), "6061-T6")
    >>> show(ring.inward, digits=4), show(ring.out_of_round, digits=4)
    ('0.0585 mm', '0.1108 mm')
    """
    with Door("jaw_squeeze") as door:
        big = door.number(outside, "outside", "mm", least=SMALLEST, most=LONGEST, example='outside=Q_(32, "mm")')
        small = door.number(bore, "bore", "mm", least=SMALLEST, most=LONGEST, example=f'bore=Q_({0.85 * big:g}, "mm")')
        if not LEAST_BORE * big <= small < big:
            expected = f"{LEAST_BORE:g} of the outside or more, and less than the outside of {big:g} mm"
            door.complain("bore", given(bore), expected, f'bore=Q_({0.85 * big:g}, "mm")', OutOfRange)
            big, small = 32.0, 28.0
        wide = door.number(width, "width", "mm", least=SMALLEST, most=LONGEST, example=_WIDE)
        push = door.number(force, "force", "N", least=0.0, example='force=Q_(1000, "N")')
        modulus = _modulus(door, material)
        count = door.whole(jaws, "jaws", least=2, most=12)
    wall, mean = (big - small) / 2, (big + small) / 4
    scale = push * mean**3 / (modulus * wide * wall**3 / 12)
    into, out = (share * scale for share in lobes(count))
    if into > mean / 10:
        with Door("jaw_squeeze") as door:
            got = f"jaws that press the wall in by {into:.3g} mm"
            door.complain("force", got, "a tenth of its radius at most", "a lighter grip, soft jaws or a thicker wall")
    return JawSqueeze(
        jaws=count,
        force=Q_(push, U.N),
        outside=Q_(big, U.mm),
        bore=Q_(small, U.mm),
        width=Q_(wide, U.mm),
        elastic_modulus=Q_(modulus, U.MPa),
        inward=Q_(into, U.mm),
        outward=Q_(out, U.mm),
        out_of_round=Q_(into + out, U.mm),
        # With an even number of jaws a jaw faces a jaw and a gap a gap.
        two_point=Q_(0.0 if count % 2 else 2 * (into + out), U.mm),
        shrink=Q_(count * push * mean / (math.pi * modulus * wide * wall), U.mm),
    )


def _modulus(door: Door, material: Any) -> float:
    """Elastic modulus [MPa] of a named material, or as given."""
    if isinstance(material, Q_):
        return door.number(material, "material", "MPa", least=1.0, most=1e7, example='material="6061-T6"')
    if material is None:
        door.complain("material", "None", "a name from the material table", 'material="6061-T6"', WrongUnit)
        return 69000.0
    return float(pick(door, material).elastic_modulus.m_as(U.MPa))
