"""Change one thing of a plan or a part and leave the rest: each returns a new one, the old one stays as it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from latheworks.door import Door
from latheworks.errors import OutOfRange
from latheworks.plan.operation import KINDS, Operation
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.setup import Setup

_PLAN = "barrel_plan()"


def _new(thing: Any, changes: Mapping[str, Any]) -> Any:
    """The same with what is given, None for as it was."""
    given = {name: value for name, value in changes.items() if value is not None}
    return replace(thing, **given) if given else thing


def _setup(door: Door, plan: Plan | None, number: Any, name: str = "setup") -> int:
    """The place of a setup that was named by its number."""
    return door.whole(number, name, least=1, most=len(plan.setups) if plan is not None else 1) - 1


def _operation(door: Door, plan: Plan | None, setup: int, number: Any, name: str = "operation") -> int:
    """The place of an operation that was named by its number, in tens."""
    count = len(plan.setups[setup].operations) if plan is not None and not door.complaints else 1
    tens = door.whole(number, name, least=10, most=10 * max(count, 1))
    if not door.complaints and (tens % 10 or not count):
        door.complain(name, f"{tens}", f"a number in tens, 10 to {10 * count}" if count else "a setup with operations",
                      f"{name}=10", OutOfRange)  # fmt: skip
    return tens // 10 - 1


def _put(plan: Plan, i: int, setup: Setup) -> Plan:
    return replace(plan, setups=(*plan.setups[:i], setup, *plan.setups[i + 1 :]))


def find_operation(plan: Any, kind: Any, feature: Any, which: Any = 1) -> tuple[int, int]:
    """Return the numbers of the setup, from 1, and of the operation, in tens, that works on a feature.

    Parameters: plan, a `Plan`; kind, as in `Operation`; feature, its name; which, where there are several: 1 for the
    first. Raises LatheworksError naming every argument that does not fit, and where there is no such operation.
    Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> find_operation(barrel_plan(), "thread", "socket thread")
    (1, 120)
    """
    with Door("find_operation") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        word = door.choice(kind, "kind", KINDS)
        known = ["body"] if old is None else [each.name for each in old.part.features]
        name = door.choice(feature, "feature", known)
        places = [] if old is None else [
            (i, 10 * k) for i, setup in enumerate(old.setups, 1) for k, each in enumerate(setup.operations, 1)
            if each.kind == word and name in each.features]  # fmt: skip
        number = door.whole(which, "which", least=1, most=max(len(places), 1))
        if not door.complaints and not places:
            door.complain("kind", f"{word} of {name}, which the plan has not", "an operation of the plan",
                          'kind="thread", feature="socket thread"', OutOfRange)  # fmt: skip
    return places[number - 1]


def change_plan(plan: Any, part: Any = None, setups: Any = None, name: Any = None, note: Any = None) -> Plan:
    """Return a plan with another part, other setups or another name; what is left out stays as it was.

    Parameters: plan, a `Plan`; part, setups, name and note as in `Plan`. Raises LatheworksError naming every argument
    that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> change_plan(barrel_plan(), name="my own").title()
    'plan for my own'
    """
    with Door("change_plan") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
    found: Plan = _new(old, {"part": part, "setups": setups, "name": name, "note": note})
    return found


def change_part(part: Any, features: Any = None, stock_diameter: Any = None, stock_length: Any = None,
                quantity: Any = None, name: Any = None) -> Part:  # fmt: skip
    """Return a part with other features, another blank or another quantity; what is left out stays as it was.

    Features that are given take the place of those of the same name; new ones are added at the end.
    Parameters: part, a `Part`; features, a list of `Feature`; stock_diameter [mm], stock_length [mm], quantity and name
    as in `Part`. Raises LatheworksError naming every argument that does not fit. Source: none needed.

    >>> from latheworks.plan import corer_barrel
    >>> change_part(corer_barrel(), quantity=12).quantity
    12
    """
    from latheworks.plan.part import _listed

    with Door("change_part") as door:
        old = door.instance(part, "part", Part, "a Part", "corer_barrel()")
        own = () if features is None or old is None else tuple(_listed(door, features))
    assert old is not None
    names = {each.name: each for each in own}
    kept = [names.pop(each.name, each) for each in old.features]
    every = (*kept, *names.values()) if own else None
    return replace(old, **{name: value for name, value in {
        "features": every, "stock_diameter": stock_diameter, "stock_length": stock_length, "quantity": quantity,
        "name": name}.items() if value is not None})  # fmt: skip


def change_setup(plan: Any, setup: Any, stickout: Any = None, holding: Any = None, support: Any = None,
                 rest: Any = None, jaw_force: Any = None, runout: Any = None, zero_error: Any = None, stop: Any = None,
                 tailstock_locked: Any = None, quill_locked: Any = None, name: Any = None) -> Plan:  # fmt: skip
    """Return a plan with one setup held in another way; what is left out stays as it was.

    Parameters: plan, a `Plan`; setup, its number, from 1; stickout [mm], holding, support, rest [mm], jaw_force [N],
    runout [mm], zero_error [mm], stop, tailstock_locked, quill_locked and name as in `Setup`.
    Raises LatheworksError naming every argument that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> print(change_setup(barrel_plan(), 1, support="center").setups[0].support)
    center
    """
    with Door("change_setup") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        i = _setup(door, old, setup)
    assert old is not None
    changes = {"stickout": stickout, "holding": holding, "support": support, "rest": rest, "jaw_force": jaw_force,
               "runout": runout, "zero_error": zero_error, "stop": stop, "tailstock_locked": tailstock_locked,
               "quill_locked": quill_locked, "name": name}  # fmt: skip
    return _put(old, i, _new(old.setups[i], changes))


def change_operation(plan: Any, setup: Any, operation: Any, tool: Any = None, spindle: Any = None,
                     surface_speed: Any = None, feed: Any = None, depth: Any = None, passes: Any = None,
                     spring_passes: Any = None, leave: Any = None, peck: Any = None, drill_depth: Any = None,
                     method: Any = None, coolant: Any = None, features: Any = None) -> Plan:  # fmt: skip
    """Return a plan with other cutting data for one operation; what is left out stays as it was.

    Parameters: plan, a `Plan`; setup, its number, from 1; operation, its number, in tens; tool, spindle [rev/min],
    surface_speed [m/min], feed [mm/rev], depth [mm], passes, spring_passes, leave [mm], peck [mm], drill_depth [mm],
    method, coolant and features as in `Operation`. A spindle takes the place of a surface speed, and the other way.
    Raises LatheworksError naming every argument that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> change_operation(barrel_plan(), 1, 120, spring_passes=4).setups[0].operations[11].spring_passes
    4
    """
    with Door("change_operation") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        i = _setup(door, old, setup)
        k = _operation(door, old, i, operation)
    assert old is not None
    changes = {"tool": tool, "spindle": spindle, "surface_speed": surface_speed, "feed": feed, "depth": depth,
               "passes": passes, "spring_passes": spring_passes, "leave": leave, "peck": peck,
               "drill_depth": drill_depth, "method": method, "coolant": coolant, "features": features}  # fmt: skip
    one, rows = old.setups[i].operations[k], old.setups[i].operations
    if spindle is not None and surface_speed is None:
        one = replace(one, surface_speed=None)
    if surface_speed is not None and spindle is None:
        one = replace(one, spindle=None)
    return _put(old, i, replace(old.setups[i], operations=(*rows[:k], _new(one, changes), *rows[k + 1 :])))


def move_operation(plan: Any, setup: Any, operation: Any, to_setup: Any = None, before: Any = None) -> Plan:
    """Return a plan with one operation in another place; numbers after it change, since they count in tens.

    Parameters: plan, a `Plan`; setup, its number, from 1; operation, its number, in tens; to_setup, the number of the
    setup it goes to [its own when left out]; before, the number of the operation there that it comes before, as it was
    numbered before the move [the end of that setup when left out].
    Raises LatheworksError naming every argument that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> print(move_operation(barrel_plan(), 1, 120, before=60).setups[0].operations[5].title())
    thread socket thread
    """
    with Door("move_operation") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        i = _setup(door, old, setup)
        k = _operation(door, old, i, operation)
        j = i if to_setup is None else _setup(door, old, to_setup, "to_setup")
        place = None if before is None else _operation(door, old, j, before, "before")
    assert old is not None
    one, rows = old.setups[i].operations[k], list(old.setups[i].operations)
    if i == j:
        target = len(rows) if place is None else place
        rows.insert(target, one)
        del rows[k + (target <= k)]
        return _put(old, i, replace(old.setups[i], operations=tuple(rows)))
    del rows[k]
    there = list(old.setups[j].operations)
    there.insert(len(there) if place is None else place, one)
    first = _put(old, i, replace(old.setups[i], operations=tuple(rows)))
    return _put(first, j, replace(first.setups[j], operations=tuple(there)))


def drop_operation(plan: Any, setup: Any, operation: Any) -> Plan:
    """Return a plan without one operation.

    Parameters: plan, a `Plan`; setup, its number, from 1; operation, its number, in tens.
    Raises LatheworksError naming every argument that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import barrel_plan
    >>> drop_operation(barrel_plan(), 1, 20).operations
    25
    """
    with Door("drop_operation") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        i = _setup(door, old, setup)
        k = _operation(door, old, i, operation)
    assert old is not None
    rows = old.setups[i].operations
    return _put(old, i, replace(old.setups[i], operations=(*rows[:k], *rows[k + 1 :])))


def add_operation(plan: Any, setup: Any, added: Any, before: Any = None) -> Plan:
    """Return a plan with one operation more.

    Parameters: plan, a `Plan`; setup, its number, from 1; added, an `Operation`; before, the number of the operation
    that it comes before [the end of the setup when left out].
    Raises LatheworksError naming every argument that does not fit. Source: none needed, nothing is computed.

    >>> from latheworks.plan import Operation, barrel_plan
    >>> add_operation(barrel_plan(), 1, Operation("gage", ["nose"]), before=100).operations
    27
    """
    with Door("add_operation") as door:
        old = door.instance(plan, "plan", Plan, "a Plan", _PLAN)
        i = _setup(door, old, setup)
        new = door.instance(added, "added", Operation, "an Operation", 'Operation("gage", ["nose"])')
        k = None if before is None else _operation(door, old, i, before, "before")
    assert old is not None
    assert new is not None
    rows = list(old.setups[i].operations)
    rows.insert(len(rows) if k is None else k, new)
    return _put(old, i, replace(old.setups[i], operations=tuple(rows)))
