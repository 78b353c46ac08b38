"""Affine maps of the plane, points as complex numbers: z becomes a z + b conj(z) + c.

A map keeps circles round where one of a and b is 0; with b it turns them the other way.
"""

import cmath
import math
from dataclasses import dataclass

#: Relative difference below which a map keeps circles round; decimals of a transform are no ovals.
KEEPS_ROUND = 1e-9


@dataclass(frozen=True)
class Affine:
    """a, b, c of the module's docstring."""

    a: complex = 1.0
    b: complex = 0.0
    c: complex = 0.0

    @classmethod
    def matrix(cls, first: complex, second: complex, origin: complex) -> "Affine":
        """The map that takes 1 to first, i to second and 0 to origin, the last one added to the others."""
        return cls((first - 1j * second) / 2.0, (first + 1j * second) / 2.0, origin)

    @classmethod
    def scale(cls, x: float, y: float) -> "Affine":
        """X and y each by a factor of its own."""
        return cls.matrix(x, 1j * y, 0.0)

    @classmethod
    def turn(cls, angle: float) -> "Affine":
        """Turned by an angle, rad, about the origin, from x towards y."""
        return cls(cmath.rect(1.0, angle))

    def of(self, z: complex) -> complex:
        """The image of a point."""
        return self.a * z + self.b * z.conjugate() + self.c

    def vector(self, z: complex) -> complex:
        """The image of a difference of points."""
        return self.a * z + self.b * z.conjugate()

    def after(self, first: "Affine") -> "Affine":
        """First the other, then this one."""
        return Affine(
            self.a * first.a + self.b * first.b.conjugate(),
            self.a * first.b + self.b * first.a.conjugate(),
            self.of(first.c),
        )

    def inverse(self) -> "Affine":
        """The way back; ZeroDivisionError for a map that flattens the plane."""
        size = self.determinant()
        a, b = self.a.conjugate() / size, -self.b / size
        return Affine(a, b, -(a * self.c + b * self.c.conjugate()))

    def determinant(self) -> float:
        """How much areas grow; below 0 where the map mirrors."""
        return abs(self.a) ** 2 - abs(self.b) ** 2

    def keeps_round(self) -> bool:
        """Whether circles stay circles."""
        return min(abs(self.a), abs(self.b)) <= KEEPS_ROUND * max(abs(self.a), abs(self.b))

    def size(self) -> float:
        """By how much lengths grow, the middle of all directions (geometric)."""
        return math.sqrt(abs(self.determinant()))

    def stretch(self) -> float:
        """By how much lengths grow in the direction in which they grow most."""
        return abs(self.a) + abs(self.b)

    def is_finite(self) -> bool:
        """Whether every number in it is finite."""
        return all(map(cmath.isfinite, (self.a, self.b, self.c)))
