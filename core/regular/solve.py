"""One small constrained least squares: the edge as near as can be to where it was, all relations holding.

The values are x and y of every joint, a bulge for every segment, and the angle and offset of an axis.
Minimised is the sum over places along the edge of (how far it is from the segment now)^2 over its noise^2,
each place standing for as much length; joints may slide along the edge almost freely. Sequential quadratic
steps: with H the Gauss-Newton matrix and J the relations' slopes, (H J'; J -d) (step, multipliers) =
(-gradient, -off), where a small d lets relations repeat one another; then relations alone, by least
squares, until they hold to rounding.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.curve import picked, sideways
from core.outline.segments import Floats, Segments
from core.regular.frame import Frame
from core.regular.relation import STEP, Relations

#: Places along a segment that hold it where it was.
PLACES = 7
#: Weight of a joint's own place against that of its edges: it may slide.
SLIDING = 0.1
#: px; weight of the axis, which nothing but its relations hold.
AXIS_HELD = 1e-6
#: Lets relations that repeat one another be solved; polished away afterwards.
GIVING = 1e-9
#: The same for those steps by relations alone.
REPEATED = 1e-12
#: Steps of both kinds, and px below which a step of each is none.
STEPS, NEARLY, POLISHES, SETTLED = 8, 1e-4, 8, 1e-11
#: px, and share of a bulge, that one step may change at most; no bulge counts as less than this.
MOST_STEP, MOST_BEND, LEAST_BULGE = 2.0, 0.3, 0.01


@dataclass(frozen=True, eq=False)
class Solved:
    """points (p, 2) px, bulges (s,), and all values, to be asked which relations hold."""

    points: Floats
    bulges: Floats
    values: Floats


class Values:
    """Where each number stands among the values of a Frame."""

    def __init__(self, frame: Frame, axis: tuple[float, float]) -> None:
        self.frame = frame
        self.points = 2 * len(frame.points)
        self.count = self.points + len(frame.bulges) + 2
        self.first = np.concatenate((frame.points.ravel(), frame.bulges, axis))

    def segment(self, rows: np.ndarray) -> np.ndarray:
        """(m, 5) the five numbers of each segment."""
        tails, heads = 2 * self.frame.tails[rows], 2 * self.frame.heads[rows]
        return np.column_stack((tails, tails + 1, heads, heads + 1, self.points + rows))

    def joint(self, rows: np.ndarray) -> np.ndarray:
        """(m, 2) x and y of each joint."""
        return np.column_stack((2 * rows, 2 * rows + 1))

    def axis(self, count: int) -> np.ndarray:
        """(count, 2) angle and offset of the axis."""
        return np.tile([self.count - 2, self.count - 1], (count, 1))

    def segments(self, values: Floats) -> Segments:
        """All segments."""
        points = values[: self.points].reshape(-1, 2)
        bulges = values[self.points : self.count - 2]
        return Segments(points[self.frame.tails], points[self.frame.heads], bulges)


def solved(values: Values, relations: list[Relations], free: np.ndarray) -> Solved:
    """The values nearest to the first at which all relations hold; free (s,): bulges that may change."""
    relations = Relations.joined(relations)
    now: Floats = values.first.copy()
    may = np.ones(values.count, dtype=bool)
    may[values.points : values.count - 2] = free
    pull = Pull.of(values)
    for _ in range(STEPS):
        step = _damped(_step(pull, now, relations, may), values, now, may)
        now[may] += step
        if np.abs(step).max(initial=0.0) < NEARLY:
            break
    for _ in range(POLISHES):
        step = _damped(_back_on(now, relations, may), values, now, may)
        now[may] += step
        if np.abs(step).max(initial=0.0) < SETTLED:
            break
    points = now[: values.points].reshape(-1, 2)
    bulges = now[values.points : values.count - 2]
    return Solved(points, bulges, now)


def _back_on(now: Floats, relations: list[Relations], may: np.ndarray) -> Floats:
    """The shortest step after which all relations hold, as far as their slopes say."""
    off, slopes = _told(now, relations)
    slopes = slopes[:, may]
    square = slopes @ slopes.T
    square[np.diag_indices_from(square)] += REPEATED * max(1.0, float(np.trace(square)) / len(square))
    return np.asarray(slopes.T @ np.linalg.solve(square, -off))


def _damped(step: Floats, values: Values, now: Floats, may: np.ndarray) -> Floats:
    """The step, or so much of it as leaves slopes what they are: arcs must not turn inside out."""
    whole = np.zeros(values.count)
    whole[may] = step
    bulges = slice(values.points, values.count - 2)
    room = MOST_BEND * np.maximum(np.abs(now[bulges]), LEAST_BULGE)
    shares = (
        np.abs(whole[: values.points]).max() / MOST_STEP,
        (np.abs(whole[bulges]) / room).max(initial=0.0),
    )
    return np.asarray(step / max(1.0, *shares))


def _told(now: Floats, relations: list[Relations]) -> tuple[Floats, Floats]:
    off = np.concatenate([one.off(now) for one in relations])
    return off, np.vstack([one.slopes(now) for one in relations])


def _step(pull: "Pull", now: Floats, relations: list[Relations], may: np.ndarray) -> Floats:
    gradient, matrix = pull.at(now)
    off, slopes = _told(now, relations)
    slopes = slopes[:, may]
    count, held = int(may.sum()), len(off)
    whole = np.zeros((count + held, count + held))
    whole[:count, :count] = matrix[np.ix_(may, may)]
    whole[:count, count:] = slopes.T
    whole[count:, :count] = slopes
    whole[count:, count:] = -GIVING * np.eye(held)
    right = np.concatenate((-gradient[may], -off))
    return np.asarray(np.linalg.solve(whole, right)[:count])


@dataclass(frozen=True, eq=False)
class Pull:
    """Places (n, 2) along the edge as it was, the segment (n,) of each and its weight (n,)."""

    values: Values
    places: Floats
    rows: np.ndarray
    weight: Floats

    @classmethod
    def of(cls, values: Values) -> "Pull":
        """Every place stands for as much length of edge as there is between two."""
        frame = values.frame
        segments = frame.segments()
        rows = np.repeat(np.arange(len(segments)), PLACES)
        shares = np.tile((np.arange(PLACES) + 0.5) / PLACES, len(segments))
        length = np.maximum(segments.lengths(), 1.0) / PLACES
        weight = (length / frame.noise**2)[rows]
        return cls(values, picked(segments, rows).points_at(shares), rows, weight)

    def at(self, now: Floats) -> tuple[Floats, Floats]:
        """Gradient (v,) and Gauss-Newton matrix (v, v) of the sum of squares."""
        where = self.values.segment(self.rows)
        local = now[where]
        off = self._off(local)
        slopes = np.stack([self._slope(local, slot) for slot in range(5)], axis=1)
        gradient = np.zeros(self.values.count)
        np.add.at(gradient, where, (self.weight * off)[:, None] * slopes)
        matrix = np.zeros((self.values.count, self.values.count))
        products = self.weight[:, None, None] * slopes[:, :, None] * slopes[:, None, :]
        np.add.at(matrix, (where[:, :, None], where[:, None, :]), products)
        held = np.full(self.values.count, SLIDING / np.median(self.values.frame.noise) ** 2)
        held[-2:] = AXIS_HELD
        gradient += held * (now - self.values.first)
        return gradient, matrix + np.diag(held)

    def _off(self, local: Floats) -> Floats:
        return sideways(Segments(local[:, :2], local[:, 2:4], local[:, 4]), self.places)

    def _slope(self, local: Floats, slot: int) -> Floats:
        ahead, behind = local.copy(), local.copy()
        ahead[:, slot] += STEP
        behind[:, slot] -= STEP
        return np.asarray((self._off(ahead) - self._off(behind)) / (2.0 * STEP))
