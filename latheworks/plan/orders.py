"""Orders of work: the search for plans that no other beats in time, cost and share of tolerance."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from concurrent.futures import Executor
from functools import partial
from typing import Any, NamedTuple

from latheworks.door import Door, given
from latheworks.errors import Impossible, WrongUnit
from latheworks.plan.assemble import assemble
from latheworks.plan.charge import RATES
from latheworks.plan.job import Job, job_of
from latheworks.plan.labels import merge
from latheworks.plan.orders_result import Orders, ranked
from latheworks.plan.part import Part
from latheworks.plan.plan import MOST_SETUPS, Plan
from latheworks.plan.review import review
from latheworks.plan.search import Found, Search
from latheworks.plan.shop_door import shop_at
from latheworks.plan.space import Space, space_of_part, space_of_plan
from latheworks.plan.steps import Steps
from latheworks.shop import Lathe, Rack
from latheworks.units import Q_, U

WIDTHS: tuple[int | None, ...] = (1, 8, 64, None)  # labels kept of each size of plan; None keeps all
WITH_STOPS: tuple[int | None, ...] = (1, 8, 64)
MOST_PLANS = 8
NARROW = 0.2  # of the bar, for all narrow searches together
Pairs = tuple[tuple[str, str], ...]


def orders(part: Any, lathe: Any = None, rack: Any = None, *, executor: Any = None, progress: Any = None,
           limit: Any = None, most_setups: Any = None, before: Any = (), avoid: Any = (),
           most_plans: Any = MOST_PLANS) -> Orders:  # fmt: skip
    """Return plans for a part that no other beats in time, cost and worst share of a tolerance at once.

    Labels are set from operation to operation under the precedence of `data/precedence.csv`; a label is dropped where
    another comes to the same workpiece, held and as warm as it to 0.25 K, for no more of anything, or where the least
    that it can come to is beaten by a whole plan; every plan returned has gone through `review`. A plan with a stop is
    beaten by any without.

    Parameters: part, a `Part`, for which operations and setups are proposed from the rack; or a `Plan`, whose own
    operations and setups are put into order; lathe and rack, the teaching ones, or a plan's own, when left out;
    executor, anything with the `submit` of `concurrent.futures`, which gets a share of the search for each way to begin
    [none]; progress, True for a bar in text, or a function that is given the share done [0 to 1; none]; limit of time,
    after which what was found by then is returned [s, 0.01 to 86400; 60 s]; most_setups [1 to 12; one more than the
    fewest that can do it; of a plan its own number]; before, pairs of titles of operations as `plans` show them, of
    which the first has to come first [none]; avoid, codes of cautions that count as stops here, such as "jaws on a
    thread" [none]; most_plans to return [1 to 100; 8].
    Raises LatheworksError for wrong arguments, and for a ring in what has to come first, by its names.
    Source: label setting with dominance and bounds, operations research, common practice; what is judged is as in
    `review`. A planning aid for training: shop rules, the machine's manual and qualified staff decide.

    >>> from latheworks.plan import barrel_plan
    >>> found = orders(barrel_plan(), limit=Q_(20, "s"), most_plans=2)
    >>> found.quickest.time <= review(barrel_plan()).time
    True
    """
    with Door("orders") as door:
        what = door.instance(part, "part", (Part, Plan), "a Part or a Plan", "corer_barrel()")
        seconds = 60.0 if limit is None else door.number(limit, "limit", "s", least=0.01, most=86_400,
                                                         example='limit=Q_(60, "s")')  # fmt: skip
        most = None if most_setups is None else door.whole(most_setups, "most_setups", least=1, most=MOST_SETUPS)
        keep = door.whole(most_plans, "most_plans", least=1, most=100)
        pairs = _pairs(door, before)
        machine, tools = shop_at(door, what, lathe, rack)
        if executor is not None and not callable(getattr(executor, "submit", None)):
            door.complain("executor", given(executor), "something with the submit of concurrent.futures",
                          "executor=ProcessPoolExecutor(2)", WrongUnit)  # fmt: skip
        told = progress is None or isinstance(progress, bool)
        if not told and (not callable(progress) or isinstance(progress, type)):
            door.complain("progress", given(progress), "True, or a function of one number", "progress=True", WrongUnit)
        codes = _codes(door, avoid)
    began = time.monotonic()
    tell = _bar if progress is True else progress if callable(progress) else None
    asked = Asked(what, machine, tools, most, pairs, codes)
    space, text = asked.space()
    found, exact, labels, evaluations = _search(asked, space, executor, tell, seconds)
    if tell is not None:
        tell(1.0)
    steps = asked.steps(space)
    plans = tuple(ranked(plan, review(plan)) for plan in
                  (assemble(steps, one[2], asked.part, machine, tools) for one in _spread(found, keep)))  # fmt: skip
    return Orders(asked.part, plans, len(found), exact, Q_(_at_least(space, steps), U.min), labels, evaluations,
                  time.monotonic() - began, text, _notes(plans, exact, space))  # fmt: skip


class Asked(NamedTuple):
    """What is searched for, in a form that another process can be given."""

    what: Part | Plan
    machine: Lathe
    tools: Rack
    most: int | None
    before: Pairs
    avoid: frozenset[str]

    @property
    def part(self) -> Part:
        """The part, whether it comes alone or with a plan."""
        return self.what.part if isinstance(self.what, Plan) else self.what

    def space(self) -> tuple[Space, str]:
        """The space to search, and what it is in words."""
        job = job_of(self.part, self.machine, self.tools)
        if isinstance(self.what, Plan):
            space, own = space_of_plan(job, self.what, self.before, self.most), "the plan's own"
        else:
            space, own = space_of_part(job, self.before, self.most), "proposed"
        if not space.tasks or not space.places:
            raise Impossible(f"orders: nothing is known to do to {self.part.name} with the tools of {self.tools.name}. "
                             "Try a rack with turning tools and drills, or a plan with operations.")  # fmt: skip
        return space, (f"{len(space.tasks)} operations, {own}; {len(space.places)} ways to hold; up to "
                       f"{space.most_setups} setups; under the table of precedence")  # fmt: skip

    def steps(self, space: Space) -> Steps:
        """A store of moves for it."""
        return Steps(space, RATES.hourly, self.avoid)


def _codes(door: Door, avoid: Any) -> frozenset[str]:
    if not isinstance(avoid, (list, tuple)) or not all(isinstance(each, str) for each in avoid):
        door.complain("avoid", given(avoid), "codes of findings", 'avoid=["jaws on a thread"]', WrongUnit)
        return frozenset()
    return frozenset(avoid)


def _pairs(door: Door, before: Any) -> Pairs:
    good = isinstance(before, (list, tuple)) and all(
        isinstance(pair, (list, tuple)) and len(pair) == 2 and all(isinstance(each, str) for each in pair)
        for pair in before)  # fmt: skip
    if not good:
        door.complain("before", given(before), "pairs of titles of operations",
                      'before=[("turn nose", "drill end B")]', WrongUnit)  # fmt: skip
        return ()
    return tuple((str(one), str(other)) for one, other in before)


def _search(asked: Asked, space: Space, executor: Executor | None, tell: Callable[[float], None] | None,
            seconds: float) -> tuple[Found, bool, int, int]:  # fmt: skip
    """The front of all that begins in any place; in shares, one for each place, so that it is the same however they
    are worked off."""
    firsts, deadline = range(len(space.places)), time.monotonic() + seconds
    front: Found = []
    exact, labels, evaluations = True, 0, 0
    for stops, widths in ((False, WIDTHS), (True, WITH_STOPS)):
        if executor is None:
            steps = asked.steps(space)
            shares = []
            for first in firsts:
                shares.append(_explore(space, steps, first, stops, widths, deadline, _share(tell, first, len(firsts)),
                                       front))  # fmt: skip
                for item in shares[-1][0]:
                    merge(front, item)
            evaluations += steps.evaluations
        else:
            jobs = [executor.submit(explore, asked, first, stops, widths, max(deadline - time.monotonic(), 0.01))
                    for first in firsts]  # fmt: skip
            shares = []
            for i, job in enumerate(jobs):
                shares.append(job.result())
                evaluations += shares[-1][3]
                if tell is not None:
                    tell((i + 1) / len(jobs))
        for found, whole, count, _ in shares:
            for item in found:
                merge(front, item)
            exact, labels = exact and whole, labels + count
        if front:
            break
    # What is looked at with stops in it is the most promising only.
    return sorted(front), exact and bool(front) and not stops, labels, evaluations


def _share(tell: Callable[[float], None] | None, i: int, count: int) -> Callable[[float], None] | None:
    return None if tell is None else lambda share: tell((i + share) / count)


def explore(asked: Asked, first: int, stops: bool, widths: tuple[int | None, ...],
            seconds: float) -> tuple[Found, bool, int, int]:  # fmt: skip
    """The share of a search that begins in one place, with all that it needs made anew: for another process."""
    space, _ = asked.space()
    steps = asked.steps(space)
    found = _explore(space, steps, first, stops, widths, time.monotonic() + seconds, None, [])
    return (*found[:3], steps.evaluations)


def _explore(space: Space, steps: Steps, first: int, stops: bool, widths: tuple[int | None, ...], deadline: float,
             tell: Callable[[float], None] | None, known: Found) -> tuple[Found, bool, int, int]:  # fmt: skip
    """Narrow searches first, whose plans bound the wider ones; the last one leaves nothing out."""
    job: Job = space.job
    stock = job.density * job.part.stock.volume() * RATES.stock
    search = Search(space, steps, stock, first, stops, deadline, known=[one[0] for one in known])
    whole, narrow = False, len(widths) - 1
    for i, width in enumerate(widths):
        if tell is not None:
            start, end = (NARROW * k / narrow if k <= narrow else 1.0 for k in (i, i + 1))
            search.tell = partial(_within, tell, start, end)
        whole = search.run(width)
        if whole or search.cut_off:
            break
    return search.front, whole, search.labels, 0


def _within(tell: Callable[[float], None], start: float, end: float, share: float) -> None:
    tell(start + (end - start) * share)


def _spread(front: Found, keep: int) -> Found:
    """So many of a front, its ends and others evenly between."""
    if len(front) <= keep:
        return front
    return [front[round(i * (len(front) - 1) / max(keep - 1, 1))] for i in range(keep)]


def _at_least(space: Space, steps: Steps) -> float:
    """The least minutes that any plan of the space takes."""
    best = min((one.minutes + Search(space, steps, 0.0).least_after(0, place, None)
                for place in range(len(space.places))
                for one in steps.openings(steps.number(space.job.part.stock), place, 0)), default=0.0)  # fmt: skip
    return float(best)


def _notes(plans: Any, exact: bool, space: Space) -> tuple[str, ...]:
    notes = []
    if not plans:
        notes.append("no whole plan was found: not all that there is to do can be done in the ways to hold")
    elif all(one.stops for one in plans):
        notes.append("no plan is free of stops: see the review of each for what would help")
    if not exact:
        notes.append("the search was cut off, or kept only the most promising: a better plan may be left")
    makes = {name for task in space.tasks for name in task.features}
    left = [name for name in space.job.features if name not in makes]
    if left:
        notes.append(f"nothing was planned, or no tool found, for: {', '.join(left)}")
    return tuple(notes)


def _bar(share: float) -> None:
    """A bar in text, on the stream for messages."""
    done = round(30 * min(max(share, 0.0), 1.0))
    end = "\n" if share >= 1.0 else ""
    sys.stderr.write(f"\r[{'#' * done}{'.' * (30 - done)}] {100 * share:3.0f} %{end}")
    sys.stderr.flush()
