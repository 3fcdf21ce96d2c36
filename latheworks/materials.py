"""Work materials: stiffness, weight, growth with heat, and what it takes to cut them, each with its source."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from latheworks.door import Door, nearest
from latheworks.errors import NotInTable, WrongUnit
from latheworks.results import Result
from latheworks.tables import Row, cite, table
from latheworks.units import Q_, show, ureg

__all__ = ["Material", "material", "materials"]


@dataclass(frozen=True, slots=True)
class Material(Result):
    """One work material.

    Fields: name; elastic_modulus [GPa]; density [kg/m^3]; thermal_expansion [1/K]; specific_cutting_force, the
    force to take a chip 1 mm wide and 1 mm thick (kc1.1) [MPa]; chip_thickness_exponent (mc) [-]; threading_speed,
    a usual surface speed for threading with a high-speed steel tool [m/min]; note on the scatter; source.
    The two cutting values are None where no published pair is known.
    """

    name: str
    elastic_modulus: Any
    density: Any
    thermal_expansion: Any
    specific_cutting_force: Any
    chip_thickness_exponent: float | None
    threading_speed: Any
    note: str
    source: str

    def title(self) -> str:
        """The material's name."""
        return self.name

    def facts(self) -> list[tuple[str, str]]:
        """Each property with its unit, then the note and the sources."""
        growth = self.thermal_expansion.m_as("1/K") * 1e6
        if self.specific_cutting_force is None:
            cutting = [("cutting force", "no published pair known, so none is computed")]
        else:
            cutting = [
                ("specific cutting force kc1.1", show(self.specific_cutting_force)),
                ("chip thickness exponent mc", f"{self.chip_thickness_exponent:.2f}"),
            ]
        return [
            ("elastic modulus", f"{self.elastic_modulus.m_as('GPa'):g} GPa"),
            ("density", show(self.density)),
            ("thermal expansion", f"{growth:.1f} µm per meter and kelvin"),
            *cutting,
            ("threading speed", show(self.threading_speed)),
            ("note", self.note),
            ("source", self.source),
        ]


def material(name: Any) -> Material:
    """Return a work material by its name or one of its usual other names.

    Parameters: name, a name of `materials()` or an alias such as "6061" [text, 1 to 80 characters; a Material is
    handed back as it is]. Raises WrongUnit when it is not text and NotInTable, with the nearest name, when no
    table here lists it. Source: see `.source`; published values scatter, see `.note`.

    >>> material("6061").name, material("1045").elastic_modulus.m_as("GPa")
    ('aluminum 6061-T6', 207.0)
    """
    with Door("material") as door:
        found = pick(door, name)
    return found


def materials() -> tuple[str, ...]:
    """Return the names of all materials in the table, in its order.

    Raises nothing. Source: latheworks/data/materials.csv.

    >>> materials()[0]
    'aluminum 6061-T6'
    """
    return tuple(_by_name())


def pick(door: Door, value: Any, name: str = "material") -> Material:
    """Return the material that an argument of a public function asks for; complain at its door and fill in if none."""
    if isinstance(value, Material):
        return value
    fill_in = next(iter(_by_name().values()))
    if not isinstance(value, str):
        door.complain(name, f"{value!r:.60}", "the name of a material in quotes", f'{name}="{fill_in.name}"', WrongUnit)
        return fill_in
    key = _by_alias().get(_folded(value[:80]))
    if key is None:
        near = nearest(value, [*_by_name(), *_by_alias()]) or fill_in.name
        best = _by_alias().get(_folded(near), near)
        expected = "one of " + ", ".join(materials())
        door.complain(name, f"{value!r:.60}", expected, f'{name}="{best}"', NotInTable)
        return fill_in
    return _by_name()[key]


def _folded(text: str) -> str:
    """A name without case, accents or doubled blanks, so that it is found however it is typed."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())


@cache
def _by_name() -> Mapping[str, Material]:
    return MappingProxyType({row["name"]: _read(row) for row in table("materials")})


@cache
def _by_alias() -> Mapping[str, str]:
    names: dict[str, str] = {}
    for row in table("materials"):
        for word in (row["name"], *row["aliases"].split(";")):
            if names.setdefault(_folded(word), row["name"]) != row["name"]:
                raise NotInTable(f"materials.csv: {word!r} names two materials. Try another alias in that file.")
    return MappingProxyType(names)


def _read(row: Row) -> Material:
    force, exponent = row["kc1.1 [MPa]"], row["mc"]
    return Material(
        name=row["name"],
        elastic_modulus=Q_(float(row["elastic modulus [GPa]"]), "GPa"),
        density=Q_(float(row["density [kg/m3]"]), "kg/m**3"),
        thermal_expansion=Q_(float(row["thermal expansion [um/(m*K)]"]) * 1e-6, ureg.K**-1),
        specific_cutting_force=Q_(float(force), "MPa") if force else None,
        chip_thickness_exponent=float(exponent) if exponent else None,
        threading_speed=Q_(float(row["threading speed [m/min]"]), "m/min"),
        note=row["note"],
        source=cite(row["source"]),
    )
