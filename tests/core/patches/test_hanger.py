"""A hole to hang the part by: its wall, the plumb line, and what is said of it."""

from math import atan2, degrees

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.build import build
from core.outline.loop import Loop
from core.outline.region import Region
from core.patches.hanger import HangerWish, centre_of_mass, hanging_place, lean_deg, room_for
from core.shown import shown_of
from tests.support.pictures import badge, badge_kit, job


def polygon(*corners):
    return (Region(Loop(np.array(corners, dtype=float), np.zeros(len(corners)))),)


@given(
    st.lists(st.floats(0.4, 1.0), min_size=5, max_size=12),
    st.floats(30, 120),
    st.floats(2, 6),
    st.floats(1, 6),
)
@settings(deadline=None, max_examples=12)
def test_the_hole_keeps_its_wall_and_hangs_as_straight_as_it_may(radii, size, diameter, thickness):
    angles = np.linspace(0, 2 * np.pi, len(radii), endpoint=False)
    points = size * np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None]
    part, wish = polygon(*points), HangerWish(diameter, thickness)
    room = room_for(part, wish)
    assume(not room.is_empty)
    middle = centre_of_mass(part)
    at = hanging_place(room, middle)
    wall = shapely.Polygon(points).exterior.distance(shapely.Point(at)) - diameter / 2
    assert wall >= max(4.0, 2 * thickness) - 1e-9
    lean = abs(lean_deg(at, middle))
    for x, y in shapely.get_coordinates(shapely.segmentize(room, 1.0)):
        assert abs(lean_deg((x, y), middle)) >= lean - 0.5


def test_where_the_plumb_line_meets_the_part_it_hangs_straight_from_as_high_as_the_wall_allows():
    part = polygon((0, 0), (60, 0), (60, 80), (0, 80))
    at = hanging_place(room_for(part, HangerWish(4.0, 3.0)), centre_of_mass(part))
    assert at == pytest.approx((30.0, 80 - 6 - 2), abs=0.01)
    assert lean_deg(at, centre_of_mass(part)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("x", [10.0, 30.0, 45.0])
def test_the_foot_swings_until_the_centre_of_mass_is_plumb_below(x):
    # The part is turned about the hole by the lean (to the left: clockwise); then its centre is below it.
    at, middle = (x, 70.0), (30.0, 40.0)
    turn = -np.radians(lean_deg(at, middle))
    arm = complex(*middle) - complex(*at)
    hanging = arm * np.exp(1j * turn)
    assert hanging.real == pytest.approx(0.0, abs=1e-9)
    assert hanging.imag < 0
    assert lean_deg(at, middle) == pytest.approx(degrees(atan2(30 - x, 30)))


def test_an_opening_is_an_edge_too():
    frame = (
        Region(polygon((0, 0), (60, 0), (60, 80), (0, 80))[0].outer, (Loop.circle((30, 60), 10).reversed(),)),
    )
    at = hanging_place(room_for(frame, HangerWish(4.0, 2.0)), centre_of_mass(frame))
    assert np.hypot(at[0] - 30, at[1] - 60) >= 10 + 4 + 2 - 0.01


def codes(made):
    return {finding.code: finding for finding in made.findings}


def test_the_hole_is_an_opening_of_part_and_films_and_is_bored():
    plain, kit = badge_kit(), badge_kit(part__hanger="auto")
    assert kit.report["outline"]["openings"] == plain.report["outline"]["openings"] + 1
    assert kit.report["height_mm"] == plain.report["height_mm"]
    assert kit.report["readback"]["edge_error_mm"]["max"] < 0.01
    assert not [entry for entry in kit.report["findings"] if entry["level"] == "stop"]
    (told,) = [entry for entry in kit.report["findings"] if entry["code"] == "hangs"]
    assert b"opening" in kit.files["badge-60mm-part-Ztop.nc"]
    made = build(job(part__hanger="auto"), badge())
    hole = shapely.Point(told["at"]).buffer(1.9)
    assert all(
        not shapely.Polygon(
            region.outer.flattened(0.01), [loop.flattened(0.01) for loop in region.openings]
        ).intersects(hole)
        for film in made.films.films
        for region in film.regions
    )


def test_a_hole_set_by_hand_settles_where_it_keeps_its_wall():
    made = build(job(part__hanger="150,42"), badge())
    assert "hanger-moved" in codes(made)
    assert shown_of(made).hanger == pytest.approx(codes(made)["hangs"].at)


def test_a_part_with_no_room_for_it_gets_none_and_says_so():
    made = build(job(shape__height="25 mm", part__hanger="auto", part__hanger_hole="12 mm"), badge())
    assert "no-room-for-hanger" in codes(made)
    assert shown_of(made).hanger is None
    assert made.shape.part is made.shape.drawn or len(made.shape.part[0].openings) == 0


def test_a_thicker_sheet_moves_the_hole_farther_in():
    first = build(job(part__hanger="auto"), badge())
    thick = build(job(part__hanger="auto", stock__thickness="5 mm"), badge(), first)
    above = [codes(made)["hangs"].at[1] - made.layout.shape_at[1] for made in (first, thick)]
    assert above[1] <= above[0] - 4.0 + 0.02
