"""The sheet box: whole millimetres, on the grid, clipped by the key, never to be mistaken."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.decal.cut_order import in_cutting_order
from core.decal.sheet_box import LEAST_GAP_MM, misread_gap, sheet_box
from core.outline.loop import Loop
from core.outline.region import Region

LOW = st.floats(-100, 200)
CONTENTS = st.builds(lambda x, y, w, h: (x, y, x + w, y + h), LOW, LOW, st.floats(1, 300), st.floats(1, 300))


@given(CONTENTS, LOW, LOW)
def test_it_is_whole_millimetres_on_the_grid_three_to_ten_round_what_it_holds(content, key_x, key_y):
    box = sheet_box(content, (key_x, key_y))
    x_min, y_min, x_max, y_max = box.loop.bounds()
    assert box.size_mm == (x_max - x_min, y_max - y_min)
    assert all(value == round(value) for value in box.size_mm)
    assert (box.loop.points * 2 == np.rint(box.loop.points * 2)).all()
    margins = [content[0] - x_min, content[1] - y_min, x_max - content[2], y_max - content[3]]
    assert min(margins) >= 3
    assert max(margins) <= 10
    assert box.loop.signed_area() == pytest.approx(box.size_mm[0] * box.size_mm[1] - 12.5)


@given(CONTENTS)
def test_read_at_72_90_or_96_per_inch_it_shows_another_number(content):
    size = sheet_box(content, (0.0, 0.0)).size_mm
    assert misread_gap(size) > LEAST_GAP_MM


def test_the_gap_is_that_of_96_taken_for_90():
    assert misread_gap((130.0, 154.0)) == pytest.approx(130 / 16)  # 130 - 130 * 90 / 96


@pytest.mark.parametrize(
    ("key", "corner"),
    [((5, 95), (-5, 105)), ((95, 95), (105, 105)), ((5, 5), (-5, -5)), ((95, 5), (105, -5))],
)
def test_the_corner_nearest_to_the_key_is_clipped(key, corner):
    box = sheet_box((0, 0, 100, 100), key)
    assert box.corner == pytest.approx(corner)
    assert len(box.loop.points) == 5
    assert np.hypot(*(box.loop.points - np.array(corner)).T).min() == pytest.approx(5.0)


def test_contours_are_cut_from_inside_to_outside_and_from_small_to_large():
    ring = Region(Loop.circle((0, 0), 20), (Loop.circle((0, 0), 15).reversed(),))
    islet = Region(Loop.circle((0, 0), 10), (Loop.circle((3, 0), 2).reversed(),))
    radii = [loop.bounds()[3] for loop in in_cutting_order((ring, islet))]
    assert radii == pytest.approx([2, 10, 15, 20])
