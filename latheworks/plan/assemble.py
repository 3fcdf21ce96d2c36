"""A whole plan out of the trail of a search: setups with their operations, deburred and gaged before the work is
taken out."""

from __future__ import annotations

from dataclasses import replace

from latheworks.plan.operation import MOST_FEATURES, Operation
from latheworks.plan.part import Part
from latheworks.plan.plan import Plan
from latheworks.plan.setup import Setup
from latheworks.plan.steps import Steps, by_hand
from latheworks.shop import Lathe, Rack


def assemble(steps: Steps, trail: tuple[tuple[int, int, int], ...], part: Part, machine: Lathe, tools: Rack) -> Plan:
    """The plan that a trail tells of."""
    job = steps.space.job
    shape, held = steps.number(job.part.stock), 0
    setups: list[Setup] = []
    operations: list[list[Operation]] = []
    made: list[list[str]] = []
    for step, one, other in trail:
        if step == 0:
            opening = steps.openings(shape, one, len(setups))[other]
            setups.append(opening.setup)
            held = opening.held
            operations.append([])
            made.append([])
            continue
        move = steps.move(shape, held, one, other)
        operations[-1].append(steps.space.tasks[one].ways[other].operation)
        made[-1] += [name for name in move.made if name not in made[-1]]
        shape = move.after
    for names, done in zip(made, operations, strict=True):
        burred = tuple(name for name in names if by_hand(job, name)[1])[:MOST_FEATURES]
        gaged = tuple(name for name in names if by_hand(job, name)[0])[:MOST_FEATURES]
        done += [Operation("deburr", burred)] if burred else []
        done += [Operation("gage", gaged)] if gaged else []
    whole = tuple(replace(setup, operations=tuple(done)) for setup, done in zip(setups, operations, strict=True))
    return Plan(part, whole, lathe=machine, rack=tools)
