"""The lathe and the rack that a question is asked for, at the door."""

from __future__ import annotations

from typing import Any

from latheworks.door import Door
from latheworks.plan.plan import Plan
from latheworks.shop import Lathe, Rack
from latheworks.shop import lathe as teaching_lathe
from latheworks.shop import rack as teaching_rack


def shop_at(door: Door, what: Any, lathe: Any, rack: Any) -> tuple[Lathe, Rack]:
    """Those that are given, else a plan's own, else the teaching ones."""
    own = what if isinstance(what, Plan) else None
    machine = (teaching_lathe() if own is None else own.machine) if lathe is None else door.instance(
        lathe, "lathe", Lathe, "a Lathe", 'lathe("my_lathe.toml"), or leave it out')  # fmt: skip
    tools = (teaching_rack() if own is None else own.tools) if rack is None else door.instance(
        rack, "rack", Rack, "a Rack", 'rack("my_rack.toml"), or leave it out')  # fmt: skip
    return machine, tools
