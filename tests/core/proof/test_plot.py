"""What a plot is held to, each rule by itself: the promise to the hundredth, order, turning run, closing."""

import numpy as np
import pytest

from core.proof.claims import KnifeClaim
from core.proof.edges import EdgeDistance
from core.proof.layers import Contour
from core.proof.plot import (
    PLOT_DIAMETER_WITHIN,
    PLOT_MARK_WITHIN,
    _Cut,
    _edge_findings,
    _order_findings,
    _Pair,
    _round_findings,
    _turning_findings,
)


@pytest.mark.parametrize(
    ("rms", "most", "is_steered", "told"),
    [
        (0.0, 0.0299, False, 0),
        (0.0, 0.0301, False, 1),
        (0.0199, 0.0499, True, 0),
        (0.0201, 0.03, True, 1),
        (0.01, 0.0501, True, 1),
    ],
)
def test_a_plot_is_held_to_the_promise(rms, most, is_steered, told):
    knife = KnifeClaim(0.25, is_compensated=is_steered)
    assert len(_edge_findings("a.plt", "film-sky", EdgeDistance(rms, most, None), knife)) == told


def test_marks_are_held_to_half_a_plotter_unit():
    assert (PLOT_MARK_WITHIN, PLOT_DIAMETER_WITHIN) == (0.013, 0.03)


def squares(corner, side):
    x, far = corner, corner + side
    ring = np.array([[x, x], [far, x], [far, far], [x, far], [x, x]], float)
    return _Pair(_Cut(1, ring), ring, ring, 0.0)


def test_outside_before_inside_is_a_stop():
    outer, inner = squares(0.0, 10.0), squares(2.0, 2.0)
    assert [one.code for one in _order_findings("a.plt", [outer, inner])] == ["plot-order"]
    assert _order_findings("a.plt", [inner, outer]) == []


def contour(corner, side):
    ring = squares(corner, side).ring[:-1]
    return Contour(ring, np.zeros(4), is_closed=True)


@pytest.mark.parametrize(
    ("y", "told"),
    [(-0.9, 1), (-1.1, 0), (2.0, 1), (10.0, 0)],
    ids=["near a piece", "clear of it", "in a piece", "in its opening"],
)
def test_the_turning_run_lies_in_the_waste_a_millimetre_off(y, told):
    run = _Cut(3, np.array([[9.0, y], [11.0, y]]))
    kept = {1: (contour(0.0, 20.0), contour(5.0, 10.0)), 3: (contour(-30.0, 80.0),)}
    assert len(_turning_findings("a.plt", [run], kept)) == told


def test_a_contour_that_does_not_close_is_a_stop():
    ring = np.array([[0, 0], [9, 0], [9, 9], [0, 9], [0, 0.1]], float)
    (stop,) = _round_findings("a.plt", [_Pair(_Cut(1, ring), ring, ring, 0.0)], KnifeClaim())
    assert stop.code == "contour-open"
