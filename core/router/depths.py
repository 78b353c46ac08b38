"""Depth along a run: straight lines between knots, drawn as on a strip of paper."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats

#: Rounds at most in one spiral: a tiny contour goes down steeper than the ramp angle rather than longer.
#: The plunge feed still limits how fast it goes down.
MOST_ROUNDS = 40.0


@dataclass(frozen=True, eq=False)
class Depths:
    """distances (n,) mm, rising, and the z (n,) mm there; level before the first and after the last."""

    distances: Floats
    z: Floats

    def at(self, distances: Floats) -> Floats:
        """The z (m,) mm at distances (m,) mm."""
        return np.asarray(np.interp(distances, self.distances, self.z))


def level(first: float, last: float, z: float) -> Depths:
    """The same z from first to last, mm."""
    return Depths(np.array([first, last]), np.array([z, z]))


def higher(a: Depths, b: Depths) -> Depths:
    """At every place the higher of both, over the distances of a, with a knot where they cross."""
    knots = np.union1d(a.distances, b.distances)
    knots = knots[(knots >= a.distances[0]) & (knots <= a.distances[-1])]
    gap = a.at(knots) - b.at(knots)
    crossed = np.flatnonzero(gap[:-1] * gap[1:] < 0.0)
    share = gap[crossed] / (gap[crossed] - gap[crossed + 1])
    found = knots[crossed] + share * (knots[crossed + 1] - knots[crossed])
    every = np.union1d(knots, found)
    return Depths(every, np.maximum(a.at(every), b.at(every)))


@dataclass(frozen=True)
class Drop:
    """From start_z down to the levels (mm, falling), one a round, with slope mm down per mm along."""

    start_z: float
    levels: tuple[float, ...]
    slope: float

    @property
    def last_ramp_mm(self) -> float:
        """How long the ramp to the last level is."""
        above = (self.start_z, *self.levels)[-2]
        return (above - self.levels[-1]) / self.slope


def descent(first: float, length: float, drop: Drop) -> Depths:
    """Down a closed contour of length mm without lifting: a ramp and the rest of the round for each level.

    The next ramp begins where the one before began, so each takes one level's depth; the last level is run
    whole. Where a ramp would be longer than the contour, one spiral takes the place of all.
    """
    heights = (drop.start_z, *drop.levels)
    ramps = -np.diff(heights) / drop.slope
    if ramps.max() >= length:
        return _spiral(first, length, drop)
    begins = first + length * np.arange(len(drop.levels))
    knots = np.column_stack((begins, begins + ramps)).ravel()
    z = np.column_stack((heights[:-1], heights[1:])).ravel()
    return Depths(np.append(knots, knots[-1] + length), np.append(z, z[-1]))


def _spiral(first: float, length: float, drop: Drop) -> Depths:
    fall = drop.start_z - drop.levels[-1]
    slope = max(drop.slope, fall / (MOST_ROUNDS * length))
    bottom = first + fall / slope
    floor = drop.levels[-1]
    return Depths(np.array([first, bottom, bottom + length]), np.array([drop.start_z, floor, floor]))
