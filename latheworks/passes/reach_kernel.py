"""What a tool can leave of a wanted outline: the closing of the outline by the tool's shape, on plain floats in mm.

The tool's lowest point may come down at p to g(p), the largest of f(z) - t(z - p): nothing of it cuts below the wanted
heights f. What then stays at z is c(z), the smallest of g(p) + t(z - p) over the pieces that cut. Over points, the pair
of operations is a closing: c is nowhere below f, and, where no shank keeps the tool up, doing it again changes nothing.
The points are chosen so that between them the error is of second order: every corner of the outline, a fine spacing
around it, every place where a piece of the tool begins or ends over a corner, or touches a steep slope.
"""

from dataclasses import dataclass

import numpy as np

from latheworks.passes.reach_shape import Part, extent

# The top of a wall stands this far back in the material, so that touching a wall is not cutting it [mm].
HAIR = 1e-6
CORNER = np.radians(3.0)
STEEP = np.radians(50.0)
COARSE = 400
MOST_SAMPLES = 20_000
BLOCK = 1_000_000
TINY = 1e-4
MISS = 0.008  # a bend between points this far apart hides a thousandth of a millimeter, an eighth of it
CUTTING = ("nose", "floor", "front", "back")


@dataclass(frozen=True, slots=True)
class Closing:
    """At each z: wanted and left height, which piece of the tool formed it and which piece held the tool up. At each
    place: how low the nose comes, and which piece stops it there."""

    z: np.ndarray
    wanted: np.ndarray
    left: np.ndarray
    formed_by: np.ndarray
    held_by: np.ndarray
    place: np.ndarray
    lowest: np.ndarray
    stopped_by: np.ndarray
    names: tuple[str, ...]


def closing(z: np.ndarray, f: np.ndarray, parts: tuple[Part, ...], blocked_end: bool = False,
            obstacles: tuple[tuple[str, np.ndarray, np.ndarray], ...] = (),
            limit: tuple[str, float] | None = None, top: float = 0.0) -> Closing:  # fmt: skip
    """The closing of the outline (z, f).

    blocked_end: the end near the chuck is solid, a blind hole. obstacles: name, z and height of what else the tool must
    not touch. limit: name and the least p that the tool gets to; beyond it the tool stays at `top`.
    """
    z, f, p = samples(z, f, parts, blocked_end)
    names = [part.name for part in parts] + [name for name, *_ in obstacles] + ([limit[0]] if limit else [])
    held_up = _held_up(z, f, p, parts, obstacles, limit, top)
    more = _between(p, held_up.max(axis=0), np.ones(p.size, dtype=bool), float(z[-1] - z[0]))
    if more.size:
        order = np.argsort(np.concatenate([p, more]), kind="stable")
        extra = _held_up(z, f, more, parts, obstacles, limit, top)
        p, held_up = np.concatenate([p, more])[order], np.hstack([held_up, extra])[:, order]
    g = held_up.max(axis=0)
    # Where several pieces touch at once, the last named is the more telling: the nose nearly always touches too.
    touching = held_up >= g - 1e-6
    holder = len(names) - 1 - np.argmax(touching[::-1], axis=0)
    left, formed = _left(parts, p, g, z)
    more = _between(z, left, left > f + TINY, float(z[-1] - z[0]))
    if more.size:
        order = np.argsort(np.concatenate([z, more]), kind="stable")
        f = np.concatenate([f, np.interp(more, z, f)])[order]
        extra, by = _left(parts, p, g, more)
        z, left = np.concatenate([z, more])[order], np.concatenate([left, extra])[order]
        formed = np.concatenate([formed, by])[order]
    held = np.zeros(z.size, dtype=int)
    for k, part in enumerate(parts):
        mine = np.flatnonzero((formed == k) & (left > f + TINY))
        place = left_by(part, p, g, z[mine], True)[1]
        # Where the tool stands low enough but no nearer, the thing that matters holds it one place further on.
        near = np.clip(place + np.sign(z[mine] - p[place]).astype(int), 0, p.size - 1)
        words = np.array(names)
        other = ~np.isin(words[holder[near]], CUTTING) & np.isin(words[holder[place]], CUTTING)
        held[mine] = holder[np.where(other, near, place)]
    # Over a level, an arc dips a hair between two points; its lowest point is never below the outline under it.
    path = np.maximum(g, np.interp(p, z, f, -np.inf, -np.inf))
    return Closing(z, f, np.maximum(left, f), formed, held, p, path, holder, tuple(names))


