"""Homework 3, the whole job: a barrel of one's own, a first plan with faults, and a plan to hand in."""

from typing import Any

from latheworks.course import slips
from latheworks.course.exercises.the_own_job import LENGTHS, SHOPS, THREADS, TROUBLES, Job, own_job
from latheworks.course.tasks import Choice, Number, PlanTask, Reason, Slip
from latheworks.course.variant import Variant
from latheworks.plan import review
from latheworks.units import Q_, U, show

# Every exercise here is about the same barrel.
ONE_JOB = True
_GRIP, _OVER = 60, 4


def _job(numbers: Variant) -> tuple[Job, str]:
    """The student's own job, and the word for its trouble."""
    length, tolerance = numbers.pick("size", LENGTHS)
    trouble = numbers.pick("trouble", tuple(TROUBLES))
    return own_job(length, tolerance, numbers.pick("thread", THREADS), trouble), trouble


def _long(job: Job) -> float:
    return float(job.part.length.m_as(U.mm))


def sticks_out(numbers: Variant) -> Number:
    """Reading part and stock: how far the blank would stand out in another grip."""
    length = _long(_job(numbers)[0])
    right = length + _OVER - _GRIP
    return Number(
        question=f"Your barrel is {length:g} mm long, and its blank {length + _OVER:g} mm. A friend would grip "
        f"{_GRIP} mm of the blank, before anything is cut. How far would the blank stick out of the jaws? "
        "Give it to 1 mm, with the unit.",
        right=Q_(right, "mm"),
        within=Q_(0.5, "mm"),
        slips=(
            Slip("grip for stickout", Q_(float(_GRIP), "mm"), "This lies in the jaws; the rest of it sticks out."),
            Slip("whole length", Q_(length + _OVER, "mm"), "This is the whole blank; some of it lies in the jaws."),
            Slip("part for blank", Q_(length - _GRIP, "mm"),
                 "This counts from the finished part. Before anything is cut, the blank is what stands there."),
        ),
        hint="What sticks out and what is gripped make up the work, as it stands then.",
        worked=f"{length + _OVER:g} mm - {_GRIP} mm = {right:g} mm. So far out with nothing at its end, it would whip.",
        points=1,
    )  # fmt: skip


def drilled_from_each_end(numbers: Variant) -> Number:
    """How deep each of two holes must be to meet."""
    length = _long(_job(numbers)[0])
    right = length / 2 + _OVER
    return Number(
        question=f"No drill goes all through your barrel, {length:g} mm long, so it is drilled from both ends. Each "
        f"hole is to reach {_OVER} mm past the middle, with its full diameter, counted from the finished end. How "
        "deep is each? Give it to 1 mm, with the unit.",
        right=Q_(right, "mm"),
        within=Q_(0.5, "mm"),
        slips=(
            Slip("overlap left out", Q_(length / 2, "mm"), "So the holes just meet, or just miss: go past the "
                                                           "middle."),
            Slip("overlap taken twice", Q_(right + _OVER, "mm"), "Each hole takes the overlap once, past the middle."),
            Slip("overlap shared", Q_(right - _OVER / 2, "mm"),
                 "The overlap was shared between the two; here each hole goes the whole of it past the middle."),
        ),
        hint="From one end to the middle, and on.",
        worked=f"{length:g} / 2 + {_OVER} = {right:g} mm.",
        points=1,
    )  # fmt: skip


def read_the_review(numbers: Variant) -> Number:
    """Reading a prediction out of the review of the first plan."""
    job, _ = _job(numbers)
    name = numbers.pick("feature", ("nose", "socket", "thread relief"))
    row = next(row for row in review(job.start).features if row.name == name and row.measure == "diameter")
    limits, seen = row.limits, row.predicted
    assert seen is not None
    assert seen.max is not None
    assert seen.min is not None
    return Number(
        question=f"Review your first plan for the {job.part.name}. What does the review predict as the largest "
        f"diameter of the feature called {name}? Give it to 0.001 mm, with the unit.",
        right=seen.max,
        within=Q_(0.001, "mm"),
        slips=(
            slips.other_limit(seen.min),
            Slip("drawing for prediction", limits.max,
                 "This is what the drawing allows. The prediction is what this plan would make."),
            Slip("middle for end", (seen.min + seen.max) / 2, "This is the middle of what is predicted; an end is "
                                                              "asked."),
        ),
        hint=f'print(review(first).row("{name}")): the limits, and in the next line what would come out.',
        worked=lambda: f"{row.title()}: limits {show(limits.min)} to {show(limits.max)}, predicted {show(seen.min)} to "
        f"{show(seen.max)}.",
        points=2,
    )  # fmt: skip


