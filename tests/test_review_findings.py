"""Each kind of finding, provoked by the smallest spoiling of a plan that has none of them."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from latheworks.plan import Feature, Operation, Part, Plan, Setup, review
from latheworks.plan import __file__ as room
from latheworks.units import Q_
from tests.review_parts import (
    BAR,
    DRILL,
    FEATURES,
    FINISHING,
    FOOT_OPERATIONS,
    HEAD_OPERATIONS,
    TURNING,
    codes,
    foot,
    head,
    limits,
    mm,
    moved,
    on,
    pin,
    plan,
    swapped,
    without,
)

H, F = HEAD_OPERATIONS, FOOT_OPERATIONS
RPM = "rev/min"


def only(operations, part=None, **more):
    """A plan with one setup, the second one's operations changed."""
    return plan(foot(), head(operations, **more), part=part)


def first(operations, part=None, **more):
    return plan(foot(operations, **more), head(), part=part)


def rod(long, across, operations, bore=None, **setup):
    """A plain rod of aluminum in one setup."""
    features = [on("face A", "face", 0, 0), on("body", "cylinder", 0, long, across), on("face B", "face", long, long)]
    if bore:
        features.append(on("bore", "cylinder", 0, long, bore, side="inside"))
    part = Part("rod", "6061-T6", features, mm(across + 4), mm(long + 10), stock_bore=setup.pop("tube", None))
    usual = {"name": "one", "grips": "A", "stickout": mm(min(long, 60))}
    return Plan(part, [Setup(**(usual | setup), operations=operations)])


LONG = [Operation("turn", ["body"], TURNING)]
TWO = [Operation("turn", ["body"], TURNING), Operation("turn", ["body"], FINISHING)]
CENTER = {"support": "center", "tailstock_locked": True, "quill_locked": True}

