"""What artwork is drawn with: lines and circular arcs, ovals, Bezier curves; points as complex numbers.

Every edge runs from start to end and says its own image under an affine map. Lines and arcs are exact in
the Outline; the others are fitted (fit.py), once all maps have been applied.
"""

import cmath
import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from core.artwork.affine import KEEPS_ROUND, Affine

Points = NDArray[np.complex128]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Bow:
    """A line or a circular arc; bulge = tan(sweep / 4), positive where the angle grows, 0 a line."""

    start: complex
    end: complex
    bulge: float = 0.0

    def mapped(self, to: Affine) -> "tuple[Edge, ...]":
        """Its image: an oval where circles do not stay round."""
        if self.bulge == 0.0 or to.keeps_round():
            turn = math.copysign(1.0, to.determinant())
            return (Bow(to.of(self.start), to.of(self.end), self.bulge * turn),)
        return self.oval().mapped(to)

    def oval(self) -> "Oval":
        """The same arc as part of an oval; bulge is not 0."""
        reach = (1.0 - self.bulge**2) / (4.0 * self.bulge)
        centre = (self.start + self.end) / 2.0 + 1j * (self.end - self.start) * reach
        first = self.start - centre
        return Oval(centre, first, 1j * first, 0.0, 4.0 * math.atan(self.bulge), self.start, self.end)

    def reversed(self) -> "Bow":
        """Run the other way."""
        return Bow(self.end, self.start, -self.bulge)


@dataclass(frozen=True)
class Oval:
    """centre + u cos t + v sin t, t from first to last; start and end as the file says them."""

    centre: complex
    u: complex
    v: complex
    first: float
    last: float
    start: complex
    end: complex

    @classmethod
    def between(cls, centre: complex, u: complex, v: complex, first: float, last: float) -> "Oval":
        """With the ends computed."""

        def at(t: float) -> complex:
            return centre + u * math.cos(t) + v * math.sin(t)

        return cls(centre, u, v, first, last, at(first), at(last))

    def mapped(self, to: Affine) -> "tuple[Edge, ...]":
        """Its image: one or two circular arcs where it is round."""
        image = Oval(
            to.of(self.centre), to.vector(self.u), to.vector(self.v), self.first, self.last,
            to.of(self.start), to.of(self.end),
        )  # fmt: skip
        return image.bows() if image.is_round() else (image,)

    def is_round(self) -> bool:
        """Whether it is part of a circle."""
        largest = max(abs(self.u), abs(self.v))
        square = abs((self.u.conjugate() * self.v).real)
        return abs(abs(self.u) - abs(self.v)) <= KEEPS_ROUND * largest and square <= KEEPS_ROUND * largest**2

    def bows(self) -> "tuple[Edge, ...]":
        """A round one as arcs of at most half a turn."""
        sense = math.copysign(1.0, (self.u.conjugate() * self.v).imag)
        parts = self.cut(max(math.ceil(abs(self.last - self.first) / math.pi - KEEPS_ROUND), 1))
        return tuple(
            Bow(part.start, part.end, sense * math.tan((part.last - part.first) / 4.0)) for part in parts
        )

    def cut(self, count: int) -> "tuple[Oval, ...]":
        """In so many parts of equal parameter."""
        steps = [self.first + (self.last - self.first) * k / count for k in range(count + 1)]
        spots = [self.centre + self.u * math.cos(t) + self.v * math.sin(t) for t in steps]
        spots[0], spots[-1] = self.start, self.end
        return tuple(
            Oval(self.centre, self.u, self.v, steps[k], steps[k + 1], spots[k], spots[k + 1])
            for k in range(count)
        )

    def at(self, share: Floats) -> Points:
        """(n,) points at shares 0..1 of the parameter."""
        t = self.first + (self.last - self.first) * share
        return np.asarray(self.centre + self.u * np.cos(t) + self.v * np.sin(t))

    def slopes(self, share: Floats) -> Points:
        """(n,) derivatives by the share."""
        t = self.first + (self.last - self.first) * share
        return np.asarray((self.last - self.first) * (self.v * np.cos(t) - self.u * np.sin(t)))

    def pieces(self) -> "tuple[Oval, ...]":
        """Cut at its vertices, so that what is fitted is symmetrical where the oval is."""
        turn = 0.5 * cmath.phase(self.u**2 + self.v**2) if self.u**2 + self.v**2 else 0.0
        along = cmath.rect(1.0, -turn)
        vertex = math.atan2((self.v * along).real, (self.u * along).real)
        return self._cut_at(vertex)

    def _cut_at(self, vertex: float) -> "tuple[Oval, ...]":
        low, high = sorted((self.first, self.last))
        first = math.ceil((low - vertex) / (math.pi / 2.0))
        last = math.floor((high - vertex) / (math.pi / 2.0))
        cuts = [vertex + k * math.pi / 2.0 for k in range(first, last + 1)]
        inner = [t for t in cuts if low + NEAR_VERTEX < t < high - NEAR_VERTEX]
        steps = [self.first, *(inner if self.first == low else inner[::-1]), self.last]
        parts = [Oval.between(self.centre, self.u, self.v, a, b) for a, b in pairwise(steps)]
        spots = [self.start, *(part.end for part in parts[:-1]), self.end]
        return tuple(
            Oval(part.centre, part.u, part.v, part.first, part.last, spots[k], spots[k + 1])
            for k, part in enumerate(parts)
        )


