"""Small parts whose every order can be tried, and plans for them; beside the library's own search."""

from itertools import permutations, product

from latheworks import Span
from latheworks.plan import Feature, Operation, Part, Plan, Setup, review
from latheworks.units import Q_


def mm(value):
    """Millimeters."""
    return Q_(float(value), "mm")


def stub(wide=0.2):
    """A short steel pin of which only the free end is worked on."""
    return Part("stub", "steel 1018", [
        Feature("body", "cylinder", mm(0), mm(40), mm(24)),
        Feature("nose", "cylinder", mm(40), mm(60), mm(20), limits=Span(mm(20 - wide), mm(20)), finish=Q_(3.2, "um")),
        Feature("notch", "groove", mm(44), mm(47), mm(17), limits=Span(mm(16.9), mm(17.1))),
        Feature("edge", "chamfer", mm(59), mm(60), mm(20), mm(18)),
        Feature("hole", "cylinder", mm(35), mm(60), mm(8), side="inside", limits=Span(mm(7.9), mm(8.3))),
        Feature("face B", "face", mm(60), mm(60)),
    ], mm(24), mm(61), stock_before=mm(0))  # fmt: skip


def stub_plan(**more):
    """A plan for its free end, with two setups that it could be done in."""
    work = (
        Operation("face", ["face B"], "right-hand tool"),
        Operation("turn", ["nose"], "right-hand tool", leave=mm(0.3)),
        Operation("turn", ["nose"], "finishing tool"),
        Operation("groove", ["notch"], "3 mm grooving tool"),
        Operation("chamfer", ["edge"], "chamfer tool"),
        Operation("center drill", ["hole"], "center drill 3.15"),
        Operation("drill", ["hole"], "8 mm drill", drill_depth=mm(25)),
    )
    setups = [Setup("short", "A", mm(26), stop=True, operations=work[:4]),
              Setup("long", "A", mm(45), holding="collet", stop=True, operations=work[4:])]  # fmt: skip
    return Plan(stub(), setups, **more)


# What has to come before what in the plan of the stub, by hand, as places in its list of work.
BEFORE = [(0, k) for k in range(1, 7)] + [(1, 2), (1, 3), (2, 4), (5, 6)]


def legal():
    """Every order of the stub's seven operations that the pairs allow."""
    return [order for order in permutations(range(7)) if all(order.index(a) < order.index(b) for a, b in BEFORE)]


def by_hand(names):
    """What is deburred and gaged of the features made in a setup, as every plan of the search has it."""
    burred = tuple(name for name in names if name in ("notch", "hole"))
    gaged = tuple(name for name in names if name in ("nose", "notch", "hole"))
    found = [Operation("deburr", burred)] if burred else []
    return [*found, Operation("gage", gaged)] if gaged else found


MAKES = {2: "nose", 3: "notch", 4: "edge", 6: "hole"}


def every_plan():
    """Every legal order in one of the two setups, or in both with the change at every place."""
    plan = stub_plan()
    work = [one for setup in plan.setups for one in setup.operations]
    for order, cut, turned in product(legal(), range(7), (False, True)):
        shares = [order[:cut], order[cut:]] if cut else [order]
        setups = plan.setups[::-1] if turned else plan.setups
        full = []
        for setup, share in zip(setups, shares, strict=False):
            own = [work[i] for i in share] + by_hand([MAKES[i] for i in share if i in MAKES])
            full.append(Setup(setup.name, "A", setup.stickout, holding=setup.holding, stop=True, operations=own))
        yield Plan(plan.part, full)


def measures(plan):
    """Stops, time, cost and worst share of a tolerance, by the review."""
    found = review(plan)
    stops = sum(one.level == "stop" for one in found.findings)
    return stops, found.time.m_as("min"), found.cost, found.worst_use
