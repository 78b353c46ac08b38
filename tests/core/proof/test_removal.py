from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.proof.removal import FLATNESS, cuts_below, swept_below, swept_flush, without_repeats
from tests.core.program.programs import read

BIT = 2.0


def cut(*lines):
    return read("G0 X0 Y0", "G1 Z-1 F100", *lines)


def test_a_ring_cut_by_a_whole_turn_has_its_area_and_leans_to_neither_side():
    gone = swept_below(cut("G3 X0 Y0 I-10 J0"), BIT, -0.5)
    assert gone.area == pytest.approx(np.pi * (11**2 - 9**2), abs=2e-3)
    for ring, radius in ((gone.exterior, 11), (gone.interiors[0], 9)):
        mid = shapely.segmentize(ring, 0.01)
        away = np.hypot(*(shapely.get_coordinates(mid) - [-10, 0]).T) - radius
        assert np.abs(away).max() <= FLATNESS
        assert abs(away.mean()) <= FLATNESS / 4.0


def test_a_plunge_leaves_a_round_hole():
    assert swept_below(cut(), BIT, -0.5).area == pytest.approx(np.pi, rel=1e-3)


def test_a_straight_slot_has_its_closed_form():
    gone = swept_below(cut("X30"), BIT, -1.0)
    assert gone.area == pytest.approx(60 + np.pi, rel=1e-4)
    assert gone.bounds == pytest.approx((-1, -1, 31, 1))


@given(st.floats(-0.99, -0.01))
def test_a_ramp_is_clipped_where_it_passes_the_depth(depth):
    gone = swept_below(read("G0 X0 Y0", "G1 Z0 F100", "X10 Z-1", "Z5"), BIT, depth)
    assert gone.bounds[0] == pytest.approx(-10 * depth - 1.0, abs=1e-4)
    assert gone.bounds[2] == pytest.approx(11.0, abs=1e-9)


def test_a_helix_is_clipped_by_its_share_of_the_turn():
    ramp = read("G0 X10 Y0", "G1 Z0 F100", "G3 X-10 Y0 Z-1 I-10 J0", "G1 Z5")
    gone = swept_below(ramp, BIT, -0.5)
    assert gone.contains(shapely.Point(-7, 7))
    assert not gone.intersects(shapely.Point(7, 7))


def test_level_with_the_depth_counts_as_reaching_it():
    assert not swept_below(cut("X30"), BIT, -1.0).is_empty
    assert swept_below(cut("X30"), BIT, -1.001).is_empty


def test_a_rapid_cuts_like_any_other_move():
    assert swept_below(cut("G0 X30"), BIT, -0.5).equals(swept_below(cut("G1 X30"), BIT, -0.5))


def test_passes_over_the_same_ground_count_once():
    lap = ("X30", "Y30", "X0", "Y0")
    twice = cut(*lap, *lap, *lap)
    cuts = cuts_below(twice, -0.5)
    assert without_repeats(twice, cuts).rows.size == 5
    assert swept_below(twice, BIT, -0.5).equals(swept_below(cut(*lap), BIT, -0.5))


def test_the_edge_is_judged_with_the_tabs_cut_flush():
    lifted = cut("X10", "Z-0.2", "X20", "Z-1", "X30")
    level = cut("X30")
    flush = swept_flush(lifted, BIT, -0.9, 0.7)
    assert shapely.hausdorff_distance(flush.boundary, swept_below(level, BIT, -0.9).boundary) < 1e-9
    assert swept_below(lifted, BIT, -0.9).area < flush.area - 10


WALK = st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=1, max_size=30)


@settings(max_examples=40, deadline=None)
@given(WALK)
def test_any_walk_sweeps_what_shapely_says_of_each_step_alone(corners):
    program = cut(*(f"X{x} Y{y}" for x, y in corners))
    steps = zip([(0, 0), *corners], corners, strict=False)
    alone = shapely.union_all([shapely.LineString(step).buffer(1.0, quad_segs=64) for step in steps])
    apart = swept_below(program, BIT, -0.5).symmetric_difference(alone)
    assert apart.buffer(-FLATNESS).is_empty


#: A run of a real program, out and back, of which GEOS 3.14 leaves half out when it is grown by 0.5 mm.
FOLD = (
    (-28.2916, 19.8016), (-27.8663, 19.7383), (-23.2768, 19.0558), (-23.2621, 19.1546), (-23.3296, 19.141),
    (-23.3976, 19.1307), (-23.4661, 19.1235), (-23.5349, 19.1195), (-23.6037, 19.1186), (-23.6725, 19.1209),
    (-23.7412, 19.1263), (-23.8095, 19.1351), (-27.8663, 19.7383), (-28.2916, 19.8016),
)  # fmt: skip


def test_a_run_that_folds_back_on_itself_is_swept_whole():
    start, *rest = [f"X{x} Y{y}" for x, y in FOLD]
    gone = swept_below(read(f"G0 {start}", "G1 Z-1 F100", *rest), 1.0, -0.5)
    chords = [shapely.LineString(pair).buffer(0.5, 64) for pair in pairwise(FOLD)]
    assert shapely.symmetric_difference(gone, shapely.union_all(chords)).area < 0.01
