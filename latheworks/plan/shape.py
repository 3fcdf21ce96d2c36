"""The shape of a workpiece on plain floats: pieces along the axis, straight between their ends, outside and inside.

Every cut only takes away, so a cut is: the outside lowered to a line over a stretch, the inside raised to one, or an
end taken off. Lengths in mm, z as in `Part`.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from latheworks.plan.feature import PlainFeature

Floats = NDArray[np.float64]
SAME = 1e-9


@dataclass(frozen=True, eq=False)
class Shape:
    """A workpiece: z, the places where pieces meet [n + 1]; radii at the start (0) and end (1) of each piece [n, 2]."""

    z: Floats
    outer: Floats
    inner: Floats

    @classmethod
    def bar(cls, start: float, end: float, radius: float, bore: float) -> Shape:
        """A plain bar or tube from start to end; radius and bore are radii."""
        return cls(np.array([start, end]), np.array([[radius, radius]]), np.array([[bore, bore]]))

    @property
    def start(self) -> float:
        """Where it begins [mm]."""
        return float(self.z[0])

    @property
    def end(self) -> float:
        """Where it ends [mm]."""
        return float(self.z[-1])

    @property
    def length(self) -> float:
        """From end to end [mm]."""
        return float(self.z[-1] - self.z[0])

    @property
    def wall(self) -> Floats:
        """What stands between outside and inside at both ends of each piece, flat [2 n]; z is `places`."""
        return np.asarray((self.outer - self.inner).min(axis=1))

    def key(self) -> bytes:
        """The same bytes for the same shape, to a nanometer: for caches."""
        parts = (np.round(each, 6).tobytes() for each in (self.z, self.outer, self.inner))
        return b"|".join(parts)

    def split_at(self, places: Any) -> Shape:
        """The same shape with pieces that also end at these places; places outside it are left out."""
        known = self.z.tolist()
        count = len(known)
        for place in np.ravel(places).tolist():
            i = bisect_left(known, place)
            if 0 < i < len(known) and place - known[i - 1] > SAME and known[i] - place > SAME:
                known.insert(i, place)
        if len(known) == count:
            return self
        z = np.array(known)
        return Shape(z, self.between(z, self.outer), self.between(z, self.inner))

    def between(self, z: Floats, radii: Floats) -> Floats:
        """Radii at both ends of the pieces of a finer z, from the pieces that they lie in [n, 2]."""
        i = np.searchsorted(self.z[1:-1], (z[1:] + z[:-1]) / 2, side="right")
        start, first = self.z[i], radii[i, 0]
        slope = (radii[i, 1] - first) / (self.z[i + 1] - start)
        return np.array((first + slope * (z[:-1] - start), first + slope * (z[1:] - start))).T

    def cut(self, start: float, end: float, first: float, last: float, inside: bool) -> Shape:
        """The shape after a cut from start to end down to radius first at its start and last at its end.

        Nothing is ever put back: outside the lower radius stays, inside the larger one.
        """
        lean = (last - first) / (end - start) if end > start else 0.0
        low, high = max(start, self.start), min(end, self.end)
        if high - low <= SAME:
            return self
        fine = self.split_at([low, high])
        for _ in range(2):
            i, j = np.searchsorted(fine.z, (low - SAME, high - SAME))
            mine = fine.inner if inside else fine.outer
            line = first + lean * (fine.z[i : j + 1] - start)
            near, far = mine[i:j, 0] - line[:-1], mine[i:j, 1] - line[1:]
            # A taper may come through the surface that is there: a piece more where it does, and once more.
            through = near * far < -(SAME**2)
            if not through.any():
                break
            share = near[through] / (near[through] - far[through])
            fine = fine.split_at(fine.z[i:j][through] + share * np.diff(fine.z[i : j + 1])[through])
        i, j = np.searchsorted(fine.z, (low - SAME, high - SAME))
        line = first + lean * (fine.z[i : j + 1] - start)
        new = (fine.inner if inside else fine.outer).copy()
        lower = np.maximum if inside else np.minimum
        new[i:j, 0], new[i:j, 1] = lower(new[i:j, 0], line[:-1]), lower(new[i:j, 1], line[1:])
        return Shape(fine.z, fine.outer, new) if inside else Shape(fine.z, new, fine.inner)

    def tidy(self) -> Shape:
        """The same shape in as few pieces as there are: neighbors in one line outside and inside are made one.

        So the same shape has the same key, however it was come by.
        """
        if len(self.outer) < 2:
            return self
        long = np.diff(self.z)
        joined = np.ones(len(long) - 1, dtype=bool)
        for side in (self.outer, self.inner):
            slope = (side[:, 1] - side[:, 0]) / long
            joined &= (np.abs(side[:-1, 1] - side[1:, 0]) < 10 * SAME) & (np.abs(np.diff(slope)) < 1e-7)
        if not joined.any():
            return self
        kept = np.flatnonzero(~joined)
        starts, ends = np.concatenate(([0], kept + 1)), np.concatenate((kept, [len(long) - 1]))
        ends_of = [np.array((side[starts, 0], side[ends, 1])).T for side in (self.outer, self.inner)]
        return Shape(np.concatenate((self.z[starts], self.z[-1:])), *ends_of)

    def faced(self, place: float, end: str) -> Shape:
        """The shape with everything before (end "A") or beyond (end "B") a place taken off."""
        if not self.start < place < self.end:
            return self
        fine = self.split_at([place])
        keep = fine.z[:-1] >= place - SAME if end == "A" else fine.z[1:] <= place + SAME
        z = np.concatenate([fine.z[:-1][keep], fine.z[1:][keep][-1:]])
        return Shape(z, fine.outer[keep], fine.inner[keep])

    def with_feature(self, feature: PlainFeature) -> Shape:
        """The shape with one feature cut into it; a thread down to its major diameter outside, its minor inside."""
        shape = self
        for k in range(feature.repeats):
            shift = k * feature.spacing
            shape = shape.cut(feature.start + shift, feature.end + shift, feature.diameter / 2,
                              feature.end_diameter / 2, feature.inside)  # fmt: skip
        return shape

    def pieces(self, start: float, end: float) -> tuple[Floats, Floats, Floats]:
        """Lengths, outside and inside diameters of the pieces between two places, a taper by its mean [mm]."""
        fine = self.split_at([start, end])
        keep = (fine.z[:-1] >= start - SAME) & (fine.z[1:] <= end + SAME)
        return np.diff(fine.z)[keep], 2 * fine.outer[keep].mean(axis=1), 2 * fine.inner[keep].mean(axis=1)

    def largest(self, start: float, end: float) -> float:
        """The largest outside diameter between two places [mm]."""
        fine = self.split_at([start, end])
        keep = (fine.z[:-1] >= start - SAME) & (fine.z[1:] <= end + SAME)
        return 2 * float(fine.outer[keep].max()) if keep.any() else 0.0

    def smallest_bore(self, start: float, end: float) -> float:
        """The smallest inside diameter between two places [mm]; 0 where it is solid."""
        fine = self.split_at([start, end])
        keep = (fine.z[:-1] >= start - SAME) & (fine.z[1:] <= end + SAME)
        return 2 * float(fine.inner[keep].min()) if keep.any() else 0.0

    def volume(self) -> float:
        """What is there [mm^3]: each piece a truncated cone less one."""
        long = np.diff(self.z)

        def cone(r: Floats) -> Floats:
            return np.asarray(np.pi / 3 * long * (r[:, 0] ** 2 + r[:, 0] * r[:, 1] + r[:, 1] ** 2))

        return float(np.sum(cone(self.outer) - cone(self.inner)))
