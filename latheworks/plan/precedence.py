"""Which operation has to come before which: the edges of a table, laid over the operations of a part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from latheworks.plan.feature import PlainFeature
from latheworks.tables import cite, table

TOUCH = 0.01  # mm: features that lie no farther apart touch
SCOPES = ("same feature", "same end", "same setup", "touching", "one thread", "everything")


class Node(NamedTuple):
    """An operation as precedence sees it: role, names of its features, the free ends that it may be done at, and the
    setup that it stands in, None where that is open."""

    role: str
    features: tuple[str, ...]
    ends: tuple[str, ...]
    setup: int | None = None


class Rule(NamedTuple):
    """A row of the table: what comes before what, where that holds, whether it binds, why, and by which source."""

    before: str
    after: str
    where: str
    must: bool
    why: str
    source: str


class Edge(NamedTuple):
    """One node before another, by their places in the list; end is the free end for which it holds, "" for both."""

    before: int
    after: int
    end: str
    why: str
    source: str


@cache
def rules(must: bool = True) -> tuple[Rule, ...]:
    """The rows of the table, those that bind or those that are only usual and left to the numbers."""
    rows = [Rule(r["before"], r["after"], r["where"], r["strength"] == "must", r["why"], cite(r["source"]))
            for r in table("precedence")]  # fmt: skip
    return tuple(row for row in rows if row.must == must)


def role_of(kind: str, inside: bool, roughs: bool, pilots: bool = False) -> str:
    """The role of an operation in the table; "turn" and "bore" stand for tapers too."""
    if kind in ("turn", "taper", "bore"):
        word = "bore" if inside else "turn"
        return f"rough {word}" if roughs else word
    if kind in ("groove", "chamfer", "thread"):
        return f"{'inside' if inside else 'outside'} {kind}"
    return "pilot drill" if kind == "drill" and pilots else kind


def edges(nodes: Sequence[Node], features: dict[str, PlainFeature], must: bool = True) -> list[Edge]:
    """The edges of the table between the nodes."""
    found = []
    by_role: dict[str, list[int]] = {}
    for i, node in enumerate(nodes):
        by_role.setdefault(node.role, []).append(i)
    for rule in rules(must):
        for i in by_role.get(rule.before, ()):
            for k in by_role.get(rule.after, ()):
                if i == k or not _holds(rule.where, nodes[i], nodes[k], features):
                    continue
                ends: tuple[str, ...] = ("",)
                if rule.where == "same end":
                    shared = [end for end in nodes[i].ends if end in nodes[k].ends]
                    # A node that can be done at either end is bound only where it is done at this one.
                    ends = tuple("" if len(nodes[k].ends) == 1 else end for end in shared)
                found += [Edge(i, k, end, rule.why, rule.source) for end in ends]
    return found


def _holds(where: str, one: Node, other: Node, features: dict[str, PlainFeature]) -> bool:
    """Whether a rule's scope holds between two operations."""
    if where == "everything":
        return True
    if where == "same setup":
        return one.setup == other.setup
    if where == "same end":
        return any(end in other.ends for end in one.ends)
    if where == "same feature":
        return any(name in other.features for name in one.features)
    mine = [features[name] for name in one.features if name in features]
    others = [features[name] for name in other.features if name in features]
    if where == "touching":
        return any(touch(a, b) for a in mine for b in others)
    threads = [f for f in features.values() if f.kind == "thread"]
    return any((a.name == t.name or touch(a, t)) and (b.name == t.name or touch(b, t))
               for t in threads for a in mine for b in others)  # fmt: skip


def touch(one: PlainFeature, other: PlainFeature) -> bool:
    """Whether two features of one side lie on each other or side by side."""
    return one.inside == other.inside and one.start <= last(other) + TOUCH and last(one) >= other.start - TOUCH


def last(feature: PlainFeature) -> float:
    """Where a feature, or the last of a row of grooves, ends [mm]."""
    return feature.end + (feature.repeats - 1) * feature.spacing


def cycle(count: int, pairs: Iterable[tuple[int, int]]) -> list[int] | None:
    """The places of a ring of nodes each of which has to come before the next, or None where there is none."""
    after: list[list[int]] = [[] for _ in range(count)]
    for one, other in pairs:
        after[one].append(other)
    state = [0] * count  # 0 not seen, 1 on the way, 2 done
    for start in range(count):
        if state[start]:
            continue
        way, stack = [start], [iter(after[start])]
        state[start] = 1
        while stack:
            step = next(stack[-1], None)
            if step is None:
                stack.pop()
                state[way.pop()] = 2
            elif state[step] == 1:
                return way[way.index(step) :]
            elif not state[step]:
                state[step] = 1
                way.append(step)
                stack.append(iter(after[step]))
    return None


def named(ring: Sequence[int], titles: Sequence[str]) -> str:
    """A ring in words."""
    return " before ".join(titles[i] for i in [*ring, ring[0]])


def masks(count: int, found: Iterable[Edge]) -> list[dict[str, int]]:
    """For each node and free end, the bits of what has to be done before."""
    needs = [{"A": 0, "B": 0} for _ in range(count)]
    for edge in found:
        for end in ("A", "B"):
            if edge.end in ("", end):
                needs[edge.after][end] |= 1 << edge.before
    return needs
