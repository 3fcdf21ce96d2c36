"""The exercises of lesson 09: where the time goes, what an edge costs, which speed pays, what a feature costs."""

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

from latheworks.course.exercises.the_plans import FIRST, start
from latheworks.course.tasks import (
    Ask,
    Choice,
    Function,
    Number,
    Outcome,
    Prediction,
    Reason,
    Setting,
    Slip,
    good,
    miss,
)
from latheworks.course.variant import Variant
from latheworks.cutting import economic_speed
from latheworks.cutting.life import Taylor, taylor
from latheworks.plan import Price, change_part, change_plan, costs, piece_cost, price_of
from latheworks.units import Q_, U

EDGES = ("high-speed steel on steel", "high-speed steel on nonferrous metal", "carbide on steel",
         "carbide on nonferrous metal")  # fmt: skip
_SPENT = {"deburr": "deburring and gaging", "gage": "deburring and gaging", "drill": "drilling",
          "center drill": "drilling"}  # fmt: skip


@lru_cache(maxsize=16)
def shares(batch: int) -> dict[str, float]:
    """Minutes of one barrel by what they are spent on, in a batch [min]."""
    plan = change_plan(start(FIRST), part=change_part(start(FIRST).part, quantity=batch))
    found = {"setting up and putting in": 0.0, "changing tools": 0.0, "drilling": 0.0, "all other cutting": 0.0,
             "deburring and gaging": 0.0}  # fmt: skip
    for row in costs(plan).rows:
        if row.setup and row.operation:
            kind = plan.setups[row.setup - 1].operations[row.operation // 10 - 1].kind
            name = _SPENT.get(kind, "all other cutting")
        else:
            name = "changing tools" if row.what.startswith("to the ") else "setting up and putting in"
        found[name] += float(row.time.m_as(U.min))
    return found


def guess_the_time(numbers: Variant) -> Prediction:
    """The guess before the list."""
    found = shares(1)
    return Prediction(
        question="One barrel, made alone after the plan of lesson 07. On what does most of its time go?",
        options=tuple(found),
        hint="",
        worked="; ".join(f"{name} {found[name]:.0f} min" for name in sorted(found, key=lambda one: -found[one])) + ".",
    )


def _wear(numbers: Variant) -> tuple[str, Taylor, Any, float, float]:
    """An edge, its constants, time to change it [min], its cost, the rate."""
    edge = numbers.pick("edge", EDGES)
    change, price = numbers.pick("change", (1.5, 2.0, 3.0)), numbers.pick("cost", (2.0, 3.0, 4.0))
    return edge, taylor(edge), Q_(change, "min"), price, 60.0


def least_cost(numbers: Variant) -> Number:
    """The speed of least cost."""
    edge, wear, change, price, rate = _wear(numbers)
    found = economic_speed(edge, change, price, rate)
    right = found.least_cost
    constant, minutes = wear.one_minute_speed, change.m_as(U.min)
    steady = constant.m_as(U.m_per_min)
    return Number(
        question=f"An edge, {edge}: n = {wear.n:g}, C = {steady:g} for m/min and minutes. Changing it takes "
        f"{minutes:g} min, a sharp edge costs {price:g} money, lathe and person {rate:g} money an hour. Which "
        "surface speed costs least? Give it to 1 percent, with the unit.",
        right=right,
        within=0.008 * right,
        kind="speed",
        slips=(
            Slip("highest rate", found.highest_rate, "This is the speed that makes most pieces; it wears out edges."),
            Slip("one minute", constant, "At this speed an edge lasts one minute."),
        ),
        hint="First the life, T = (1/n - 1)(tc + Ce/Cm) with Cm a minute; then the speed, v = C / T^n.",
        worked=lambda: found.working,
    )  # fmt: skip


def cost_of_a_piece(numbers: Variant) -> Function:
    """The cost of a piece, written by the student."""
    rate = numbers.pick("rate", (40.0, 60.0, 80.0))
    rows = ((2.0, 20.0, 2.0, 3.0), (5.0, 15.0, 1.0, 2.0), (1.0, 40.0, 3.0, 8.0), (8.0, 30.0, 2.5, 1.0))
    inputs = tuple({"cutting": Q_(a, "min"), "life": Q_(b, "min"), "change": Q_(c, "min"), "edge": e, "rate": rate}
                   for a, b, c, e in rows)  # fmt: skip

    def reference(cutting: Any, life: Any, change: Any, edge: float, rate: float) -> Any:
        return piece_cost(cutting, life, change, edge, rate, whole_edges=False).cost

    def no_edge(cutting: Any, life: Any, change: Any, edge: float, rate: float) -> Any:
        return reference(cutting, life, change, 0.0, rate)

    def no_change(cutting: Any, life: Any, change: Any, edge: float, rate: float) -> Any:
        return reference(cutting, life, 0 * change, edge, rate)

    def whole_change(cutting: Any, life: Any, change: Any, edge: float, rate: float) -> Any:
        return rate / 60 * (cutting + change).m_as(U.min) + edge

    return Function(
        question="Write what the cutting of one piece costs, from its time in the cut, the life of an edge, the time "
        "to change it, the cost of an edge, and the rate of an hour. The edge and its change are shared by the pieces "
        "that an edge makes. The times come with their units, edge and rate as plain numbers. It is compared with the "
        "library.",
        reference=reference,
        inputs=inputs,
        kind="count",
        slips=(
            Slip("edge left out", no_edge, "Nothing pays for the edge here."),
            Slip("change left out", no_change, "Somebody changes the edge, and is paid for it."),
            Slip("a new edge for each", whole_change, "This takes a new edge for every piece; one edge makes several."),
        ),
        hint="Of a minute: rate / 60. The share of an edge: cutting / life. Take magnitudes with .m_as('min').",
        worked="rate / 60 * (cutting + change * cutting / life).m_as('min') + edge * (cutting / life).m_as('')",
    )  # fmt: skip


@cache
def _price(name: str) -> Price:
    return price_of(start(FIRST), name)


def cheaper_drawing(numbers: Variant) -> Choice:
    """Which change of the drawing saves most."""
    # Of these the lesson prints no price, and the answers are three different ones.
    name = numbers.pick("feature", ("nose", "body", "thread relief"))
    rows = {row.what: (row, row.after) for row in _price(name).redesigns if row.after is not None}
    clear = [what for what, (_, after) in rows.items() if after.stops + after.cautions == 0]
    right = max(clear, key=lambda what: rows[what][0].saved or 0.0)
    return Choice(
        question=f"Which other drawing of the {name} saves most, with the plan as it is, and neither a stop nor a "
        "caution in its review?",
        options=tuple(rows),
        right=right,
        slips=tuple(Slip(f"another one: {i}", what, "It changes something, but look at what it saves." if what in clear
                         else "Saved on paper; but read to the end of its line: is the review clear?")
                    for i, what in enumerate(rows, 1) if what != right),
        hint=f'print(price_of(plan, "{name}")): each other drawing, with what it saves and what its review finds.',
        worked=lambda: "; ".join(f"{what} {row.saving}, with {after.findings}" for what, (row, after) in rows.items())
        + ". Whether the part can still do its work is for whoever drew it to say.",
    )  # fmt: skip


def enough_of_them(numbers: Variant) -> Setting:
    """How many barrels until setting up is a small share."""
    most = numbers.pick("most", (0.2, 0.25, 0.18))
    held, whole = shares(1)["setting up and putting in"], sum(shares(1).values())
    # What is shared by the batch is halved by a batch of two.
    shared = 2 * (whole - sum(shares(2).values()))

    def share(batch: int) -> float:
        off = shared * (1 - 1 / batch)
        return (held - off) / (whole - off)

    fewest = next(batch for batch in range(1, 1000) if share(batch) <= most)

    def judge(values: Mapping[str, Any]) -> Outcome:
        batch = int(values["batch"])
        if not 1 <= batch <= 100_000 or batch != values["batch"]:
            return miss("no batch", "A batch is a whole number of parts, one or more.")
        if share(batch) > most:
            return miss("too few", f"In a batch of {batch} it is {100 * share(batch):.1f} % of the time.")
        if batch > fewest:
            return miss("more than needed", "That is enough; find the smallest batch that is.")
        return good(f"A batch of {batch}: {100 * share(batch):.1f} % of the time, one fewer and it is more.")

    return Setting(
        question="Setting up the lathe is shared by all parts of a batch; putting the work in is not. How many barrels "
        f"at least must be made in a row, so that setting up and putting in together take {100 * most:g} % of the time "
        "or less?",
        asks=(Ask("batch", "Batch", kind="count"),),
        judge=judge,
        solved={"batch": str(fewest)},
        slips=(Slip("too few", {"batch": "1"}, ""), Slip("more than needed", {"batch": "900"}, ""),
               Slip("no batch", {"batch": "0"}, "")),
        hint="The last lines of the list say how much of each setup is shared. Put it over the batch, and add it up; "
        "or try change_part(part, quantity=...) and costs(plan).",
        worked=lambda: f"{fewest}: {100 * share(fewest):.1f} %; one fewer {100 * share(fewest - 1):.1f} %.",
    )  # fmt: skip


def faster_or_fewer(numbers: Variant) -> Reason:
    """Where to save first: speed, setups, or the drawing."""
    batch = numbers.pick("batch", (1, 10, 25))
    found = shares(batch)
    return Reason(
        question=f"{batch} barrel{'s are' if batch > 1 else ' is'} to be made. Somebody wants to turn everything a "
        "fifth faster. Where would you save first? Two sentences, with a number in each.",
        hint="What share of the time is in the cut at all, and how much of that would a fifth more speed take off?",
        worked="; ".join(f"{name} {value:.1f} min" for name, value in found.items())
        + f" of {sum(found.values()):.1f} min. A fifth more speed takes a sixth off the minutes "
        "in the cut, and none off the others.",
    )  # fmt: skip


EXERCISES = (guess_the_time, least_cost, cost_of_a_piece, enough_of_them, cheaper_drawing, faster_or_fewer)
