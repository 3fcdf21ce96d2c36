"""The order bench: the thread cut first or last, deep in the jaws or far out, and what that does to sizes and time."""

from collections.abc import Mapping
from typing import Any, ClassVar

from latheworks.door import Door
from latheworks.errors import LatheworksError, OutOfRange
from latheworks.pictures.order_trade import TITLES, Trade, TradePicture
from latheworks.pictures.plan_play import minutes, percent
from latheworks.pictures.style import Look
from latheworks.plan import Plan, Review, barrel_plan, change_operation, change_setup, find_operation, late_thread_plan
from latheworks.results import money
from latheworks.units import U
from latheworks.widgets.bench import Bench, Reading
from latheworks.widgets.controls import Choice, Spec
from latheworks.widgets.plan_lines import plan_line
from latheworks.widgets.sizes import Size, given, mm

ORDERS = tuple(TITLES.values())
# The sizes that hang on the setup in which the thread is cut.
CLOSE = ("socket", "thread relief", "socket thread")
_LEAST, _MOST = 45.0, 230.0
_SAID = 3


class OrderBench(Bench):
    """The barrel in two orders, with the stickout, the spring passes and the zero of one's choice."""

    kind: ClassVar[str] = "order"
    title: ClassVar[str] = "Thread first or last"
    picture_class = TradePicture

    def __init__(self, opening: Mapping[str, Any]) -> None:
        self._opening = opening
        self._plans = dict(zip(ORDERS, (barrel_plan(), late_thread_plan()), strict=True))
        self._cuts = {name: find_operation(plan, "thread", "socket thread") for name, plan in self._plans.items()}
        given = {key: opening[key] for key in ("out", "springs", "zero")}
        self._marks = tuple(
            (f"{name.split()[-1]}", line.minutes, Trade(line, 1, "first", _close(line), (), 0, 0.0).use)
            for name, line in ((name, plan_line(self.plan(name, **given))[1]) for name in ORDERS)
        )
        super().__init__()

    def specs(self) -> tuple[Spec, ...]:
        start = self._opening
        return (
            Choice("order", "Order", ORDERS, start["order"]),
            Size("out", "Stickout, thread", "", start["out"], mm(_LEAST), mm(_MOST), (5.0, 0.25), mm(20), mm(250)),
            Size("springs", "Spring passes, thread", "", start["springs"], 0, 6, (1, 1), 0, 20, kind="count"),
            Size("zero", "Zero found to", "\u00b1", start["zero"], mm(0), mm(0.3), (0.01, 0.0005), mm(0), mm(5)),
        )  # fmt: skip

    def demonstrations(self) -> dict[str, dict[str, Any]]:
        return {
            "First": {"order": ORDERS[0]},
            "Last": {"order": ORDERS[1]},
            "First, far out": {"order": ORDERS[0], "out": mm(200)},
            "Last, far out": {"order": ORDERS[1], "out": mm(200)},
            "No spring pass": {"springs": 0, "out": mm(160)},
            "Zero found badly": {"zero": mm(0.25)},
        }

    def plan(self, order: str, out: Any, springs: int, zero: Any) -> Plan:
        """The plan of a setting."""
        setup, operation = self._cuts[order]
        plan = change_operation(self._plans[order], setup, operation, spring_passes=springs)
        for number in range(1, len(plan.setups) + 1):
            plan = change_setup(plan, number, zero_error=zero, stickout=out if number == setup else None)
        return plan

    def compute(self, values: Mapping[str, Any]) -> tuple[Review, Trade]:
        order = values["order"]
        found, line = plan_line(self.plan(order, values["out"], values["springs"], values["zero"]))
        setup, operation = self._cuts[order]
        at = next(i for i, step in enumerate(line.steps, 1) if (step.setup, step.operation) == (setup, operation))
        close = _close(line)
        if not close:
            raise OutOfRange(f"Stickout: at {self.controls['out'].as_typed()} the jaws stand where the socket is cut. "
                             f"Type {self.controls['out'].written(mm(70))}.")  # fmt: skip
        return found, Trade(line, at, "first" if order == ORDERS[0] else "last", close, self._marks,
                            values["springs"], float(values["zero"].m_as(U.mm)))  # fmt: skip

    def read(self, data: Trade, look: Look) -> Reading:
        line = data.line
        whole = line.worst(line.count)
        facts = [
            ("uses most here", data.worst.title),
            ("of its tolerance", percent(data.use)),
            ("spent mostly on", data.worst.spent),
            ("most of all sizes", "none" if whole is None else f"{percent(whole.use)}, {whole.title}"),
            ("time of one part", minutes(line.minutes)),
            ("cost of one part", money(line.cost)),
        ]
        here = line.steps[data.at - 1].setup
        stops = [fault for step in line.steps for fault in step.faults if fault.level == "stop"]
        cautions = [fault for step in line.steps if step.setup == here for fault in step.faults
                    if fault.level == "caution"]  # fmt: skip
        verdict = "the sizes of its setup would hold"
        if data.use > 1.0:
            verdict = f"{data.worst.title} would not hold"
        elif stops:
            verdict = f"a stop, {stops[0].in_system(look.system).what}"
        notes = tuple(fault.in_system(look.system).sentence for fault in (*stops, *cautions)[:_SAID])
        return Reading(data.use <= 1.0 and not stops, f"{TITLES[data.order].capitalize()}: {verdict}.", tuple(facts),
                       notes)  # fmt: skip


def _close(line: Any) -> tuple[Any, ...]:
    return tuple(each for each in line.sizes if each.name in CLOSE and each.use is not None)


def order_bench(order: str = ORDERS[0], out: Any = None, springs: int = 2, zero: Any = None) -> OrderBench:
    """Return a bench for the order of the barrel's operations: the thread first, or last in a setup of its own.

    All sizes as `latheworks.plan.review` has them, worked out anew for each setting.

    Parameters, all optional: order, "thread first" or "thread last"; out, how far the work sticks out of the jaws in
    the setup of the thread [mm, 20 to 250; 70]; springs, spring passes of the thread [0 to 20; 2]; zero, how well the
    zero along the axis is found again in each setup, half-width [mm, 0 to 5; 0.05]. Raises LatheworksError for what
    cannot be. Source: `latheworks.plan.review`.

    >>> order_bench().value("springs")
    2
    """
    with Door("order_bench") as door:
        door.choice(order, "order", ORDERS)
        far = given(out, 70.0)
        door.number(far, "out", "mm", least=20.0, most=250.0)
        count = door.whole(springs, "springs", least=0, most=20)
        found = given(zero, 0.05)
        door.number(found, "zero", "mm", least=0.0, most=5.0)
    bench = OrderBench({"order": order, "out": far, "springs": count, "zero": found})
    if bench.error:
        bench.close()
        raise LatheworksError(bench.error)
    return bench
