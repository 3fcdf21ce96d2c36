"""What the drilling functions read at the door alike: a drill's row of the materials, a lathe and a rack."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from latheworks.cutting import angle_in_degrees
from latheworks.door import Door
from latheworks.errors import NotInTable
from latheworks.materials import Material
from latheworks.shop import Lathe, Rack, lathe, rack
from latheworks.tables import table

DIAMETER = 'diameter=Q_(10, "mm")'


@cache
def material_rows() -> Mapping[str, Mapping[str, str]]:
    """The rows of the table of drilling materials, by name."""
    return {row["material"]: row for row in table("drill_materials")}


def drilled(door: Door, chosen: Material) -> Mapping[str, str]:
    """The material's row; complain at the door where the table has none."""
    row = material_rows().get(chosen.name)
    if row is None:
        door.complain("material", chosen.name, "a material of the table of drilling", '"steel 1018"', NotInTable)
        return next(iter(material_rows().values()))
    return row


def size(door: Door, value: Any, name: str = "diameter") -> float:
    """A drill's diameter in mm."""
    return door.number(value, name, "mm", least=0.3, most=100, example=DIAMETER if name == "diameter" else None)


def angle(door: Door, value: Any) -> float:
    """The point angle in degrees, 118 when not given."""
    if value is None:
        return 118.0
    return angle_in_degrees(door, value, "point_angle", least=60, most=180, example='point_angle=Q_(118, "degree")')


def shop(door: Door, machine: Any, tools: Any) -> tuple[Lathe, Rack]:
    """The lathe and the rack asked for, or the teaching ones."""
    here, there = lathe(), rack()
    if machine is not None:
        here = door.instance(machine, "lathe", Lathe, "a Lathe", 'lathe("my_lathe.toml"), or leave it out') or here
    if tools is not None:
        there = door.instance(tools, "rack", Rack, "a Rack", 'rack("my_rack.toml"), or leave it out') or there
    return here, there
