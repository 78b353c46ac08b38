"""The flat map between the upright source picture and the squared one: straight lines stay straight.

Both count px from the top left corner of the picture, x right and y down; pixel (row, column) covers the
unit square from (column, row). A homography (R. Hartley, A. Zisserman, "Multiple View Geometry", 2nd ed.,
section 2.3) is all that a flat sheet seen through a lens without distortion needs.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.findings import Point

Floats = npt.NDArray[np.float64]
Rows = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True)
class Plane:
    """rows: the matrix that takes (x, y, 1) of the source to w (x, y, 1) of the squared picture."""

    rows: Rows

    def of(self, point: Point) -> Point:
        """The squared picture's point."""
        return _mapped(self.matrix(), point)

    def back(self, point: Point) -> Point:
        """The source picture's point."""
        return _mapped(np.linalg.inv(self.matrix()), point)

    def many(self, points: Floats) -> Floats:
        """The squared picture's points (n, 2) for as many of the source's."""
        there = np.column_stack((points, np.ones(len(points)))) @ self.matrix().T
        return np.asarray(there[:, :2] / there[:, 2:], dtype=np.float64)

    def scale_at(self, point: Point) -> float:
        """By how much lengths grow at a point of the source picture, both ways taken together."""
        _, _, w = self.matrix() @ np.array([point[0], point[1], 1.0])
        return float(np.sqrt(abs(np.linalg.det(self.matrix())) / abs(w) ** 3))

    def matrix(self) -> Floats:
        """(3, 3)."""
        return np.array(self.rows)

    def then(self, after: "Plane") -> "Plane":
        """Go on with another map."""
        if self == AS_IT_IS:
            return after
        return plane_of(after.matrix() @ self.matrix())

    @property
    def whole_shift(self) -> tuple[int, int] | None:
        """(x, y) px when the map only moves the picture by whole pixels, else None."""
        (a, b, x), (c, d, y), last = self.rows
        is_shift = (a, b, c, d, *last) == (1.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1.0)
        return (int(x), int(y)) if is_shift and x == int(x) and y == int(y) else None


def plane_of(matrix: Floats) -> Plane:
    """The map of a matrix (3, 3), scaled so that its last number is 1."""
    (a, b, c), (d, e, f), (g, h, i) = (matrix / matrix[2, 2]).tolist()
    return Plane(((a, b, c), (d, e, f), (g, h, i)))


def shifted(x: float, y: float) -> Plane:
    """The map that moves every point by (x, y)."""
    return Plane(((1.0, 0.0, float(x)), (0.0, 1.0, float(y)), (0.0, 0.0, 1.0)))


def scaled(factor: float) -> Plane:
    """The map that makes the picture so many times as large."""
    return Plane(((float(factor), 0.0, 0.0), (0.0, float(factor), 0.0), (0.0, 0.0, 1.0)))


def turned(angle: float) -> Plane:
    """The map that turns the picture about its top left corner, counter-clockwise as it is seen, rad."""
    cos, sin = float(np.cos(angle)), float(np.sin(angle))
    return Plane(((cos, sin, 0.0), (-sin, cos, 0.0), (0.0, 0.0, 1.0)))


def between(corners: Floats, targets: Floats) -> Plane:
    """The one map that takes four points (4, 2), no three in a line, to four others."""
    rows, right = [], []
    for (x, y), (u, v) in zip(corners.tolist(), targets.tolist(), strict=True):
        rows += [[x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y]]
        right += [u, v]
    solved = np.linalg.solve(np.array(rows), np.array(right))
    return plane_of(np.append(solved, 1.0).reshape(3, 3))


#: The map of a picture that was left as it is.
AS_IT_IS = shifted(0.0, 0.0)


def _mapped(matrix: npt.NDArray[Any], point: Point) -> Point:
    x, y, w = matrix @ np.array([point[0], point[1], 1.0])
    return float(x / w), float(y / w)
