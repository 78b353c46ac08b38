"""What is to hold between segments: each relation a function of the few numbers that it is about.

A segment is five numbers, x and y of both ends and its bulge; every relation says a length in px that is to
become nothing, so that one tolerance fits all.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from core.outline.curve import Ints, lefts
from core.outline.segments import Floats, Segments

#: Step, in px or in bulge, of the differences that stand for derivatives.
STEP = 1e-6


@dataclass(frozen=True, eq=False)
class Relations:
    """says((m, l) values) gives (m,) px; where (m, l) are the indices of those values."""

    says: Callable[[Floats], Floats]
    where: Ints

    def off(self, values: Floats) -> Floats:
        """(m,) px by which each does not hold yet."""
        return self.says(values[self.where])

    def slopes(self, values: Floats) -> Floats:
        """(m, len(values)) how that changes with every value."""
        local = values[self.where]
        rows = np.arange(len(local))
        jacobian = np.zeros((len(local), len(values)))
        for slot in range(local.shape[1]):
            ahead, behind = local.copy(), local.copy()
            ahead[:, slot] += STEP
            behind[:, slot] -= STEP
            slope = (self.says(ahead) - self.says(behind)) / (2.0 * STEP)
            np.add.at(jacobian, (rows, self.where[:, slot]), slope)
        return jacobian

    @staticmethod
    def joined(many: "Iterable[Relations]") -> "list[Relations]":
        """The same, those that say the same together."""
        groups: dict[Callable[[Floats], Floats], list[Ints]] = {}
        for one in many:
            groups.setdefault(one.says, []).append(one.where)
        return [Relations(says, np.vstack(where)) for says, where in groups.items()]

    def chosen(self, kept: np.ndarray) -> "Relations":
        """Those of these rows."""
        return Relations(self.says, self.where[kept])


def segment_in(local: Floats, first: int = 0) -> Segments:
    """The segment whose five numbers begin at this column."""
    return Segments(local[:, first : first + 2], local[:, first + 2 : first + 4], local[:, first + 4])


def level(local: Floats) -> Floats:
    """A segment's two ends are as high."""
    return np.asarray(local[:, 3] - local[:, 1])


def upright(local: Floats) -> Floats:
    """A segment's ends stand one above the other."""
    return np.asarray(local[:, 2] - local[:, 0])


def square(local: Floats) -> Floats:
    """Two lines stand square: how far the shorter leans over its length."""
    one, other = segment_in(local), segment_in(local, 5)
    lengths = one.chord_lengths(), other.chord_lengths()
    leaning = np.sum(one.chords() * other.chords(), axis=1) / np.maximum(*lengths)
    return np.asarray(leaning)


def radius(segments: Segments) -> Floats:
    """(n,) px, c (1 + b^2) / (4 |b|): of arcs."""
    bulges = np.abs(segments.bulges)
    return np.asarray(segments.chord_lengths() * (1.0 + bulges**2) / (4.0 * bulges))


def equal_radii(local: Floats) -> Floats:
    """Two arcs have one radius: the difference of their sagittas, were both as short as the shorter one.

    A shallow arc's radius is wild, its curvature is not.
    """
    one, other = segment_in(local), segment_in(local, 5)
    chords = np.minimum(one.chord_lengths(), other.chord_lengths())
    return np.asarray((1.0 / radius(one) - 1.0 / radius(other)) * chords**2 / 8.0)


def equidistant(local: Floats) -> Floats:
    """The first arc's centre is as far from both ends of the second."""
    centres, other = segment_in(local).centres(), segment_in(local, 5)
    return np.asarray(np.hypot(*(centres - other.starts).T) - np.hypot(*(centres - other.ends).T))


def concentric(local: Floats) -> Floats:
    """The second arc has the sagitta that its chord has about the first arc's centre."""
    centres, other = segment_in(local).centres(), segment_in(local, 5)
    reach = np.hypot(*(centres - other.starts).T)
    half = other.chord_lengths() / 2.0
    to_chord = np.sqrt(np.maximum(reach**2 - half**2, 0.0))
    bulges = np.abs(other.bulges)
    sagitta = np.where(bulges > 1.0, reach + to_chord, reach - to_chord)
    return np.asarray(bulges * half - sagitta)


def smooth(local: Floats) -> Floats:
    """One segment goes over into the next: the turn at the joint over the shorter of both."""
    one, other = segment_in(local), segment_in(local, 5)
    unit = np.ones(len(local))
    turn = other.headings_at(0.0 * unit) - one.headings_at(unit)
    turn = (turn + np.pi) % (2.0 * np.pi) - np.pi
    return np.asarray(turn * np.minimum(one.lengths(), other.lengths()))


def mirrored(points: Floats, angle: Floats, offset: Floats) -> Floats:
    """(n, 2) reflected about the line along angle rad that passes offset px to the left of the origin."""
    along = np.column_stack((np.cos(angle), np.sin(angle)))
    across = lefts(along)
    off = np.sum(points * across, axis=1) - offset
    return np.asarray(points - 2.0 * off[:, None] * across)


def mirror_x(local: Floats) -> Floats:
    """X of a point, the mirror image of another; columns x, y, x, y, angle, offset."""
    return np.asarray(mirrored(local[:, :2], local[:, 4], local[:, 5])[:, 0] - local[:, 2])


def mirror_y(local: Floats) -> Floats:
    """Y of a point, the mirror image of another."""
    return np.asarray(mirrored(local[:, :2], local[:, 4], local[:, 5])[:, 1] - local[:, 3])


def mirror_bulge(local: Floats) -> Floats:
    """Two segments, one run against the other's image, bulge alike: the difference of their sagittas."""
    one, other = segment_in(local), segment_in(local, 5)
    return np.asarray((one.bulges - other.bulges) * one.chord_lengths() / 2.0)


def mirror_bulge_along(local: Floats) -> Floats:
    """The same of two segments that are run alike: they bulge to different sides."""
    one, other = segment_in(local), segment_in(local, 5)
    return np.asarray((one.bulges + other.bulges) * one.chord_lengths() / 2.0)


def mirror_centre_x(local: Floats) -> Floats:
    """X of an arc's centre, the image of another's; columns of two segments, angle, offset."""
    image = mirrored(segment_in(local).centres(), local[:, 10], local[:, 11])
    return np.asarray(image[:, 0] - segment_in(local, 5).centres()[:, 0])


def mirror_centre_y(local: Floats) -> Floats:
    """Y of an arc's centre, the image of another's."""
    image = mirrored(segment_in(local).centres(), local[:, 10], local[:, 11])
    return np.asarray(image[:, 1] - segment_in(local, 5).centres()[:, 1])
