"""Thin places: strokes and gaps, and no corners."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.build import build
from core.decal.thin import LEAST_TAPER, is_small, thin_places
from tests.support.pictures import badge, job

BLOB = shapely.box(0, 0, 6, 6)


def stroke(coords, width):
    return shapely.LineString(coords).buffer(width / 2.0, cap_style="flat")


@pytest.mark.parametrize("width", [0.2, 0.5, 0.76])
@pytest.mark.parametrize("end", [[(6, 3), (14, 3)], [(6, 3), (13, 6)]])
def test_a_stroke_that_runs_out_is_told_with_its_width_and_a_point_in_it(width, end):
    (place,) = thin_places(shapely.union(BLOB, stroke([(5, 3), *end], width)), 0.8)
    assert place.width_mm == pytest.approx(width, abs=0.06)
    assert shapely.Point(place.at).distance(shapely.LineString(end)) < width / 2.0


@pytest.mark.parametrize("width", [0.85, 1.2])
def test_a_stroke_as_wide_as_asked_is_no_thin_place(width):
    assert thin_places(shapely.union(BLOB, stroke([(5, 3), (14, 3)], width)), 0.8) == []


def test_a_neck_between_two_wide_pieces_is_one_place_however_short():
    neck = shapely.union_all([BLOB, shapely.box(6, 2.8, 6.3, 3.2), shapely.box(6.3, 0, 12, 6)])
    (place,) = thin_places(neck, 0.8)
    assert 5.9 < place.at[0] < 6.4


@given(st.floats(25.0, 170.0), st.floats(0.0, 6.3))
@settings(deadline=None, max_examples=60)
def test_a_corner_is_no_stroke_whatever_way_it_points(degrees, turn):
    half = np.radians(degrees) / 2.0
    far = 10.0 * np.array([[np.cos(half), np.sin(half)], [np.cos(half), -np.sin(half)]])
    turned = far @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    wedge = shapely.Polygon([(0, 0), *turned.tolist()]).buffer(0)
    near = [place for place in thin_places(wedge, 0.8) if np.hypot(*place.at) < 4.0]
    assert near == []


def test_a_taper_under_the_limit_is_a_stroke_that_runs_out():
    half = 0.6 * LEAST_TAPER / 2.0
    spike = shapely.Polygon([(0, 0), (20, 20 * np.tan(half)), (20, -20 * np.tan(half))])
    assert [place.at[0] < 8.0 for place in thin_places(spike, 0.8)] == [True]


@pytest.mark.parametrize(
    ("piece", "small"),
    [
        (shapely.box(0, 0, 1.7, 1.7), True),
        (shapely.box(0, 0, 1.8, 1.8), False),
        (shapely.box(0, 0, 20, 0.75), True),
        (shapely.box(0, 0, 20, 0.85), False),
    ],
)
def test_a_piece_is_small_by_its_area_or_by_its_width(piece, small):
    assert is_small(piece) is small


@pytest.mark.parametrize("height_mm", [10.65, 10.6, 10.4, 10.3])
def test_a_corners_crumb_is_no_stroke_though_a_speck_of_its_mouth_stands_apart(height_mm):
    asked = job(shape__height=f"{height_mm} mm")
    assert "thin-stroke" not in {finding.code for finding in build(asked, badge()).findings}
