"""What can be asked: a number, a choice, several choices, a setting, a function, a plan, a reason, a prediction.

A task is data built from the library at run time: the question, the right answer and the likely wrong ones,
each with the sentence that names the slip. `latheworks.course.check.check` judges; nothing here does.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from latheworks.working import Working

Worked = str | Working


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one answer. `right` is None where a person, not a program, reads the answer.

    `counts` is False where the answer could not be read: that is no miss. `lines` are further findings, a line each.
    `share` is the share of the points, where it is not all or nothing.
    """

    right: bool | None
    slip: str | None
    sentence: str
    hint: str | None = None
    counts: bool = True
    lines: tuple[str, ...] = ()
    share: float | None = None


@dataclass(frozen=True, slots=True)
class Slip:
    """One likely wrong answer: a short name, the answer that shows it, and a sentence without the right value.

    The value is a quantity (Number), an option (Choice; in Several the option taken or left wrongly), a
    function (Function), or the typed answers as a mapping (Setting).
    """

    name: str
    value: Any
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What all questions have. `hint` shows after the first miss, `worked` folded after the second or when asked.

    `code` is the short code of the numbers in it (`latheworks.course.Variant.code`); `points` what it is worth when it
    is graded, a whole number above 0; a reason and a prediction are worth nothing by themselves.
    """

    question: str
    hint: str
    worked: Worked | Callable[[], Worked]
    name: str = ""
    code: str = ""
    points: int = 1

    def worked_answer(self) -> Worked:
        """The worked answer, computed now if it was given as a function."""
        return self.worked() if callable(self.worked) else self.worked


@dataclass(frozen=True, slots=True, kw_only=True)
class Number(Task):
    """A number with its unit, typed; right within a tolerance, whatever the unit.

    `right` is a quantity; `within` is a quantity of the same kind, half the last digit asked for or more;
    `kind` is a kind of `latheworks.reading.read_value` ("length", "force", "spindle", "speed", "feed", "stiffness",
    "angle", "count"). Off by 25.4, right digits with a wrong unit, sign, power of ten and rounding are
    recognised without being listed; the exercise lists the slips of its own subject in `slips`.
    """

    right: Any
    within: Any
    kind: str = "length"
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(Task):
    """One of a few options; every wrong option has a slip."""

    options: tuple[str, ...]
    right: str
    slips: tuple[Slip, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Several(Task):
    """All the options that apply; every option has a slip, shown when it was taken or left wrongly."""

    options: tuple[str, ...]
    right: tuple[str, ...]
    slips: tuple[Slip, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """One box of a Setting: the name used in the judging, the words before the box, and the kind or the options."""

    name: str
    label: str
    kind: str = "length"
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting(Task):
    """A setting of the student's own, judged by working the job out again: any good one passes.

    `judge` takes the mapping of names to quantities (or options) and returns `good(...)` or `miss(...)`.
    `solved` is one good answer as typed, and each slip's value one typed answer that shows it; both are tested.
    """

    asks: tuple[Ask, ...]
    judge: Callable[[Mapping[str, Any]], Outcome]
    solved: Mapping[str, str]
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Function(Task):
    """A function of the student's own, compared with the library's at some inputs.

    `inputs` holds one mapping a call, argument name to value, passed in that order; `reference` and each
    slip's value take the same arguments; `kind` is the kind of what comes back and `within` a relative tolerance.
    """

    reference: Callable[..., Any]
    inputs: tuple[Mapping[str, Any], ...]
    kind: str = "length"
    within: float = 1e-6
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTask(Task):
    """A plan of the student's own, handed in as data and judged by `latheworks.plan.review`: no stop, and it passes.

    `part` is the student's own, a `latheworks.plan.Part`; `free` names what of it may be chosen, "stock_length" or
    "socket.diameter" (a feature's name, a field), each with a Span or a tuple of what is allowed. `lathe` and `rack`
    are the shop's, the teaching ones when None, whatever a plan's file names. `stated` names the facts of a setup that
    a plan may state (of `latheworks.course.check_plan.FACTS`), such as "runout", each with a Span; it leaves out the
    others. `start` makes the plan that a student begins with, if there is one. `solved` makes one good plan; the value
    of a slip is a plan, or its JSON text, and the slip's name the code of the first stop in it.
    """

    part: Any
    solved: Callable[[], Any]
    free: Mapping[str, Any] = field(default_factory=dict)
    stated: Mapping[str, Any] = field(default_factory=dict)
    lathe: Any = None
    rack: Any = None
    start: Callable[[], Any] | None = None
    slips: tuple[Slip, ...] = ()
    points: int = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason(Task):
    """A short reason in the student's own words, kept for a person to read and never judged by its words."""

    shortest: int = 20
    longest: int = 600


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction(Task):
    """A guess made before looking: kept, not judged; `worked` tells afterwards what to have seen."""

    options: tuple[str, ...]


def good(sentence: str) -> Outcome:
    """The outcome of a setting that works; the sentence says what it achieves."""
    return Outcome(True, None, sentence)


def miss(slip: str, sentence: str) -> Outcome:
    """The outcome of a setting that does not work: the slip's name, and what goes wrong."""
    return Outcome(False, slip, sentence)


def unreadable(sentence: str) -> Outcome:
    """The outcome of an answer that cannot be read; not counted as a miss."""
    return Outcome(False, "cannot be read", sentence, None, counts=False)
