"""Flaws and sizes put into findings, each in its place of the plan."""

from __future__ import annotations

from latheworks.plan.feature_rows import SizeRow
from latheworks.plan.filled import REAL
from latheworks.plan.findings import Finding, Where
from latheworks.plan.job import Job
from latheworks.plan.outcome import Flaw
from latheworks.plan.sequence import order_flaws
from latheworks.plan.walk import Walk
from latheworks.plan.wording import amount, mm, say

NEAR = 0.8  # of the tolerance: from there on a size hardly holds
# What helps against what a size is spent on most.
HELPS = {
    "bending": "a spring pass, a lighter last pass, a center, a shorter stickout",
    "force and stiffness": "measure before the last pass and set it by that",
    "setting the dial": "measure before the last pass and set it by that; a scale on the slide",
    "edge wear": "a fresh edge for the last pass, a slower speed",
    "heat": "coolant, or let it cool before the last pass",
    "jaw squeeze": "less jaw force, soft jaws, or bore it where it is not gripped",
    "finding zero again": "cut it in the setup of the face that it is measured from, or a stop",
    "size of the tool": "another drill, or bore it",
    "cutting over size": "a smaller drill and a bar or a reamer",
    "reading": "measure and correct the length",
    "end not faced": "face the end that lengths are measured from",
}


def finding(flaw: Flaw, setup: int | None, operation: int | None, system: str) -> Finding:
    """A flaw in its place; indices from 0 become the numbers that people read."""
    setup_number = None if setup is None else setup + 1
    where = Where(setup_number, None if operation is None else 10 * (operation + 1), flaw.feature)
    return Finding(flaw, where, system)


def plan_findings(found: Walk, system: str) -> list[Finding]:
    """Findings of setups, of operations and of their order."""
    findings = [finding(flaw, i, None, system) for i, _, flaws in found.setups for flaw in flaws]
    for step in found.steps:
        flaws = (*step.judged.taken.flaws, *step.judged.flaws)
        findings += [finding(flaw, step.setup, step.number, system) for flaw in flaws]
    # What was cut away too far stays so: it is told once, where it happens.
    first = {(one.code, one.what, one.by_how_much): one for one in reversed(findings) if one.code == "over-cut"}
    findings = [one for one in findings if one.code != "over-cut" or first[one.code, one.what, one.by_how_much] is one]
    for place, flaw in order_flaws(found):
        setup, operation = place or (None, None)
        findings.append(finding(flaw, setup, operation, system))
    if not found.steps:
        nothing = Flaw("stop", "nothing planned", "the plan has no operation", None, "nothing is made", "",
                       "operations in its setups")  # fmt: skip
        findings.append(finding(nothing, None, None, system))
    return findings


def size_findings(job: Job, rows: tuple[SizeRow, ...], system: str) -> list[Finding]:
    """Sizes that would not hold, or hardly, and surfaces rougher than asked."""
    findings = []
    for row in rows:
        if row.outcome is None or row.made is None:
            continue
        setup, number = row.made
        asked = job.features[row.name].finish
        if row.finish is not None and asked is not None and REAL * row.finish > asked:
            findings.append(finding(Flaw(
                "caution", "rougher than asked", f"{row.name} would come out rougher than asked", row.name,
                "Ra comes out up to twice what feed and nose leave at best",
                say("up to {}, {} asked", amount("roughness", REAL * row.finish, 1), amount("roughness", asked, None)),
                "a finer feed, a larger nose radius",
            ), setup, number, system))  # fmt: skip
        if row.use is None or row.use <= NEAR:
            continue
        spent = ", ".join(f"{name} {100 * share:.0f} %" for name, share in row.outcome.shares[:3])
        by = say("{} % of the tolerance: {} is likely", f"{100 * row.use:.0f}",
                 mm(row.outcome.low, 3, row.outcome.high))  # fmt: skip
        over = row.use > 1.0
        flaw = Flaw("stop" if over else "caution", "out of tolerance" if over else "little tolerance left",
                    f"the {row.measure} of {row.name} {'would not hold' if over else 'hardly holds'}", row.name,
                    f"spent on: {spent}", by, _helps(row))  # fmt: skip
        findings.append(finding(flaw, setup, number, system))
    return findings


def _helps(row: SizeRow) -> str:
    """What would help most, by what is spent most."""
    first = row.outcome.shares[0][0] if row.outcome is not None and row.outcome.shares else ""
    if first.startswith("putting in"):
        return "cut it in one setup with its datum, or set it true with an indicator"
    return HELPS.get(first, "a finer instrument")