def _held_up(z: np.ndarray, f: np.ndarray, p: np.ndarray, parts: tuple[Part, ...],
             obstacles: tuple[tuple[str, np.ndarray, np.ndarray], ...], limit: tuple[str, float] | None,
             top: float) -> np.ndarray:  # fmt: skip
    """A row for every piece of the tool and everything else in its way: how low it lets the tool come at each p."""
    rows = [lowest(part, z, f, p) for part in parts]
    rows += [np.max([lowest(part, where, high, p) for part in parts], axis=0) for _, where, high in obstacles]
    return np.stack(rows + ([np.where(p < limit[1] - HAIR, top, -np.inf)] if limit else []))


def _left(parts: tuple[Part, ...], p: np.ndarray, g: np.ndarray, z: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """What the whole tool leaves at each z, and the number of the piece that forms it."""
    # A shank or a bar keeps the tool up but cuts nothing.
    best = np.array([left_by(part, p, g, z)[0] if part.name in CUTTING else np.full(z.size, np.inf) for part in parts])
    for k, part in enumerate(parts):
        if part.name in ("back", "front"):
            best[k] = np.minimum(best[k], _trace(part, p, g, z))
    formed = np.argmin(best, axis=0)
    return best[formed, np.arange(z.size)], formed


def _trace(part: Part, p: np.ndarray, g: np.ndarray, z: np.ndarray) -> np.ndarray:
    """What the far end of an edge leaves as it travels: along a slope it is a point, and places alone leave ripples."""
    far = part.end if part.end > -part.start else part.start
    x, y = p + far, g + part.over(np.array(far))
    piece = np.clip(np.searchsorted(x, z) - 1, 0, x.size - 2)
    run, rise = np.diff(x)[piece], np.diff(y)[piece]
    with np.errstate(divide="ignore", invalid="ignore"):
        found = y[piece] + rise / run * (z - x[piece])
    # Where the tool leaps, at a wall or an obstacle, there is no travel between.
    return np.where((z >= x[0]) & (z <= x[-1]) & (np.abs(rise) < 6.0 * run), found, np.inf)


def _between(x: np.ndarray, y: np.ndarray, worth: np.ndarray, length: float) -> np.ndarray:
    """More points where an outline bends between points far apart, as where an edge's line meets a floor."""
    run = np.diff(x)
    with np.errstate(invalid="ignore"):
        slope = np.diff(y) / np.maximum(run, HAIR)
        bend = np.concatenate([[0.0], np.abs(np.diff(slope)), [0.0]])
    wide = (run > length / 1000) & (worth[:-1] | worth[1:]) & (np.maximum(bend[:-1], bend[1:]) * run > MISS)
    where = np.flatnonzero(wide)[:400]
    where = where[np.isfinite(slope[where])]
    return np.unique(x[where, None] + run[where, None] * np.linspace(0, 1, 18)[1:-1])


def samples(z: np.ndarray, f: np.ndarray, parts: tuple[Part, ...], blocked_end: bool) -> tuple[
        np.ndarray, np.ndarray, np.ndarray]:  # fmt: skip
    """The points of the outline, their heights, and the places for the tool."""
    nose = max((part.radius for part in parts), default=0.0)
    length = float(z[-1] - z[0])
    walls = np.diff(z) == 0.0
    # A wall's top moves a hair into the material, on the side where it stands.
    z = z.copy()
    rise = np.diff(f)
    for i in np.flatnonzero(walls):
        if rise[i] > 0:
            z[i + 1] += HAIR
        else:
            z[i] -= HAIR
    z = np.maximum.accumulate(z)
    at = z[_corners(z, f)]
    # Along an arc that begins upright at a corner, the spacing is fine where the arc is steep.
    few = int(np.clip(6000 / at.size, 4, 24))
    near = nose * (1.0 - np.cos(np.linspace(0.0, np.pi / 2, few)))
    spread = np.concatenate([-near[:0:-1], near])
    even = _apart(np.linspace(z[0], z[-1], COARSE), z, length / (2 * COARSE))
    fine = _sloped(z, f, max(min(nose / 8, 0.06 * nose**0.5), length / 3000)) if nose > 0 else np.empty(0)
    new = np.concatenate([(at[:, None] + spread).ravel(), even, fine])
    new = _apart(new[(new > z[0]) & (new < z[-1])], z, length * 1e-6)
    heights = np.interp(new, z, f)
    order = np.argsort(np.concatenate([z, new]), kind="stable")
    where, high = np.concatenate([z, new])[order], np.concatenate([f, heights])[order]
    ends = np.array(sorted({side for part in parts for side in (part.start, part.end)}))
    centers = np.array(sorted({part.center for part in parts if part.radius > 0}))
    off = np.concatenate([ends, *(center + nose * np.linspace(-1, 1, few + 9) for center in centers)])
    # Beyond both ends there is nothing: the nose may run out over them.
    before, behind = extent(parts)
    places = np.concatenate([where, (at[:, None] - off).ravel(), *_touching(where, high, parts)])
    low = where[0] if blocked_end else where[0] - behind - HAIR
    places = places[(places >= low) & (places <= where[-1] + before + HAIR)]
    return where, high, np.unique(places)


def _touching(z: np.ndarray, f: np.ndarray, parts: tuple[Part, ...]) -> list[np.ndarray]:
    """Places from which an arc touches both ends of a steep slope, or a sharp corner any slope, where it begins."""
    angle = np.arctan2(np.diff(f), np.diff(z))
    sloped = (np.abs(angle) > 1e-9) & (np.diff(z) > 2 * HAIR)
    arcs = [part for part in parts if part.radius > 0]
    if not arcs:
        ends = z[np.concatenate([[True], sloped]) | np.concatenate([sloped, [True]])]
        return [(ends[:, None] - [part.start, part.end]).ravel() for part in parts if part.name == "floor"]
    found = []
    for part in arcs:
        # One nose alone is never far from a place that is there already, unless the slope is steep.
        which = np.flatnonzero(sloped & ((np.abs(angle) > STEEP) | (part.center * angle > 0)))
        off = part.center + part.radius * np.sin(angle[which])
        # The far end of a piece counts where the next one does not begin there nearly at the same angle.
        bends = np.ones(which.size, dtype=bool)
        bends[:-1] = (np.abs(np.diff(angle[which])) > CORNER) | (np.diff(which) > 1)
        found += [z[which] - off, (z[which + 1] - off)[bends]]
    return found


def _apart(new: np.ndarray, kept: np.ndarray, least: float) -> np.ndarray:
    """The new points that are not as good as there already, thinned evenly where they are too many."""
    new = np.unique(new)
    near = np.searchsorted(kept, new)
    gap = np.minimum(np.abs(new - kept[np.minimum(near, kept.size - 1)]), np.abs(new - kept[np.maximum(near - 1, 0)]))
    new = new[gap > max(least, 4 * HAIR)]
    return new if new.size <= MOST_SAMPLES else new[:: new.size // MOST_SAMPLES + 1]


def _corners(z: np.ndarray, f: np.ndarray) -> np.ndarray:
    """The points where the outline bends or a wall begins, both ends among them."""
    angle = np.arctan2(np.diff(f), np.diff(z))
    wall = np.diff(z) <= 2 * HAIR
    return np.concatenate([[True], (np.abs(np.diff(angle)) > CORNER) | wall[:-1] | wall[1:], [True]])


def _sloped(z: np.ndarray, f: np.ndarray, step: float) -> np.ndarray:
    """Points along every slope that are at most a step apart; a level piece and a wall need none."""
    run, rise = np.diff(z), np.diff(f)
    count = np.where((run > step) & (np.abs(rise) > 1e-12), np.minimum(np.ceil(run / step), 4000), 1).astype(int)
    piece = np.repeat(np.arange(run.size), count)
    share = (np.arange(piece.size) - np.repeat(np.cumsum(count) - count, count)) / count[piece]
    return z[:-1][piece] + share * run[piece]


def lowest(part: Part, z: np.ndarray, f: np.ndarray, p: np.ndarray) -> np.ndarray:
    """The height to which one piece lets the tool come down at each p; minus infinity where it has nothing below."""
    low = np.searchsorted(z, p + part.start - HAIR / 2, "left")
    high = np.searchsorted(z, p + part.end + HAIR / 2, "right")
    if part.radius == 0.0:
        values = f - part.slope * z
        best = _largest(values, low, high)
        return np.where(best >= 0, values[best] + part.slope * p - part.height, -np.inf)
    found = np.full(p.size, -np.inf)
    for some, first, owner, index in _pairs(low, high):
        found[some] = np.maximum.reduceat(f[index] - part.over(z[index] - p[owner]), first)
    return found


def left_by(part: Part, p: np.ndarray, g: np.ndarray, z: np.ndarray, place: bool = False) -> tuple[
        np.ndarray, np.ndarray]:  # fmt: skip
    """What one piece leaves at each z with the tool as low as g(p), infinity where it never is; and from which p."""
    low = np.searchsorted(p, z - part.end - HAIR / 2, "left")
    high = np.searchsorted(p, z - part.start + HAIR / 2, "right")
    if part.radius == 0.0:
        values = g - part.slope * p
        best = _largest(-values, low, high)
        return np.where(best >= 0, values[best] + part.slope * z + part.height, np.inf), best
    left, best = np.full(z.size, np.inf), np.zeros(z.size, dtype=int)
    for some, first, owner, index in _pairs(low, high):
        values = g[index] + part.over(z[owner] - p[index])
        left[some] = np.minimum.reduceat(values, first)
        if place:
            best[some] = np.maximum.reduceat(np.where(values == left[owner], index, -1), first)
    return left, best


def _pairs(low: np.ndarray, high: np.ndarray):  # type: ignore[no-untyped-def]
    """Every owner with each index from its low up to its high, in blocks: the owners that have any, where each
    one's list begins, and owner and index of every pair."""
    count = np.maximum(high - low, 0)
    total = np.cumsum(count)
    start = 0
    while start < count.size:
        done = total[start - 1] if start else 0
        stop = max(start + 1, int(np.searchsorted(total, done + BLOCK, "right")))
        some = start + np.flatnonzero(count[start:stop])
        if some.size:
            owner = np.repeat(some, count[some])
            first = np.cumsum(count[some]) - count[some]
            yield some, first, owner, np.arange(owner.size) - np.repeat(first - low[some], count[some])
        start = stop


def _largest(values: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """The index of the largest value from low up to high, for many ranges at once; -1 for an empty range."""
    count = high - low
    longest = int(count.max(initial=0))
    if longest <= 0:
        return np.full(low.size, -1)
    rows = [np.arange(values.size)]
    while 2 ** len(rows) <= longest:
        one, half = rows[-1], 2 ** (len(rows) - 1)
        a, b = one[:-half], one[half:]
        rows.append(np.where(values[a] >= values[b], a, b))
    level = np.zeros(low.size, dtype=int)
    full = count > 0
    level[full] = np.log2(count[full]).astype(int)
    best = np.full(low.size, -1)
    for k in np.unique(level[full]):
        mine = np.flatnonzero(full & (level == k))
        a, b = rows[k][low[mine]], rows[k][high[mine] - 2**k]
        best[mine] = np.where(values[a] >= values[b], a, b)
    return best
