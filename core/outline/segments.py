"""Lines and arcs as arrays: the formulas that everything drawn here rests on.

A segment runs from starts[i] to ends[i]; its bulge is explained in core/outline/loop.py. The
well-conditioned quantities are the chord c and half the sweep h = 2 atan(bulge): radius and centre
lose their digits when an arc is nearly straight, so they are asked for only where a file needs them.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

#: rad; below it (h - sin h cos h) / sin^2 h loses more digits than its series 2h/3 leaves out.
SERIES_BELOW = 2e-4


@dataclass(frozen=True, eq=False)
class Segments:
    """starts (n, 2) mm, ends (n, 2) mm, bulges (n,)."""

    starts: Floats
    ends: Floats
    bulges: Floats

    @classmethod
    def between(cls, points: Floats, bulges: Floats) -> Self:
        """The segments of a closed chain: points (n, 2), bulges (n,), the last back to the first."""
        return cls(
            points, np.concatenate((points[1:], points[:1])), bulges
        )  # np.roll takes five times as long

    @classmethod
    def along(cls, points: Floats, bulges: Floats) -> Self:
        """The segments of an open chain: points (n + 1, 2), bulges (n,)."""
        return cls(points[:-1], points[1:], bulges)

    def __len__(self) -> int:
        return int(self.bulges.size)

    def chords(self) -> Floats:
        """(n, 2) mm, end minus start."""
        return self.ends - self.starts

    def chord_lengths(self) -> Floats:
        """(n,) mm."""
        return np.asarray(np.hypot(*self.chords().T))

    def half_sweeps(self) -> Floats:
        """(n,) rad, half the angle each arc turns through, positive counter-clockwise."""
        return 2.0 * np.arctan(self.bulges)

    def lengths(self) -> Floats:
        """(n,) mm along the segment: chord h / sin h."""
        return np.asarray(self.chord_lengths() / np.sinc(self.half_sweeps() / np.pi))

    def radii(self) -> Floats:
        """(n,) mm, positive; infinite for a line."""
        twice_sine = 2.0 * np.sin(np.abs(self.half_sweeps()))
        curved = twice_sine > 0.0
        with np.errstate(over="ignore"):  # a radius of more than 1e308 mm is that of a line
            radii = self.chord_lengths() / np.where(curved, twice_sine, 1.0)
        return np.asarray(np.where(curved, radii, np.inf))

    def centres(self) -> Floats:
        """(n, 2) mm; not finite for a line (c turned by + 90 deg, times (1 - b^2) / 4b)."""
        chords, bulges = self.chords(), self.bulges
        left = np.column_stack((-chords[:, 1], chords[:, 0]))
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = (1.0 - bulges**2) / (4.0 * bulges)
            return np.asarray((self.starts + self.ends) / 2.0 + left * reach[:, None])

    def cap_areas(self) -> Floats:
        """(n,) mm2 between arc and chord, positive where the arc bulges to the right of its chord."""
        half, chord = self.half_sweeps(), self.chord_lengths()
        small = np.abs(half) < SERIES_BELOW
        safe = np.where(small, 1.0, half)
        exact = (safe - np.sin(safe) * np.cos(safe)) / (4.0 * np.sin(safe) ** 2)
        return np.asarray(chord**2 * np.where(small, half / 6.0, exact))

    def points_at(self, fractions: Floats) -> Floats:
        """(n, 2) mm at a fraction (n,) of each segment's sweep: chord sin(t h) / sin h, turned (t - 1) h."""
        half = self.half_sweeps()
        share = fractions * np.sinc(fractions * half / np.pi) / np.sinc(half / np.pi)
        turn = (fractions - 1.0) * half
        cos, sin = np.cos(turn), np.sin(turn)
        chords = self.chords()
        x = cos * chords[:, 0] - sin * chords[:, 1]
        y = sin * chords[:, 0] + cos * chords[:, 1]
        return np.asarray(self.starts + share[:, None] * np.column_stack((x, y)))

    def midpoints(self) -> Floats:
        """(n, 2) mm half-way along."""
        return self.points_at(np.full(len(self), 0.5))

    def headings_at(self, fractions: Floats) -> Floats:
        """(n,) rad, the direction of travel at a fraction (n,) of each segment's sweep."""
        chords = self.chords()
        return np.asarray(
            np.arctan2(chords[:, 1], chords[:, 0]) + (2.0 * fractions - 1.0) * self.half_sweeps()
        )

    def turning_points(self) -> Floats:
        """(m, 2) mm where an arc turns back in x or y: within h of its chord's heading."""
        half = self.half_sweeps()
        chords = self.chords()
        heading = np.arctan2(chords[:, 1], chords[:, 0])
        axes = np.arange(4) * (np.pi / 2.0)
        off = (axes[None, :] - heading[:, None] + np.pi) % (2.0 * np.pi) - np.pi
        rows, columns = np.nonzero((np.abs(off) < np.abs(half)[:, None]) & (half != 0.0)[:, None])
        picked = Segments(self.starts[rows], self.ends[rows], self.bulges[rows])
        return picked.points_at(0.5 + off[rows, columns] / (2.0 * half[rows]))

    def steps(self, tolerance: float) -> NDArray[np.int64]:
        """(n,) chords that keep each arc within tolerance mm: by the sagitta r (1 - cos(a / 2))."""
        sweep = 2.0 * np.abs(self.half_sweeps())
        ratio = np.clip(tolerance / np.maximum(self.radii(), tolerance), 0.0, 1.0)
        step = 2.0 * np.arccos(1.0 - ratio)
        curved = sweep > 0.0
        wanted = np.where(curved, np.ceil(sweep / np.where(curved, np.maximum(step, 1e-9), 1.0)), 1.0)
        return np.maximum(wanted, 1.0).astype(np.int64)

    def corners(self, tolerance: float) -> Floats:
        """(m, 2) mm: every segment's start and what its arc needs to stay within tolerance."""
        counts = self.steps(tolerance)
        rows = np.repeat(np.arange(len(self)), counts)
        within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
        picked = Segments(self.starts[rows], self.ends[rows], self.bulges[rows])
        return picked.points_at(within / counts[rows])

    def reversed(self) -> "Segments":
        """The same segments, last first, each run the other way."""
        return Segments(self.ends[::-1], self.starts[::-1], -self.bulges[::-1])
