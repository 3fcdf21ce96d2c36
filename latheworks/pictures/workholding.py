"""The shapes that hold a bar in a lathe: the chuck with its jaws, and the centers."""

import numpy as np

from latheworks.pictures.drafting import box

_CONE = np.tan(np.radians(30))


def jaws(left: float, span: float, radius: float, hole: float) -> list[np.ndarray]:
    """Two jaws, the chuck's body, and the two walls of the bar between them; three of the chuck, two of the work.

    `left` is the edge of the paper and `span` its width; the jaws end at 0. All in the unit drawn in.
    """
    jaw, tall = 0.045 * span, max(0.05 * span, 0.6 * radius)
    return [
        box(-jaw, radius, 0, radius + tall), box(-jaw, -radius - tall, 0, -radius),
        box(left, -radius - 1.3 * tall, -jaw, radius + 1.3 * tall),
        box(-jaw, hole if hole else -radius, 0, radius), box(-jaw, -radius, 0, -hole),
    ]  # fmt: skip


def centers(span: float, long: float, radius: float, hole: float, near: float = 0.0,
            far: float = 0.0) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """The center at the headstock end and that at the far end; `near` and `far` move them along with a bent bar."""
    # A center is a 60 degree cone: its point sits as deep as the bore, or a small center hole, lets it.
    mouth = hole if hole else 0.12 * radius
    deep = mouth / _CONE
    base = max(1.5 * mouth, 0.022 * span)
    out = base / _CONE - deep
    cone = np.array([(-deep, 0), (out, base), (2 * span, base), (2 * span, -base), (out, -base)])
    return cone * np.array((-1, 1)) + np.array((0, near)), cone + np.array((long, far))
