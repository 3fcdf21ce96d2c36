"""The barrel's plans as the exercises of lesson 07 change them, each reviewed once."""

from dataclasses import replace
from functools import lru_cache
from typing import Any

from latheworks.plan import (
    Plan,
    Review,
    barrel_plan,
    change_operation,
    change_plan,
    change_setup,
    find_operation,
    late_thread_plan,
    review,
)
from latheworks.units import Q_, U

THREAD = ("thread", "socket thread")
FIRST, LAST = "first", "last"


def mm(value: float) -> Any:
    """Millimeters."""
    return Q_(float(value), U.mm)


@lru_cache(maxsize=2)
def start(order: str) -> Plan:
    """The barrel with its thread first or last; the same object each time, so that reviews share their work."""
    return barrel_plan() if order == FIRST else late_thread_plan()


def held(order: str, out: float, springs: int) -> Plan:
    """The same with another stickout [mm] in the setup of the thread, and other spring passes."""
    setup, operation = find_operation(start(order), *THREAD)
    plan = change_setup(start(order), setup, stickout=mm(out))
    return change_operation(plan, setup, operation, spring_passes=springs)


@lru_cache(maxsize=256)
def reviewed(order: str, out: float, springs: int) -> Review:
    """Its review."""
    return review(held(order, out, springs))


def pitch_use(order: str, out: float, springs: int) -> float:
    """The share of the tolerance that the thread's pitch diameter uses."""
    return reviewed(order, out, springs).row(THREAD[1]).use or 0.0


@lru_cache(maxsize=32)
def farthest(order: str, springs: int, use: float = 1.0) -> float:
    """How far the work may stick out until the pitch diameter uses this share [mm], by halving."""
    low, high = 60.0, 240.0
    while high - low > 0.25:
        middle = (low + high) / 2
        low, high = (middle, high) if pitch_use(order, middle, springs) < use else (low, middle)
    return low


def after_the_thread(kind: str, feature: str) -> Plan:
    """The barrel with what makes a feature moved to right behind the thread, roughing and finishing alike."""
    plan = start(FIRST)
    place, thread = find_operation(plan, *THREAD)
    rows = plan.setups[place - 1].operations
    late = [one for one in rows if one.kind == kind and feature in one.features]
    early = [one for one in rows[: thread // 10] if one not in late]
    rest = [one for one in rows[thread // 10 :] if one not in late]
    setup = replace(plan.setups[place - 1], operations=(*early, *late, *rest))
    return change_plan(plan, setups=(*plan.setups[: place - 1], setup, *plan.setups[place:]))


def grave(found: Review) -> tuple[str, ...]:
    """The stops and cautions of a review, as codes."""
    return tuple(each.code for each in (*found.of("stop"), *found.of("caution")))


def minutes(found: Review) -> float:
    """The time of one part [min]."""
    return float(found.time.m_as(U.min))
