"""Curves become few lines and tangent arcs within the tolerance, the same from either end."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.artwork.edges import Bezier, Oval
from core.artwork.fit import fitted
from core.outline.curve import distances_between
from core.outline.segments import Segments

_AT = st.floats(-100.0, 100.0).map(lambda x: round(x, 2))
_SPOT = st.tuples(_AT, _AT).map(lambda spot: complex(*spot))
_CURVE = st.lists(_SPOT, min_size=3, max_size=4).map(lambda spots: Bezier(np.array(spots)))


def pairs(spots):
    return np.column_stack((np.real(spots), np.imag(spots)))


def segments(bows):
    return Segments(
        pairs([bow.start for bow in bows]),
        pairs([bow.end for bow in bows]),
        np.array([bow.bulge for bow in bows]),
    )


def away(curve, bows):
    """How far points of the curve lie from its arcs."""
    share = np.linspace(0.0, 1.0, 777)
    spots = pairs(np.concatenate([piece.at(share) for piece in curve.pieces()]))
    one = segments(bows)
    near = [
        distances_between(Segments(*(np.repeat(each[k : k + 1], len(spots), axis=0)
                                     for each in (one.starts, one.ends, one.bulges))), spots)
        for k in range(len(one))
    ]  # fmt: skip
    return float(np.min(near, axis=0).max())


@given(_CURVE, st.sampled_from([1.0, 0.05]))
@settings(deadline=None, max_examples=40)
def test_no_curve_is_farther_off_than_the_tolerance_and_its_ends_stay(curve, tolerance):
    assume(np.abs(np.diff(curve.points)).max() > 1.0)
    (bows,) = fitted([curve], tolerance)
    assume(bows)
    assert (bows[0].start, bows[-1].end) == (curve.start, curve.end)
    assert all(a.end == b.start for a, b in pairwise(bows))
    assert away(curve, bows) <= 1.05 * tolerance


def test_arcs_meet_tangent():
    curve = Bezier(np.array([0, 30j, 100 + 30j, 100], dtype=complex))
    one = segments(fitted([curve], 0.01)[0])
    unit = np.ones(len(one))
    turns = one.headings_at(0.0 * unit)[1:] - one.headings_at(unit)[:-1]
    assert np.abs((turns + np.pi) % (2.0 * np.pi) - np.pi).max() < 2e-3


@given(_CURVE)
@settings(deadline=None, max_examples=20)
def test_a_curve_run_the_other_way_gives_the_same_arcs(curve):
    assume(curve.start != curve.end)
    there, back = fitted([curve, Bezier(curve.points[::-1])], 0.05)
    assert len(there) == len(back)
    for one, other in zip(there, back[::-1], strict=True):
        assert abs(one.start - other.end) < 1e-6
        assert one.bulge == pytest.approx(-other.bulge, abs=1e-5)


@pytest.mark.parametrize(("tolerance", "most"), [(0.1, 24), (0.01, 40), (0.001, 100)])
def test_an_oval_takes_few_arcs(tolerance, most):
    oval = Oval.between(0j, 50.0 + 0j, 20j, 0.0, 2.0 * math.pi)
    (bows,) = fitted([oval], tolerance)
    assert len(bows) <= most
    assert away(oval, bows) <= 1.05 * tolerance


def test_a_cusp_stays_sharp():
    curve = Bezier(np.array([0, 100 + 100j, 100j, 100], dtype=complex))
    (bows,) = fitted([curve], 0.01)
    assert len(bows) <= 40
    assert min(abs(bow.end - (50.0 + 75.0j)) for bow in bows) < 1e-9
