"""Other drawings of one feature, each with a plan that makes it: a standard thread, a relief, a wider groove, a looser
tolerance, a shorter part."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

from latheworks.errors import LatheworksError
from latheworks.plan.feature import Feature
from latheworks.plan.operation import Operation
from latheworks.plan.part import GROUND, Part
from latheworks.plan.plan import Plan
from latheworks.plan.precedence import last, touch
from latheworks.plan.setup import Setup
from latheworks.tables import table
from latheworks.threads import thread
from latheworks.threads.forms import form
from latheworks.units import Q_, Span, U

LOOSER = 2.0  # times the width of the limits
SHORTER = 0.2  # of a stretch that nothing else lies in
RELIEF = 2.0  # pitches that a relief is wide: common practice
DEEPER = 0.1  # mm on the radius that a relief lies below the thread's root: common practice


def redesigns(plan: Plan, name: str) -> list[tuple[str, Plan | str]]:
    """What could be drawn otherwise, in words, with the plan for it or why there is none."""
    made: list[tuple[str, Callable[[Plan, Feature], Plan]]] = []
    feature = plan.part.feature(name)
    plain = feature.plain
    if plain.low is not None and plain.high is not None and plain.kind != "thread":
        made.append((f"{LOOSER:g} times the tolerance", looser))
        if _springs(plan, name):
            made.append((f"{LOOSER:g} times the tolerance, no spring pass", lambda p, f: springless(looser(p, f), f)))
    if plain.kind == "thread":
        made.append(("a standard thread, coarser", coarser))
        if not any(each.plain.kind == "groove" and touch(each.plain, plain) for each in plan.part.features):
            made.append(("a relief for the thread", relieved))
    if plain.kind == "groove":
        made.append(("a groove as wide as the blade", as_the_blade))
        made.append(("a wider groove", wider))
    if plain.kind in GROUND:
        made.append((f"shorter by {100 * SHORTER:.0f} %", shorter))
    found: list[tuple[str, Plan | str]] = []
    for what, how in made:
        try:
            found.append((what, how(plan, feature)))
        except LatheworksError as error:
            found.append((what, str(error).split("\n")[0][:160]))
    return found


class Unchanged(LatheworksError):
    """A drawing that this change would not change."""


def _springs(plan: Plan, name: str) -> bool:
    return any(name in one.features and one.spring_passes for setup in plan.setups for one in setup.operations)


def _mm(value: float) -> Any:
    return Q_(value, U.mm)


def changed(plan: Plan, *new: Feature, **more: Any) -> Plan:
    """The plan for a part with these features in the place of those of the same names."""
    by_name = {each.name: each for each in new}
    features = tuple(by_name.pop(each.name, each) for each in plan.part.features)
    return replace(plan, part=replace(plan.part, features=(*features, *by_name.values()), **more))


def with_operations(plan: Plan, change: Callable[[Operation], Iterator[Operation]]) -> Plan:
    """The plan with each operation changed into none, one or more."""
    setups: list[Setup] = [
        replace(setup, operations=tuple(new for one in setup.operations for new in change(one)))
        for setup in plan.setups
    ]
    return replace(plan, setups=tuple(setups))


def looser(plan: Plan, feature: Feature) -> Plan:
    """Limits farther apart, about the same middle."""
    plain = feature.plain
    limits, lengths = _wider(plain.low, plain.high), _wider(plain.length_low, plain.length_high)
    return changed(plan, replace(feature, limits=limits or feature.limits,
                                 length_limits=lengths or feature.length_limits))  # fmt: skip


def _wider(low: float | None, high: float | None) -> Span | None:
    """Limits so many times as wide about their middle; None where one is open."""
    if low is None or high is None:
        return None
    more = (LOOSER - 1.0) * (high - low) / 2
    return Span(_mm(low - more), _mm(high + more))


def springless(plan: Plan, feature: Feature) -> Plan:
    """No spring pass over the feature."""

    def change(one: Operation) -> Iterator[Operation]:
        yield replace(one, spring_passes=0) if feature.name in one.features else one

    return with_operations(plan, change)


def coarser(plan: Plan, feature: Feature) -> Plan:
    """The coarse thread of the same size, and the surface that it is cut into made to suit."""
    assert feature.thread is not None
    cut, inside = feature.thread, feature.plain.inside
    grade = cut.designation.rsplit("-", 1)[-1]
    if cut.system == "unified" or "UN" in cut.designation:
        new = _unified(cut.designation.split("-")[0], grade)
    else:
        new = thread(f"M{cut.major.m_as(U.mm):g}-{grade}")
    if new is None or new.pitch.m_as(U.mm) <= cut.pitch.m_as(U.mm) + 1e-6:
        raise Unchanged("It has the coarse thread of its size already.")
    crest = float((new.minor if inside else new.major).m_as(U.mm))
    plain = feature.plain
    under = [each for each in plan.part.features if each.kind == "cylinder" and each.plain.inside == inside
             and each.plain.start < plain.end and each.plain.end > plain.start]  # fmt: skip
    ground = [_resized(each, crest) for each in under]
    return changed(plan, replace(feature, designation=new.designation), *ground)


def _unified(size: str, grade: str) -> Any:
    row = next((r for r in table("unified_sizes") if r["size"] == size and r["unc"]), None)
    return None if row is None else thread(f"{size}-{row['unc']} UNC-{grade}")


def _resized(feature: Feature, size: float) -> Feature:
    """A cylinder of another diameter, its limits as wide about it."""
    plain, limits = feature.plain, feature.limits
    if plain.low is not None and plain.high is not None:
        half = (plain.high - plain.low) / 2
        limits = Span(_mm(size - half), _mm(size + half))
    return replace(feature, diameter=_mm(size), limits=limits)


def relieved(plan: Plan, feature: Feature) -> Plan:
    """A relief groove at the blind end of a thread, cut before it with the plan's own grooving tool."""
    plain = feature.plain
    wide = RELIEF * plain.pitch
    blind_a = _stands(plan.part, feature, plain.start - 0.1)
    start = plain.start if blind_a else plain.end - wide
    cut = feature.thread
    assert cut is not None
    deep = form(cut).depth + DEEPER
    floor = plain.diameter + (2 if plain.inside else -2) * deep
    name = f"{feature.name[:32]} relief"
    groove = Feature(name, "groove", _mm(start), _mm(start + wide), _mm(floor), side=feature.side)
    short = replace(feature, start=_mm(start + wide) if blind_a else feature.start,
                    end=feature.end if blind_a else _mm(start))  # fmt: skip
    kind = "inside_grooving_tool" if plain.inside else "grooving_tool"
    blades = [tool for tool in plan.tools.tools if tool.kind == kind and tool.blade_width.m_as(U.mm) <= wide]
    if not blades:
        raise Unchanged("The rack has no blade narrow enough.")
    blade = max(blades, key=lambda tool: tool.blade_width.m_as(U.mm)).name

    def change(one: Operation) -> Iterator[Operation]:
        if one.kind == "thread" and feature.name in one.features:
            yield Operation("groove", (name,), blade, coolant=one.coolant)
        yield one

    return with_operations(changed(plan, short, groove), change)


