"""Where lines and arcs meet, each formula for row i of both: one quadratic for every pair of kinds.

A segment is the rational quadratic N(u) / D(u) with D = (1 - u)^2 + 2 u (1 - u) cos h + u^2, and the
equation f of the other (curve.py) on it, times D, is a quadratic too, since both are circles:
q0 (1 - u)^2 + 2 q1 u (1 - u) + q2 u^2 with q0 = f(start), q2 = f(end) and, with c its chord, m its chord's
middle and n the unit vector to the chord's right,
q1 = cos h (f(m) - s c^2 / 4) + sin h grad f(m) . n c / 2, where s is what f has before x^2 + y^2. Derived
here by putting N into f; no division by a small curvature, so lines need no case of their own.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.curve import (
    Ints,
    distances_between,
    dot,
    equations_at,
    fractions_of,
    lefts,
    picked,
    slopes_at,
    turned_fractions,
)
from core.outline.segments import Floats, Segments

#: mm; places nearer than this are one place, curves nearer than this touch. A thousandth of what is
#: promised for offsets, ten thousand times what rounding does to sheets of a metre.
SNAP = 1e-7


@dataclass(frozen=True, eq=False)
class Meetings:
    """Each a place (n, 2) mm common to two segments, by index, and its fraction of the sweep of each."""

    firsts: Ints
    seconds: Ints
    first_at: Floats
    second_at: Floats
    places: Floats


def meetings(segments: Segments, firsts: Ints, seconds: Ints) -> Meetings:
    """Where segments firsts[k] and seconds[k] cross or touch within SNAP, ends on the other's way included.

    Two that lie on one another meet at the ends that they have in common.
    """
    every = [
        *(_crossings(segments, firsts, seconds, sign) for sign in (-1.0, 1.0)),
        *(_ends_on(segments, firsts, seconds, at_end=at_end) for at_end in (0.0, 1.0)),
        *(_swapped(_ends_on(segments, seconds, firsts, at_end=at_end)) for at_end in (0.0, 1.0)),
    ]
    return Meetings(*(np.concatenate([getattr(each, name) for each in every]) for name in _NAMES))


_NAMES = ("firsts", "seconds", "first_at", "second_at", "places")


def _swapped(met: Meetings) -> Meetings:
    return Meetings(met.seconds, met.firsts, met.second_at, met.first_at, met.places)


def _ends_on(segments: Segments, owners: Ints, others: Ints, at_end: float) -> Meetings:
    """The starts (at_end 0) or ends (1) of the owners that lie on the others."""
    tips = (segments.ends if at_end else segments.starts)[owners]
    bodies = picked(segments, others)
    on = distances_between(bodies, tips) <= SNAP
    places = tips[on]
    second_at = np.clip(fractions_of(picked(segments, others[on]), places), 0.0, 1.0)
    return Meetings(owners[on], others[on], np.full(len(places), at_end), second_at, places)


def _crossings(segments: Segments, firsts: Ints, seconds: Ints, sign: float) -> Meetings:
    """One of the two roots of each pair; those that are within both segments."""
    a, b = picked(segments, firsts), picked(segments, seconds)
    first_at = _roots(a, b, sign)
    real = np.flatnonzero((first_at >= 0.0) & (first_at <= 1.0))
    places = picked(a, real).points_at(first_at[real])
    on = distances_between(picked(b, real), places) <= SNAP
    kept, places = real[on], places[on]
    second_at = np.clip(fractions_of(picked(b, kept), places), 0.0, 1.0)
    return Meetings(firsts[kept], seconds[kept], first_at[kept], second_at, places)


def quadratics(a: Segments, b: Segments) -> tuple[Floats, Floats, Floats]:
    """q0, q1, q2 (n,) mm of the module's docstring: the equation of b on a."""
    half, chord = a.half_sweeps(), a.chord_lengths()
    middles = (a.starts + a.ends) / 2.0
    square = -np.sin(b.half_sweeps()) / b.chord_lengths()
    rights = -lefts(a.chords()) / 2.0
    bent = equations_at(b, middles) - square * chord**2 / 4.0
    q1 = np.cos(half) * bent + np.sin(half) * dot(slopes_at(b, middles), rights)
    return equations_at(b, a.starts), np.asarray(q1), equations_at(b, a.ends)


def _roots(a: Segments, b: Segments, sign: float) -> Floats:
    """(n,) fraction of a's sweep where b's equation is 0; nan where it is not, or is everywhere.

    A quadratic whose two roots have just parted from the real line touches: its turning point is the root.
    """
    q0, q1, q2 = quadratics(a, b)
    half = a.half_sweeps()
    gap = q1**2 - q0 * q2
    # where the quadratic turns it is still about gap / largest away from 0; whether that touches is
    # judged by the distance afterwards, so this only has to let enough through
    largest = np.maximum(np.maximum(np.abs(q0), np.abs(q2)), np.abs(q1))
    misses = gap < -2.0 * SNAP * largest
    same = largest <= SNAP
    # the sum keeps its digits when q1 and the root have one sign; the other root follows from q0 q2
    big = -(q1 + np.where(q1 < 0.0, -1.0, 1.0) * np.sqrt(np.maximum(gap, 0.0)))
    ahead, behind = (big, q2) if sign > 0.0 else (q0, big)
    fraction = turned_fractions(half, np.asarray(ahead), np.asarray(behind))
    return np.asarray(np.where(misses | same, np.nan, fraction))
