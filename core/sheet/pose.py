"""Where a sheet lies on the machine, found from marks that were read there; and how well readings agree.

In the complex plane a rigid motion is z -> turn z + shift with |turn| = 1. With both sets about their means
the best turn (least squares) is the phase of sum(conj(meant) read), the best scale its size over
sum(|meant|^2) (closed form; the two-dimensional case of Kabsch, 1976).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin

import numpy as np
from numpy.typing import NDArray

from core.findings import Finding, Level, Point
from core.outline.segments import Floats

Complexes = NDArray[np.complex128]

#: Two readings whose distance is off by more than both of these are not of these marks (bench practice).
LARGEST_MISS_MM, LARGEST_MISS_SHARE = 0.3, 0.003
#: rad; a sheet turned farther is more likely two marks taken for each other, unless a third mark agrees.
LARGEST_UNCHECKED_TURN = np.pi / 4.0


@dataclass(frozen=True)
class Pose:
    """A point p, mm from the work zero, lies at R(turn) p + shift by the controller's numbers; rad, mm."""

    turn: float = 0.0
    shift: Point = (0.0, 0.0)

    def of(self, points: Floats) -> Floats:
        """(n, 2) mm by the controller's numbers, from points (n, 2) mm from the work zero."""
        c, s = cos(self.turn), sin(self.turn)
        x, y = points[:, 0], points[:, 1]
        return np.column_stack((c * x - s * y + self.shift[0], s * x + c * y + self.shift[1]))


@dataclass(frozen=True)
class Agreement:
    """How marks as meant and as read agree: the best pose, and the scale that would fit best besides.

    misses_mm: how far each reading is from its mark under the pose; edge_mm: how far the worst of the asked
    places would still be off, for the scale that is not made good and for the readings' own scatter.
    """

    pose: Pose
    scale: float
    misses_mm: tuple[float, ...]
    edge_mm: float


def agreement(meant: Sequence[Point], read: Sequence[Point], edge: Sequence[Point] = ()) -> Agreement:
    """Of two or more marks with their readings; edge: places where it matters, in the marks' coordinates."""
    one, other = _complex(meant), _complex(read)
    middle, found = one.mean(), other.mean()
    product = np.sum(np.conj(one - middle) * (other - found))
    spread = float(np.sum(np.abs(one - middle) ** 2))
    turn = float(np.angle(product))
    shift = found - np.exp(1j * turn) * middle
    misses = np.abs(other - np.exp(1j * turn) * one - shift)
    scale = float(np.abs(product)) / spread
    scatter = _scatter(one, other, scale * np.exp(1j * turn))
    levers = np.abs(_complex(edge) - middle)
    left = np.abs(scale - 1.0) * levers + scatter * np.sqrt(1.0 / one.size + levers**2 / spread)
    return Agreement(
        Pose(turn, (float(shift.real), float(shift.imag))),
        scale,
        tuple(misses.tolist()),
        float(left.max(initial=0.0)),
    )


def _complex(points: Sequence[Point]) -> Complexes:
    return np.array([complex(x, y) for x, y in points], dtype=complex)


def _scatter(meant: Complexes, read: Complexes, factor: complex) -> float:
    """Standard deviation, mm, of one coordinate of a reading; 2 n numbers less the four that were fitted."""
    free = 2 * meant.size - 4
    if free <= 0:
        return 0.0
    left = (read - read.mean()) - factor * (meant - meant.mean())
    return float(np.sqrt(np.sum(np.abs(left) ** 2) / free))


def predicted_error(meant: Sequence[Point], place: Point, noise_mm: float) -> float:
    """Root mean square error, mm, at a place for readings with noise_mm on each coordinate.

    Of a fitted pose: the shift is off by noise sqrt(2 / n), the turn by noise / sqrt(sum r2).
    """
    marks = _complex(meant)
    lever = abs(complex(*place) - complex(marks.mean()))
    spread = float(np.sum(np.abs(marks - marks.mean()) ** 2))
    return float(noise_mm * np.sqrt(2.0 / marks.size + lever**2 / spread))


def found_pose(meant: Sequence[Point], read: Sequence[Point]) -> tuple[Pose | None, tuple[Finding, ...]]:
    """The pose from two or more readings in the order of the marks; None, with a stop, when they disagree.

    meant: mm from the work zero. Two readings give the pose; what more there are check it, and refine it.
    """
    if len(read) > len(meant):
        return None, (_too_many(len(read), len(meant)),)
    used = meant[: len(read)]
    wrong = _wrong_distance(used, read)
    if wrong is not None:
        return None, (wrong,)
    best = agreement(used, read)
    if len(read) == 2:
        return _unchecked(best.pose)
    if max(best.misses_mm) > _allowed(_longest(used)):
        return None, (_turned_over(),)
    return best.pose, ()


def _unchecked(pose: Pose) -> tuple[Pose | None, tuple[Finding, ...]]:
    if abs(pose.turn) > LARGEST_UNCHECKED_TURN:
        return None, (_far_turned(pose.turn),)
    return pose, (_no_check(),)


def _allowed(distance: float) -> float:
    return max(LARGEST_MISS_MM, LARGEST_MISS_SHARE * distance)


def _longest(points: Sequence[Point]) -> float:
    marks = _complex(points)
    return float(np.abs(marks[:, None] - marks[None, :]).max())


def _wrong_distance(meant: Sequence[Point], read: Sequence[Point]) -> Finding | None:
    one, other = _complex(meant), _complex(read)
    for first in range(one.size):
        for second in range(first + 1, one.size):
            wanted, got = abs(one[second] - one[first]), abs(other[second] - other[first])
            if abs(got - wanted) > _allowed(float(wanted)):
                return _finding(
                    f"Marks {first + 1} and {second + 1} are {wanted:.2f} mm apart, and {got:.2f} by the "
                    f"readings: {abs(got - wanted):.2f} mm off.",
                    "Read them again, in the order of the drawing, from the middle of each mark.",
                )
    return None


def _finding(text: str, remedy: str) -> Finding:
    return Finding(Level.STOP, "readings-disagree", text, remedy)


def _turned_over() -> Finding:
    return _finding(
        "The readings fit the marks only turned over, or one mark was taken for another.",
        "Look which mark is which, and whether the film lies face up; then read them again.",
    )


def _far_turned(turn: float) -> Finding:
    return _finding(
        f"By these two readings the sheet is turned by {np.degrees(turn):.0f}°: marks 1 and 2 may be taken "
        "for each other.",
        "Read the third mark too, or lay the sheet straighter.",
    )


def _too_many(read: int, meant: int) -> Finding:
    text = f"{read} readings were given for {meant} marks."
    return _finding(text, "Give one reading for each mark, in order.")


def _no_check() -> Finding:
    return Finding(
        Level.CAUTION,
        "third-mark-unread",
        "The sheet was found by two marks, and nothing checks them: a film turned over is not seen.",
        "Jog over the third mark before you cut: the controller must show what the job sheet says.",
    )