def _stands(part: Part, feature: Feature, place: float) -> bool:
    """Whether the part has material in a thread's way at a place."""
    if not part.shape.start < place < part.shape.end:
        return False
    cut = feature.thread
    size = 0.0 if cut is None else float((cut.major if feature.plain.inside else cut.minor).m_as(U.mm))
    if feature.plain.inside:
        return part.shape.smallest_bore(place - 0.05, place + 0.05) < size - 1e-6
    return part.shape.largest(place - 0.05, place + 0.05) > size + 1e-6


def _blade(plan: Plan, feature: Feature) -> float:
    for setup in plan.setups:
        for one in setup.operations:
            if one.kind == "groove" and feature.name in one.features and one.tool:
                found = next((tool for tool in plan.tools.tools if tool.name == one.tool), None)
                if found is not None and found.blade_width is not None:
                    return float(found.blade_width.m_as(U.mm))
    raise Unchanged("No operation of the plan grooves it.")


def as_the_blade(plan: Plan, feature: Feature) -> Plan:
    """A groove that one plunge makes."""
    blade = _blade(plan, feature)
    if abs(feature.plain.end - feature.plain.start - blade) < 1e-6:
        raise Unchanged("It is as wide as its blade already.")
    return _groove(plan, feature, blade)


def wider(plan: Plan, feature: Feature) -> Plan:
    """A groove wider by half its blade: room to measure, and for a stiffer blade."""
    return _groove(plan, feature, feature.plain.end - feature.plain.start + _blade(plan, feature) / 2)


