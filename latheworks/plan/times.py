"""How long things take: cutting from the data, the rest from stated usual times, common practice, no source."""

from __future__ import annotations

from latheworks.plan.outcome import Data

# Minutes, and mm/min by hand; start values to replace by a shop's own.
APPROACH = 2.0  # mm before and after a cut
RETURN = 600.0  # mm/min of the carriage by hand
SET_PASS = 0.1  # setting the dial for a pass
TOOL_CHANGE = 0.7
BY_HAND = {"gage": 0.5, "deburr": 0.5}  # for each feature
LOAD, TURN_ROUND = 2.0, 3.0  # putting work in, and setting it true
INDICATE = {"four-jaw chuck": 8.0, "between centers": 3.0, "collet": 0.5, "soft jaws": 1.0}
CENTER = 0.5  # bringing a center up and locking it
SET_UP = 10.0  # a setup of the lathe itself, shared by a batch
QUILL_SET = 0.5  # setting the tailstock anew


def cut_minutes(long: float, data: Data, passes: int) -> float:
    """Passes of a length [mm], each fed, brought back and set anew."""
    way = long + APPROACH
    speed = data.feed * data.spindle
    if speed <= 0.0:
        return 0.0
    return passes * (way / speed + way / RETURN + SET_PASS)


def in_cut(long: float, data: Data, passes: int) -> float:
    """The minutes that an edge is in the cut, over passes of a length [mm]."""
    speed = data.feed * data.spindle
    return passes * long / speed if speed > 0.0 else 0.0
