"""The field of heights against the same program's areas at named depths, which it shares no formula with."""

import numpy as np
import pytest
import shapely

from core.proof.heights import LEVEL_MM, height_field
from core.proof.programs import in_place, read_named
from core.proof.read_claims import claims_of
from core.proof.removal import swept_below
from tests.core.program.programs import read
from tests.support.pictures import badge_kit

BOX = (-20.0, -20.0, 40.0, 30.0)
PX = 0.1
#: mm: a piece of a ramp falls by a level and is drawn at the nearest one.
SLACK = 1.5 * LEVEL_MM + 1e-3


def middles(heights, box):
    """x and y of the middle of every pixel, mm."""
    rows, columns = heights.z.shape
    x = box[0] + (np.arange(columns) + 0.5) * heights.px_mm
    y = box[3] - (np.arange(rows) + 0.5) * heights.px_mm
    return np.meshgrid(x, y)


def agrees(program, bit, box, top, depth):
    """Every pixel that is clear of the edge is deeper than the depth just where the area says so."""
    heights = height_field(program, bit, box, top, PX)
    gone = swept_below(program, bit, depth)
    x, y = middles(heights, box)
    inside, outside = gone.buffer(-2 * PX), gone.buffer(2 * PX)
    shapely.prepare([inside, outside])
    assert (heights.z[shapely.contains_xy(inside, x, y)] <= depth + SLACK).all()
    assert (heights.z[~shapely.contains_xy(outside, x, y)] >= depth - SLACK).all()
    return int((heights.z <= depth).sum())


def test_a_slot_a_ring_and_a_ramp_lie_where_the_areas_have_them():
    program = read(
        "G0 X0 Y0", "G1 Z-1 F100", "X30", "G0 Z5", "X10 Y10", "G1 Z0", "G3 X10 Y10 Z-2 I-10 J0", "G0 Z5"
    )
    for depth in (-0.51, -0.99, -1.51):
        assert agrees(program, 2.0, BOX, 0.0, depth) > 100


def test_the_demo_of_a_kit_at_its_passes_its_tabs_and_its_bottom():
    kit = badge_kit()
    claims = claims_of(kit.report)
    path = next(file["path"] for file in kit.report["files"] if file["role"] == "part-program")
    program = in_place(read_named(kit.files, path), claims)
    box = (0.0, 0.0, claims.stock.width_mm, claims.stock.depth_mm)
    bottom = -claims.stock.thickness_mm
    for depth in (-0.31, bottom + 0.41, bottom - 0.01):
        assert agrees(program, claims.program.bit_mm, box, 0.0, depth) > 100


def test_where_nothing_is_cut_the_sheet_is_as_high_as_its_top():
    heights = height_field(read("G0 X0 Y0", "G1 Z-1 F100"), 2.0, BOX, 0.0, PX)
    assert heights.z[0, 0] == 0.0
    assert heights.z.min() == pytest.approx(-1.0, abs=0.011)
    assert (heights.z < -0.5).sum() * PX**2 == pytest.approx(np.pi, rel=0.03)


def test_a_pixel_is_as_small_as_asked_or_smaller_and_the_pen_is_whole():
    heights = height_field(read("G0 X0 Y0"), 3.175, BOX, 0.0, 0.1)
    assert heights.px_mm <= 0.1
    assert (3.175 / heights.px_mm) == pytest.approx(round(3.175 / heights.px_mm))
