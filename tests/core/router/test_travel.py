"""Travel through the air, and the bound that no order can beat."""

from itertools import permutations

import numpy as np
import pytest

from core.outline.loop import Loop
from core.outline.region import Region
from core.router.toolpath import Motion, Operation, Toolpath
from core.router.travel import air_travel
from tests.core.router.sheet_after import planned, rectangle, sheet


def through(cuts):
    """A path from (0, 0) through cuts, each from its first place to its second, mm."""
    ends, motions = [], []
    for first, last in cuts:
        ends += [(*first, 5.0), (*first, -1.0), (*last, -1.0), (*last, 5.0)]
        motions += [Motion.RAPID, Motion.FEED, Motion.FEED, Motion.RAPID]
    count = len(ends)
    zero = np.zeros(count)
    whole = (np.array([0.0, 0.0, 5.0]), np.array(ends), zero, np.array(motions, int), zero, zero.astype(int))
    return Toolpath(*whole, (Operation("cuts"),))


def test_cuts_in_a_row_are_reached_with_no_more_than_the_least():
    cuts = [((10.0 * n, 0.0), (10.0 * n, 0.0)) for n in range(1, 6)]
    travel = air_travel(through(cuts))
    assert travel.travelled_mm == pytest.approx(50.0)
    assert travel.least_mm == pytest.approx(50.0)


def test_going_to_and_fro_is_told():
    travel = air_travel(
        through([((10.0, 0.0), (10.0, 0.0)), ((0.0, 0.0), (0.0, 0.0)), ((20.0, 0.0), (20.0, 0.0))])
    )
    assert (travel.travelled_mm, travel.least_mm) == pytest.approx((40.0, 20.0))


@pytest.mark.parametrize("seed", range(8))
def test_no_order_of_the_same_cuts_goes_below_the_bound(seed):
    random = np.random.default_rng(seed)
    cuts = [tuple(map(tuple, random.uniform(0, 100, (2, 2)))) for _ in range(5)]
    every = [air_travel(through(order)) for order in permutations(cuts)]
    assert min(one.travelled_mm for one in every) >= max(one.least_mm for one in every) - 1e-9
    assert max(one.least_mm for one in every) == pytest.approx(min(one.least_mm for one in every))


def test_a_planned_path_is_told_too():
    holes = tuple(Loop.circle((45.0 + 15 * n, 60.0), 3.0).reversed() for n in range(4))
    _, made = planned((Region(rectangle(30, 30, 110, 130), holes),), layout=sheet(marks=()))
    travel = air_travel(made.toolpath)
    assert 0.0 < travel.least_mm <= travel.travelled_mm
