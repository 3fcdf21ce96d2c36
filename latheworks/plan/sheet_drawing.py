"""The drawing of one setup on the sheet: the work in its holding, as a section, in SVG text."""

from __future__ import annotations

from html import escape

import numpy as np

from latheworks.plan.setup import Setup
from latheworks.plan.shape import Shape
from latheworks.units import Q_, U, show

WIDTH, HEIGHT = 640.0, 170.0
JAW = 26.0  # how long the jaws are drawn [mm]
MARGIN = 46.0
LINE = 'fill="none" stroke="#000" stroke-width="{}"'


def setup_drawing(setup: Setup, before: Shape, after: Shape, system: str, number: int) -> str:
    """An SVG picture of the work before and after a setup, jaws, support, stickout and zero; a title for a reader."""
    out = float(setup.stickout.m_as(U.mm))
    grips_a = setup.grips == "A"
    jaw = before.end - out if grips_a else before.start + out
    free = before.end if grips_a else before.start

    # The chuck is always drawn on the left, as it stands on the lathe.
    def x(z: float) -> float:
        return (z - jaw) if grips_a else (jaw - z)

    back = min(x(before.start), x(before.end))
    left, right = max(back, -2.2 * JAW), out
    radius = float(before.outer.max())
    scale = min((WIDTH - 2 * MARGIN) / (right - left + 30), (HEIGHT - 62) / (2 * radius))
    middle = HEIGHT / 2 - 8

    def px(value: float) -> float:
        return MARGIN + (value - left) * scale

    def py(r: float) -> float:
        return middle - r * scale

    clip = f"cut{number}"
    parts = [
        f'<clipPath id="{clip}"><rect x="{px(left):.1f}" y="0" width="{(right - left) * scale + 1:.1f}" '
        f'height="{HEIGHT:.0f}"/></clipPath><pattern id="hatch{number}" width="5" height="5" '
        'patternUnits="userSpaceOnUse"><path d="M 0 5 L 5 0" stroke="#000" stroke-width="0.7"/></pattern>',
        f'<g clip-path="url(#{clip})">',
        f'<path d="{_outline(before, x, px, py)}" fill="#fff" stroke="#777" stroke-width="0.8" '
        'stroke-dasharray="5 3"/>',
        f'<path d="{_outline(after, x, px, py)}" fill="#e4e4e4" fill-rule="evenodd" stroke="#000" stroke-width="1.3"/>',
        "</g>",
        _jaws(px, py, before, jaw, grips_a, scale, number),
        f'<path d="M {px(left) - 14:.1f} {middle:.1f} H {px(right) + 22:.1f}" stroke="#000" stroke-width="0.6" '
        'stroke-dasharray="12 3 3 3"/>',
        _support(setup, px, py, before, free, right),
        _stickout(px, right, HEIGHT - 22, show(setup.stickout, system, digits=None if system == "inch" else 1)),
    ]
    if setup.rest is not None:
        at = px(float(setup.rest.m_as(U.mm)))
        parts.append(f'<path d="M {at:.1f} {py(radius) - 12:.1f} V {py(radius):.1f} M {at:.1f} {py(-radius) + 12:.1f} '
                     f'V {py(-radius):.1f}" stroke="#000" stroke-width="3"/>'
                     f'<text x="{at:.1f}" y="{py(radius) - 15:.1f}" text-anchor="middle">rest</text>')  # fmt: skip
    words = escape(_words(setup, before, after, system))
    return (
        f'<svg viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" role="img" aria-label="{words}" font-family="sans-serif" '
        f'font-size="11">{"".join(parts)}</svg>'
    )


def _outline(shape: Shape, x, px, py) -> str:  # type: ignore[no-untyped-def]
    """The section's outline, both halves, the bore left out."""
    z = np.repeat(shape.z, 2)[1:-1]
    outer, inner = shape.outer.ravel(), shape.inner.ravel()

    def run(radii: np.ndarray, sign: float) -> list[tuple[float, float]]:
        return [(px(x(a)), py(sign * r)) for a, r in zip(z, radii, strict=True)]

    loops = []
    for sign in (1.0, -1.0):
        loop = run(outer, sign) + run(inner, sign)[::-1]
        loops.append("M " + " L ".join(f"{a:.1f} {b:.1f}" for a, b in loop) + " Z")
    return " ".join(loops)


def _jaws(px, py, work: Shape, jaw: float, grips_a: bool, scale: float, number: int) -> str:  # type: ignore[no-untyped-def]
    """Two jaws with hatched bodies at the held diameter, and the chuck's face behind them."""
    inside = (jaw - JAW, jaw) if grips_a else (jaw, jaw + JAW)
    held = max(work.largest(max(inside[0], work.start), min(inside[1], work.end)), 1.0) / 2
    found = []
    high = 24.0
    for sign in (1.0, -1.0):
        top = py(sign * held) if sign < 0 else py(held) - high
        found.append(f'<rect x="{px(-JAW):.1f}" y="{top:.1f}" width="{JAW * scale:.1f}" height="{high:.1f}" '
                     f'fill="url(#hatch{number})" stroke="#000" stroke-width="1.2"/>')  # fmt: skip
    return "".join(found)


def _support(setup: Setup, px, py, work: Shape, free: float, right: float) -> str:  # type: ignore[no-untyped-def]
    """A center or a cone at the free end."""
    if setup.support == "none" and setup.holding != "between centers":
        return ""
    bore = work.smallest_bore(free - 0.5, free + 0.5) / 2
    radius = max(bore, 2.0) if setup.support in ("cone center", "plug and center") else 3.0
    tip = px(right)
    low, high = py(radius), py(-radius)
    return (
        f'<path d="M {tip - (high - low) * 0.4:.1f} {py(0):.1f} L {tip + 10:.1f} {low - 4:.1f} H {tip + 40:.1f} '
        f'V {high + 4:.1f} H {tip + 10:.1f} Z" fill="#fff" stroke="#000" stroke-width="1.2"/>'
    )


def _stickout(px, right: float, y: float, words: str) -> str:  # type: ignore[no-untyped-def]
    """The dimension from the jaws to the free end."""
    a, b = px(0.0), px(right)
    middle = (a + b) / 2
    return (
        f'<path d="M {a:.1f} {y - 8:.1f} V {y + 6:.1f} M {b:.1f} {y - 8:.1f} V {y + 6:.1f} M {a:.1f} {y:.1f} '
        f"H {b:.1f} M {a + 6:.1f} {y - 3:.1f} L {a:.1f} {y:.1f} L {a + 6:.1f} {y + 3:.1f} M {b - 6:.1f} {y - 3:.1f} "
        f'L {b:.1f} {y:.1f} L {b - 6:.1f} {y + 3:.1f}" {LINE.format(0.8)}/>'
        f'<text x="{middle:.1f}" y="{y + 14:.1f}" text-anchor="middle">sticks out {escape(words)}</text>'
    )


def _words(setup: Setup, before: Shape, after: Shape, system: str) -> str:
    """What the drawing shows."""
    sizes = (before.length, after.length, 2 * float(after.outer.max()))
    was, now, wide = (show(Q_(value, U.mm), system) for value in sizes)
    held = f"{setup.holding}, end {setup.grips} held, sticks out {show(setup.stickout, system)}"
    support = "" if setup.support == "none" else f", free end on a {setup.support}"
    return f"{held}{support}: work {was} long comes out {now} long and up to {wide} across"