def _groove(plan: Plan, feature: Feature, wide: float) -> Plan:
    """A groove of another width, a thread beside it as it was or shorter."""
    plain = feature.plain
    new = replace(feature, end=_mm(plain.start + wide), length_limits=None,
                  floor_radius=_mm(min(plain.floor_radius, wide / 2)))  # fmt: skip
    beside = [each for each in plan.part.features if each.kind == "thread" and touch(each.plain, plain)]
    moved = []
    for each in beside:
        if abs(each.plain.start - plain.end) < 1e-6:
            moved.append(replace(each, start=new.end))
        elif each.plain.start < last(new.plain) < each.plain.end:
            raise Unchanged("The thread beside it leaves no room.")
    return changed(plan, new, *moved)


def shorter(plan: Plan, feature: Feature) -> Plan:
    """A part that is shorter by a share of a stretch of this feature in which nothing begins or ends."""
    places = sorted({p for each in plan.part.features for p in (each.plain.start, last(each.plain))})
    mine = [p for p in places if feature.plain.start <= p <= feature.plain.end]
    gaps = [(high - low, low, high) for low, high in pairwise(mine)]
    free, _, high = max(gaps, default=(0.0, 0.0, 0.0))
    by = min(SHORTER * (feature.plain.end - feature.plain.start), 0.9 * free)
    if by < 0.5:
        raise Unchanged("Nothing of it is free of other features.")
    cut = high - by

    def at(value: float) -> Any:
        return _mm(value if value <= cut + 1e-9 else value - by)

    features = []
    for each in plan.part.features:
        limits = each.length_limits
        if limits is not None and each.kind != "groove" and each.plain.end > cut:
            limits = Span(*(None if end is None else end - _mm(by) for end in (limits.min, limits.max)))
        end = at(each.plain.end) if each.plain.repeats == 1 else at(each.plain.start) + _mm(
            each.plain.end - each.plain.start)  # fmt: skip
        features.append(replace(each, start=at(each.plain.start), end=end, length_limits=limits))
    part = replace(plan.part, features=tuple(features), stock_length=plan.part.stock_length - _mm(by),
                   stock_before=_mm(-plan.part.stock.start))  # fmt: skip
    return replace(plan, part=part, setups=tuple(_shortened(plan, setup, cut, by) for setup in plan.setups))


def _shortened(plan: Plan, setup: Setup, cut: float, by: float) -> Setup:
    """A setup for a part shortened at a place: out as far as before beyond that place, and no deeper drilled."""
    out = float(setup.stickout.m_as(U.mm))
    length = plan.part.shape.length
    free = length - cut if setup.grips == "A" else cut
    held = out > free and setup.holding != "between centers"
    many = len({s.grips for s in plan.setups for one in s.operations if one.kind == "drill"}) > 1

    def drilled(one: Operation) -> Operation:
        if one.drill_depth is None:
            return one
        deep = float(one.drill_depth.m_as(U.mm))
        less = by / 2 if many else by if deep > free else 0.0
        return replace(one, drill_depth=_mm(max(deep - less, 1.0)))

    return replace(setup, stickout=_mm(out - by) if held else setup.stickout,
                   operations=tuple(map(drilled, setup.operations)))  # fmt: skip