# Code: a plan that has it.
BAD = {
    "no tool": lambda: only(swapped(H, 1, tool=None)),
    "tool missing": lambda: only(swapped(H, 1, tool="a tool nobody has")),
    "wrong tool": lambda: only(swapped(H, 1, tool=DRILL)),
    "no such feature": lambda: only(swapped(H, 1, features=["hat"])),
    "wrong kind of operation": lambda: only(swapped(H, 1, features=["hole"])),
    "nothing to do": lambda: only(swapped(H, 1, features=[])),
    "nothing planned": lambda: plan(foot([Operation("turn")]), part=pin()) and Plan(pin(), [Setup("s", "A", mm(30))]),
    "out of reach": lambda: first([*F, Operation("groove", ["slot"], "3 mm grooving tool")], stickout=mm(32)),
    "partly cut": lambda: first(F, stickout=mm(20)),
    "feature not made": lambda: only(without(H, 3)),
    "over-cut": lambda: only(swapped(H, 7, drill_depth=mm(40))),
    "center in the way": lambda: only(H, **CENTER),
    "center has no hole": lambda: only(H, **CENTER),
    "center needs a cone or a plug": lambda: rod(
        120, 30, LONG, bore=20, tube=mm(20), stickout=mm(90), **CENTER
    ),
    "cone too small": lambda: rod(
        120, 90, LONG, bore=70, tube=mm(70), stickout=mm(90), **(CENTER | {"support": "cone center"})
    ),
    "plug not needed": lambda: plan(foot([*F, Operation("center drill", [], "center drill 3.15")]),
                                    Setup("turned", "B", mm(40), support="plug and center", tailstock_locked=True,
                                          quill_locked=True)),
    "tailstock not locked": lambda: only(H, support="center"),
    "quill not locked": lambda: only(H, support="center"),
    "nothing in the jaws": lambda: only(H, stickout=mm(62)),
    "short grip": lambda: only(H, stickout=mm(50)),
    "jaws on steps": lambda: plan(Setup("stock", "A", mm(46), operations=without(H, 0, 8, 9)),
                                  Setup("held on the head", "B", mm(34), operations=F)),
    "jaws on a thread": lambda: plan(Setup("stock", "A", mm(46), operations=without(H, 8, 9)),
                                     Setup("held on the head", "B", mm(34), operations=F)),
    "jaws on a thin wall": lambda: rod(60, 40, LONG, bore=36, tube=mm(36), stickout=mm(30)),
    "spindle too narrow": lambda: rod(120, 60, LONG, stickout=mm(40)),
    "lathe too short": lambda: rod(700, 30, LONG, stickout=mm(660), **CENTER),
    "does not swing": lambda: rod(60, 255, LONG, stickout=mm(40)),
    "slender work": lambda: rod(200, 20, LONG, stickout=mm(160)),
    "buckles on the center": lambda: rod(400, 6, LONG, stickout=mm(380), bore=3, tube=mm(3), **CENTER),
    "spindle too fast": lambda: only(swapped(H, 1, spindle=Q_(5000, RPM))),
    "spindle too slow": lambda: only(swapped(H, 1, spindle=Q_(10, RPM))),
    "spindle too weak": lambda: only(swapped(H, 1, depth=mm(3), feed=Q_(1, "mm/rev"), spindle=Q_(2000, RPM))),
    "grip too weak": lambda: only(H, jaw_force=Q_(1500, "N")),
    "work gives way": lambda: rod(300, 4, [Operation("turn", ["body"], TURNING, feed=Q_(0.5, "mm/rev"), passes=1)],
                                  stickout=mm(290), tilt=Q_(1e5, "N*mm/rad")),
    "tool too short": lambda: only(swapped(H, 7, tool="3 mm drill", drill_depth=mm(50))),
    "chips do not get out": lambda: rod(200, 30, [Operation("drill", ["bore"], DRILL, drill_depth=mm(80))], bore=10),
    "quill set again": lambda: rod(200, 30, [Operation("drill", ["bore"], DRILL, drill_depth=mm(80))], bore=10),
    "quill too short": lambda: rod(300, 30, [Operation("drill", ["bore"], "20 mm long drill", drill_depth=mm(260))],
                                   bore=20),
    "no center hole": lambda: only(without(H, 6)),
    "wrong hole to ream": lambda: rod(60, 30, [Operation("ream", ["bore"], "10 mm reamer")], bore=10, tube=mm(8)),
    "bar does not enter": lambda: only(swapped(H, 7, kind="bore", tool=BAR, drill_depth=None)),
    "slender bar": lambda: rod(60, 30, [Operation("bore", ["bore"], BAR)], bore=14, tube=mm(12)),
    "blade too wide": lambda: only(H, part=pin(slot=on("slot", "groove", 30, 32, 13, limits=limits(12.9, 13.1)))),
    "corner too round": lambda: only(H, part=pin(slot=replace(FEATURES["slot"], floor_radius=mm(0.05)))),
    "blade too slender": lambda: rod(60, 60, [Operation("part off", ["face A"], "3 mm parting blade")],
                                     grips="B", stickout=mm(68)),
    "blade overloaded": lambda: only(swapped(H, 3, feed=Q_(0.5, "mm/rev"))),
    "tool not for this pitch": lambda: only(
        H, part=pin(thread=on("thread", "thread", 34, 60, designation="M2x0.4-6g"), hole=None)
    ),
    "tool not for this thread": lambda: only(
        H, part=pin(thread=on("thread", "thread", 34, 60, designation="Tr 16x2-7e"))
    ),
    "surface not ready": lambda: only(moved(H, 5, 1)),
    "shallow thread": lambda: only(H, part=pin(head=on("head", "cylinder", 30, 60, 14.9, limits=limits(14.6, 15.2)))),
    "chamfer after thread": lambda: only(moved(H, 4, 5)),
    "relief after thread": lambda: only(moved(H, 3, 5)),
    "thread picked up again": lambda: plan(foot(), head(), head([H[5]])),
    "leaves the chuck ungaged": lambda: only(swapped(H, 9, features=["head", "slot", "hole"])),
    "gaged before deburring": lambda: only(moved(H, 8, 9)),
    "gaged warm": lambda: only([
        *H[:7], replace(H[7], coolant=False, feed=Q_(0.05, "mm/rev"), peck=mm(16)),
        Operation("turn", ["head"], FINISHING), *H[8:],
    ], part=pin(head=on("head", "cylinder", 30, 60, 16, limits=limits(15.94, 15.96)))),
    "length before its face": lambda: only(moved(H, 0, 3)),
    "already parted off": lambda: first([Operation("part off", ["face A"], "3 mm parting blade"), *F[1:]]),
    "parted off on a center": lambda: rod(60, 20, [Operation("part off", ["face B"], "3 mm parting blade")],
                                       stickout=mm(66), **CENTER),
    "halves meet": lambda: Plan(pin(head=None, slot=None, thread=None, lead=None, hole=None, foot=on(
        "foot", "cylinder", 0, 60, 20, limits=limits(19.9, 20.1))), [
            Setup("one", "B", mm(40), operations=[F[1]]), Setup("other", "A", mm(40), operations=[F[1]])]),
    "tool meets the jaws": lambda: rod(60, 20, [Operation("turn", ["body"], "left-hand tool")], stickout=mm(40)),
    "close to the jaws": lambda: rod(60, 20, LONG, stickout=mm(40)),
    "shoulder behind the tool": lambda: first([Operation("turn", ["ring"], TURNING)], part=pin(
        foot=on("foot", "cylinder", 0, 10, 20), ring=None, slot=None,
        head=on("ring", "cylinder", 10, 60, 16), thread=None, lead=None, hole=None)),
    "shoulder not square": lambda: only(swapped(H, 1, tool="pointed tool")),
    "tool near the quill": lambda: rod(60, 6, LONG, bore=3, tube=mm(3), stickout=mm(40), **CENTER),
    "rest on a step": lambda: only(H, rest=mm(8)),
    "tool meets the rest": lambda: rod(200, 30, LONG, stickout=mm(150), rest=mm(80)),
    "rougher than asked": lambda: only(swapped(H, 2, feed=Q_(0.4, "mm/rev")), part=pin(
        head=replace(FEATURES["head"], finish=Q_(1.6, "um")))),
    "out of tolerance": lambda: only(H, part=pin(head=on("head", "cylinder", 30, 60, 16, limits=limits(15.99, 16.0)))),
    "little tolerance left": lambda: only(H, part=pin(
        head=on("head", "cylinder", 30, 60, 16, limits=limits(15.94, 16.02)))),
    "no force known": lambda: plan(part=pin("POM")),
    "no room to run out": lambda: only(without(H, 3), part=pin(slot=None)),
    "carriage too slow": lambda: only(swapped(H, 5, spindle=Q_(900, RPM))),
    "fast for threading": lambda: only(swapped(H, 5, spindle=Q_(550, RPM))),
    "jaws on a finished surface": lambda: only(H, holding="three-jaw chuck"),
    "gaged too early": lambda: only(moved(H, 9, 0)),
    "wall cut through": lambda: rod(
        60, 20, [*LONG, Operation("drill", ["bore"], "20 mm long drill", drill_depth=mm(70))], bore=19
    ),
}  # fmt: skip
# A plan cannot be written so: `Part` and `Setup` refuse it before.
WRITTEN = re.compile(r'Flaw\(\s*(?:level|"[a-z]+"|"[a-z]+" if [^,]+),\s*(?:"([a-z -]+)"|f"\{name\} ([a-z ]+)")')