#: rad; an end nearer to a vertex than this is the vertex.
NEAR_VERTEX = 1e-9


@dataclass(frozen=True, eq=False)
class Bezier:
    """points (n + 1,) complex; weights (n + 1,) where it is rational."""

    points: Points
    weights: Floats | None = None

    @property
    def start(self) -> complex:
        """Where it begins."""
        return complex(self.points[0])

    @property
    def end(self) -> complex:
        """Where it ends."""
        return complex(self.points[-1])

    def mapped(self, to: Affine) -> "tuple[Edge, ...]":
        """Its image."""
        return (Bezier(to.a * self.points + to.b * self.points.conj() + to.c, self.weights),)

    def pieces(self) -> "tuple[Bezier, ...]":
        """All of it."""
        return (self,)

    def at(self, share: Floats) -> Points:
        """(n,) points at shares 0..1 of the parameter."""
        weights = np.ones(len(self.points)) if self.weights is None else self.weights
        basis = _bernstein(len(self.points) - 1, share) * weights
        return np.asarray(basis @ self.points / basis.sum(axis=1), dtype=np.complex128)

    def slopes(self, share: Floats) -> Points:
        """(n,) derivatives by the share."""
        degree = len(self.points) - 1
        lower = _bernstein(degree - 1, share)
        if self.weights is None:
            return np.asarray(degree * (lower @ np.diff(self.points)), dtype=np.complex128)
        weighted = self.weights * self.points
        weight = _bernstein(degree, share) @ self.weights
        above, below = degree * (lower @ np.diff(weighted)), degree * (lower @ np.diff(self.weights))
        return np.asarray((above - below * self.at(share)) / weight)


def _bernstein(degree: int, share: Floats) -> Floats:
    """(n, degree + 1) the Bernstein polynomials."""
    choose = np.array([math.comb(degree, k) for k in range(degree + 1)], dtype=np.float64)
    k = np.arange(degree + 1)
    t = share[:, None]
    return np.asarray(choose * t**k * (1.0 - t) ** (degree - k))


Curve = Oval | Bezier
Edge = Bow | Oval | Bezier


@dataclass(frozen=True, eq=False)
class SubPath:
    """Edges each beginning where the one before ends; a closed one comes back to its beginning."""

    edges: tuple[Edge, ...]
    is_closed: bool

    def mapped(self, to: Affine) -> "SubPath":
        """Its image under an affine map."""
        return SubPath(tuple(part for edge in self.edges for part in edge.mapped(to)), self.is_closed)


def polygon(points: list[complex], *, is_closed: bool) -> SubPath:
    """Straight from point to point."""
    ends = [*points[1:], points[0]] if is_closed else points[1:]
    edges = tuple(Bow(a, b) for a, b in zip(points, ends, strict=False) if a != b)
    return SubPath(edges, is_closed)


def circle(centre: complex, radius: float) -> SubPath:
    """As two half turns the way the angle grows; the other way for a radius below 0."""
    right, left = centre + radius, centre - radius
    turn = math.copysign(1.0, radius)
    return SubPath((Bow(right, left, turn), Bow(left, right, turn)), is_closed=True)
