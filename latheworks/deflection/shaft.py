"""The part as a beam: pieces of constant section from the chuck face outwards."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from latheworks.deflection.kernel import Beam, beam
from latheworks.door import Door, given
from latheworks.errors import Impossible, WrongUnit
from latheworks.materials import Material, pick
from latheworks.results import Result
from latheworks.units import Q_, U, show

LONGEST = 10_000.0
SMALLEST = 0.01
# A shaft of more pieces than this is a curve, not a turned part.
MOST_SECTIONS = 1000
_COPY = 'sections=[(Q_(80, "mm"), Q_(32, "mm"), Q_(0, "mm"))]'
_MATERIAL = 'material="6061-T6"'

Section = tuple[Any, Any, Any]


@dataclass(frozen=True)
class Shaft(Result):
    """A stepped round part, solid or hollow, of one material.

    Each section is (length, outside, bore) and the sections run from the chuck face, or from the headstock
    center, outwards.

    Parameters: sections, a list of (length [mm, above 0 to 10 m], outside diameter [mm, 0.01 mm to 10 m],
    bore diameter [mm, 0 or more and less than the outside]); material, a name from the material table or an
    elastic modulus [MPa, 1 MPa to 10 000 GPa].
    Raises WrongUnit, OutOfRange, NotInTable, and Impossible for a bore as large as the outside.
    Source: Euler-Bernoulli beams, any text on strength of materials. Below a length of about 3 diameters
    the shear left out here is not small: for a solid round it adds 0.55 (D/L)^2 at the free end (derivation).

    >>> barrel = Shaft([(Q_(60, "mm"), Q_(32, "mm"), Q_(20, "mm"))], Q_(69000, "MPa"))
    >>> show(barrel.length)
    '60.000 mm'
    """

    sections: Sequence[Section]
    material: Any
    elastic_modulus: Any = field(init=False, repr=False, compare=False)
    density: Any = field(init=False, repr=False, compare=False)
    beam: Beam = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        with Door("Shaft") as door:
            sizes = np.array(_sizes(door, self.sections))
            modulus, density = _stuff(door, self.material)
        put = object.__setattr__
        put(self, "sections", tuple(tuple(section) for section in self.sections))
        put(self, "elastic_modulus", Q_(modulus, U.MPa))
        put(self, "density", density)
        put(self, "beam", beam(sizes[:, 0], sizes[:, 1], sizes[:, 2], modulus))

    @classmethod
    def bar(cls, length: Any, outside: Any, bore: Any = None, material: Any = None) -> Shaft:
        """A bar or tube of one section.

        Parameters: length [mm, above 0 to 10 m]; outside diameter [mm]; bore diameter [mm], solid when left
        out; material, a name from the table or an elastic modulus [MPa]. Raises as `Shaft` does.

        >>> print(Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa")))
        Shaft, 1 section, 80.000 mm long
          elastic modulus  69000 MPa
          section 1        80.000 mm of 20.000 mm, solid
        """
        return cls([(length, outside, Q_(0.0, U.mm) if bore is None else bore)], material)

    @property
    def length(self) -> Any:
        """The whole length [mm]."""
        return Q_(self.beam.length, U.mm)

    @property
    def mass(self) -> Any:
        """The mass [kg]; Impossible when only an elastic modulus was given, which says nothing of weight.

        >>> show(Shaft.bar(Q_(250, "mm"), Q_(32, "mm"), Q_(26, "mm"), material="6061-T6").mass)
        '0.184 kg'
        """
        if self.density is None:
            raise Impossible(
                f"Shaft.mass: got a material with an elastic modulus only, {given(self.material)}, "
                f"expected a name from the material table, which has a density. Try {_MATERIAL}."
            )
        volume = sum(math.pi / 4 * s[0] * (s[1] ** 2 - s[2] ** 2) for s in self.sections)
        return (volume * self.density).to("kg")

    def reversed(self) -> Shaft:
        """The same part the other way round: its free end now at the chuck face."""
        return Shaft(tuple(reversed(self.sections)), self.material)

    def stickout(self, grip: Any) -> Shaft:
        """What sticks out of the chuck when a length of the near end is in the jaws.

        Parameter: grip [mm], more than 0 and less than the length. Raises WrongUnit or OutOfRange.

        >>> show(Shaft.bar(Q_(80, "mm"), Q_(20, "mm"), material=Q_(69, "GPa")).stickout(Q_(25, "mm")).length)
        '55.000 mm'
        """
        with Door("Shaft.stickout") as door:
            inside = door.number(grip, "grip", "mm", above=0.0, below=self.beam.length)
        # A sliver of an ulp or so, left where the grip ends at a step, is not a section.
        smallest = self.beam.length * 1e-12
        left = [
            (Q_(float(end - max(start, inside)), U.mm), outside, bore)
            for start, end, (_, outside, bore) in zip(self.beam.starts, self.beam.ends, self.sections, strict=True)
            if end - inside > smallest
        ]
        return Shaft(left, self.material)

    def title(self) -> str:
        """One line that says what this is."""
        count = len(self.sections)
        return f"Shaft, {count} section{'s' if count > 1 else ''}, {show(self.length)} long"

    def facts(self) -> Sequence[tuple[str, str]]:
        """The material and every section."""
        stuff = self.material
        named = [] if isinstance(stuff, Q_) else [("material", stuff if isinstance(stuff, str) else stuff.name)]
        pieces = [
            (f"section {i}", f"{show(long)} of {show(outside)}, " + (f"bore {show(bore)}" if bore.m else "solid"))
            for i, (long, outside, bore) in enumerate(self.sections, 1)
        ]
        return [*named, ("elastic modulus", show(self.elastic_modulus)), *pieces]

    def columns(self) -> dict[str, Any]:
        """The sections, a row each."""
        names = ("length [mm]", "outside [mm]", "bore [mm]")
        return {name: [s[i].m_as(U.mm) for s in self.sections] for i, name in enumerate(names)}


def _sizes(door: Door, sections: Any) -> list[tuple[float, float, float]]:
    """The sections as floats in mm, each checked and named in a complaint."""
    listed = isinstance(sections, (list, tuple)) and len(sections) > 0
    if not listed or len(sections) > MOST_SECTIONS:
        got = given(sections) if not listed else f"{len(sections)} sections"
        door.complain("sections", got, f"1 to {MOST_SECTIONS} of (length, outside, bore)", _COPY, WrongUnit)
        return [(1.0, 1.0, 0.0)]
    sizes = []
    for i, section in enumerate(sections, 1):
        if not isinstance(section, (list, tuple)) or len(section) != 3:
            door.complain(f"section {i}", given(section), "(length, outside, bore)", _COPY, WrongUnit)
            continue
        length = door.number(section[0], f"section {i} length", "mm", above=0.0, most=LONGEST)
        outside = door.number(section[1], f"section {i} outside", "mm", least=SMALLEST, most=LONGEST)
        bore = door.number(section[2], f"section {i} bore", "mm", least=0.0, most=LONGEST)
        if bore >= outside:
            door.complain(
                f"section {i} bore", given(section[2]), f"less than its outside of {outside:g} mm, to leave a wall",
                f'Q_({outside / 2:g}, "mm")',
            )  # fmt: skip
        sizes.append((length, outside, bore))
    return sizes or [(1.0, 1.0, 0.0)]


def _stuff(door: Door, material: Any) -> tuple[float, Any]:
    """The elastic modulus [MPa], and the density where a material of the table was named."""
    if isinstance(material, Q_):
        return door.number(material, "material", "MPa", least=1.0, most=1e7, example='material=Q_(69, "GPa")'), None
    if not isinstance(material, (str, Material)):
        expected = "a name from the material table or an elastic modulus"
        door.complain("material", given(material), expected, _MATERIAL, WrongUnit)
        return 1.0, None
    named = pick(door, material)
    return float(named.elastic_modulus.m_as(U.MPa)), named.density