def test_the_plan_that_is_spoiled_is_whole():
    found = review(plan())
    assert [each.code for each in found.findings if each.level != "note"] == []
    assert found.verdict == "clear of findings"


@pytest.mark.parametrize("code", BAD)
def test_a_bad_plan_has_its_finding(code):
    bad = BAD[code]()
    found = [each for each in review(bad).findings if each.code == code]
    assert found, (code, sorted(codes(bad)))
    for one in found:
        assert one.what
        assert one.why
        assert one.helps or one.by_how_much
    assert code not in codes(plan())


def test_every_code_that_is_written_is_provoked():
    said = set()
    for path in Path(room).parent.glob("*.py"):
        text = re.sub(r"\s+", " ", path.read_text(encoding="utf-8"))
        said |= {a for a, _ in WRITTEN.findall(text) if a}
    said |= {"tailstock not locked", "quill not locked", "spindle too fast", "spindle too slow", "chamfer after thread",
             "relief after thread", "out of tolerance", "little tolerance left", "shallow thread"}  # fmt: skip
    assert said == set(BAD)


def test_findings_stand_gravest_first_and_each_once():
    found = review(only(swapped(without(H, 3), 1, tool=None))).findings
    levels = [("stop", "caution", "note").index(each.level) for each in found]
    assert levels == sorted(levels)
    assert len(found) == len(set(found))


def test_a_finding_says_where():
    found = next(each for each in review(only(swapped(H, 3, tool=None))).findings if each.code == "no tool")
    assert (found.where.setup, found.where.operation) == (2, 40)
    assert str(found.where) == "setup 2, operation 40"


def test_no_plan_is_refused_with_a_sentence():
    from latheworks.errors import LatheworksError

    with pytest.raises(LatheworksError, match="plan"):
        review("a plan")
    assert isinstance(Feature("a", "face", mm(0), mm(0)), Feature)
