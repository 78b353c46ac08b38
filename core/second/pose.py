"""Where a point of the second picture lies on the first: scaled, turned and shifted, perhaps mirrored."""

from dataclasses import dataclass, replace
from math import atan2, cos, degrees, hypot, sin

import numpy as np

from core.findings import Point
from core.outline.chain import Chain
from core.outline.outline import Face, Outline
from core.outline.segments import Floats


@dataclass(frozen=True)
class Pose:
    """x' = along x - across y + shift x, y' = across x + along y + shift y; -x for x if mirrored.

    along and across are scale cos(turn) and scale sin(turn). Both pictures in px, y up.
    """

    along: float
    across: float
    shift: Point
    is_mirrored: bool = False

    @classmethod
    def turned(cls, scale: float, turn: float, shift: Point, *, is_mirrored: bool = False) -> "Pose":
        """A Pose of this scale, turn (rad, counter-clockwise) and shift."""
        return cls(float(scale * cos(turn)), float(scale * sin(turn)), shift, is_mirrored)

    @property
    def scale(self) -> float:
        """Units of the first picture for one px of the second."""
        return hypot(self.along, self.across)

    @property
    def turn_deg(self) -> float:
        """Degrees, counter-clockwise."""
        return degrees(atan2(self.across, self.along))

    def of(self, points: Floats) -> Floats:
        """(n, 2) the points on the first picture; equal points stay equal to the last bit."""
        return np.asarray(self.directions(points) + np.array(self.shift))

    def directions(self, vectors: Floats) -> Floats:
        """(n, 2) vectors scaled and turned, not shifted."""
        x, y = (-vectors[:, 0] if self.is_mirrored else vectors[:, 0]), vectors[:, 1]
        return np.column_stack((self.along * x - self.across * y, self.across * x + self.along * y))

    def placed(self, scale: float, shift: Point) -> "Pose":
        """The Pose into where the first picture's points are scaled by scale, then moved by shift."""
        x, y = self.shift
        moved = (x * scale + shift[0], y * scale + shift[1])
        return replace(self, along=self.along * scale, across=self.across * scale, shift=moved)

    def outline(self, traced: Outline) -> Outline:
        """The second picture's Outline where it lies on the first; nothing is fitted again."""
        assert not self.is_mirrored, "a mirrored Outline would turn its faces inside out"  # noqa: S101
        inside = self.of(np.array([face.inside for face in traced.faces]))
        faces = tuple(
            Face(face.colour, (float(x), float(y))) for face, (x, y) in zip(traced.faces, inside, strict=True)
        )
        chains = tuple(
            Chain(self.of(chain.points), chain.bulges, chain.left, chain.right) for chain in traced.chains
        )
        return Outline(chains, faces, tuple(doubt * self.scale for doubt in traced.doubt))


IDENTITY = Pose(1.0, 0.0, (0.0, 0.0))
