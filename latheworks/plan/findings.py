"""What a review finds: how grave it is, what and where it is, why, by how much, and what would help."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from latheworks.plan.outcome import Flaw
from latheworks.plan.wording import written
from latheworks.results import Result
from latheworks.units import check_system

LEVELS = ("stop", "caution", "note")


@dataclass(frozen=True, slots=True)
class Where(Result):
    """The place that a finding is about: number of the setup, from 1; number of the operation in it, in tens; name of
    the feature. Each is None where the finding is not about one."""

    setup: int | None = None
    operation: int | None = None
    feature: str | None = None

    def title(self) -> str:
        """The place in words."""
        words = [] if self.setup is None else [f"setup {self.setup}"]
        words += [] if self.operation is None else [f"operation {self.operation}"]
        words += [] if self.feature is None else [self.feature]
        return ", ".join(words) or "the whole plan"

    def __str__(self) -> str:
        return self.title()


@dataclass(frozen=True, slots=True)
class Finding(Result):
    """One finding. It advises and never approves: the shop's rules, the machine's manual and qualified staff decide.

    Fields: flaw, what a judgment said, its sizes kept as numbers; where, a `Where`; system of the text. In words, in
    that system: level, "stop", "caution" or "note"; code, a short stable phrase for the kind of finding; what was
    found; why it matters; by_how_much, a number with its unit, or no words where there is none; helps, what would help.
    """

    flaw: Flaw
    where: Where
    system: str = "metric"

    @property
    def level(self) -> str:
        """How grave it is."""
        return self.flaw.level

    @property
    def code(self) -> str:
        """The kind of finding."""
        return self.flaw.code

    @property
    def what(self) -> str:
        """What was found."""
        return written(self.flaw.what, self.system)

    @property
    def why(self) -> str:
        """Why it matters."""
        return written(self.flaw.why, self.system)

    @property
    def by_how_much(self) -> str:
        """A number with its unit, or no words."""
        return written(self.flaw.by, self.system)

    @property
    def helps(self) -> str:
        """What would help."""
        return written(self.flaw.helps, self.system)

    @property
    def sentence(self) -> str:
        """How grave, what and by how much, in one sentence."""
        much = f" ({self.by_how_much})" if self.flaw.by else ""
        return f"{self.level.capitalize()}: {self.what}{much}."

    @property
    def because(self) -> str:
        """Why it matters, as a sentence."""
        return f"{self.why[:1].upper()}{self.why[1:]}."

    def in_system(self, system: Any) -> Finding:
        """Return the same finding with its text in a unit system.

        Parameters: system, "metric" or "inch". Raises LatheworksError for another. Source: the review.

        >>> from latheworks.plan import barrel_plan, review
        >>> review(barrel_plan()).findings[0].in_system("inch").system
        'inch'
        """
        return replace(self, system=check_system(system))

    def title(self) -> str:
        """How grave and what."""
        return f"{self.level}: {self.what}"

    def facts(self) -> list[tuple[str, str]]:
        """Where, why, by how much and what would help."""
        rows = [("where", str(self.where)), ("why", self.why), ("by how much", self.by_how_much), ("try", self.helps)]
        return [(name, value) for name, value in rows if value]


def many(count: int, word: str) -> str:
    """So many of them, in words that agree."""
    return f"{count} {word}{'' if count == 1 else 's'}"


def ranked(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings, each once, the gravest first, else as the plan runs."""

    def place(one: Finding) -> tuple[int, int, int, str]:
        here = one.where
        return LEVELS.index(one.level), here.setup or 0, here.operation or 0, here.feature or ""

    # What reads the same is the same, however the last digits of its sizes differ.
    once: dict[object, Finding] = {}
    for one in findings:
        once.setdefault((one.where, one.level, one.code, one.what, one.why, one.by_how_much, one.helps), one)
    return tuple(sorted(once.values(), key=place))