def first_stop(numbers: Variant) -> Choice:
    """What the review of the first plan stops at."""
    job, trouble = _job(numbers)
    right = TROUBLES[trouble].words
    return Choice(
        question=f"Your first plan for the {job.part.name} would not work. Review it. What does the review stop at?",
        options=tuple(each.words for each in TROUBLES.values()),
        right=right,
        slips=tuple(
            Slip(f"sound: {word}", each.words, f"{each.sound} Read the first line of the review that says stop.")
            for word, each in TROUBLES.items() if word != trouble
        ),
        hint="print(review(first)): the gravest findings stand first.",
        worked=lambda: "\n".join(
            f"{each.what} ({each.where}). What helps: {each.helps}." for each in review(job.start).of("stop")
        ),
        points=2,
    )  # fmt: skip


def plan(numbers: Variant) -> PlanTask:
    """The plan to hand in; any that the review does not stop, and that keeps the sizes, passes."""
    job, trouble = _job(numbers)
    found = TROUBLES[trouble]
    length, thread = job.part.length, next(each.designation for each in job.part.features if each.kind == "thread")
    body = next(each for each in job.part.features if each.name == "body")
    assert body.limits is not None
    other = next(size for size in LENGTHS if size[0] != length.m_as(U.mm))
    return PlanTask(
        question="Plan your barrel, so that the review finds no stop, no size outside its limits, and as few cautions "
        f"as you can. It is {show(length, digits=0)} long, its outside {show(body.limits.min)} to "
        f"{show(body.limits.max)}, its thread {thread}, the stock {show(job.part.stock_diameter, digits=0)} across and "
        f"{show(job.part.stock_length, digits=0)} long. {SHOPS[found.shop][0]} Part and shop are given; setups, "
        "operations, tools and cutting data are yours. Any good plan passes.",
        part=job.part,
        lathe=job.lathe,
        rack=job.rack,
        start=lambda: job.start,
        solved=lambda: job.good,
        slips=(
            Slip(found.code, job.start, f"This is where the first plan stops, too. Think of this: {found.mend}."),
            Slip("not your job", _good(other, thread), ""),
        ),
        hint="One finding at a time, the gravest first: change one thing, review, and look what it did to the others.",
        worked=f"What mends the first stop: {found.mend}. Then go through the cautions in the same way. There is more "
        "than one good plan.",
    )  # fmt: skip


def _good(size: tuple[float, float], thread: str | None) -> Any:
    return own_job(*size, str(thread), "order").good


def what_you_changed(numbers: Variant) -> Reason:
    """The change and what it cost, for a person to read."""
    _job(numbers)
    return Reason(
        question="What did you change in the first plan, in which order, and what did the review say after each "
        "change? Name the finding that you could not get rid of, or chose to live with, and why. Four sentences or "
        "fewer.",
        hint="",
        worked="A good answer names the operation or the setup by its number, the size of the change, the share of a "
        "tolerance before and after, and one thing it cost: minutes, a tool, a second setup, a size harder to reach.",
        longest=900,
    )


def first_part(numbers: Variant) -> Reason:
    """What to watch as the first part is made, for a person to read."""
    job, _ = _job(numbers)
    return Reason(
        question=f"The software never says that a plan is safe. Before your {job.part.name} is cut: what would you "
        "check at the machine, what would you measure on the first part and when, and at what sign would you stop the "
        "spindle? Four sentences or fewer.",
        hint="",
        worked="A good answer names the grip and the stop, turning the chuck round by hand, the tailstock clamped, the "
        "first reading on the nose or the outside before the last cut, the gage for the thread while the work is "
        "still in its jaws, and a sign such as chatter, chips that pack in the bore, a part that creeps, or a "
        "drill that squeals. The shop's rules, the machine's manual and qualified staff decide.",
        longest=900,
    )


EXERCISES = (sticks_out, drilled_from_each_end, read_the_review, first_stop, plan, what_you_changed, first_part)
