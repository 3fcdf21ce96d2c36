"""What a review finds: how grave it is, what and where it is, why, by how much, and what would help."""

from __future__ import annotations

from dataclasses import dataclass

from latheworks.results import Result

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

    Fields: level, "stop", "caution" or "note"; code, a short stable phrase for the kind of finding; what was found;
    where, a `Where`; why it matters; by_how_much, a number with its unit, or no words where there is none; helps, what
    would help.
    """

    level: str
    code: str
    what: str
    where: Where
    why: str
    by_how_much: str = ""
    helps: str = ""

    def title(self) -> str:
        """How grave and what."""
        return f"{self.level}: {self.what}"

    def facts(self) -> list[tuple[str, str]]:
        """Where, why, by how much and what would help."""
        rows = [("where", str(self.where)), ("why", self.why), ("by how much", self.by_how_much), ("try", self.helps)]
        return [(name, value) for name, value in rows if value]


def ranked(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings, each once, the gravest first, else as the plan runs."""

    def place(one: Finding) -> tuple[int, int, int, str]:
        here = one.where
        return LEVELS.index(one.level), here.setup or 0, here.operation or 0, here.feature or ""

    return tuple(sorted(dict.fromkeys(findings), key=place))
