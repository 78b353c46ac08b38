"""Parts that do not touch: joined by bridges or set on a base plate, and the films keep to their patches."""

from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from core.build import build
from core.job.job import Job, Source
from core.outline.boolean import difference, union
from core.outline.loop import Loop
from core.outline.region import Region, bounds_of
from core.patches.base import base_round, widest_gap
from core.patches.bridges import bridges_between, with_feet
from core.router.bit import Bit
from core.router.reach import as_cut
from tests.support.pictures import badge, job

TIMES = 4


def disc(x, y, radius) -> Region:
    return Region(Loop.circle((x, y), radius))


def box(x, y, width, height) -> Region:
    points = np.array([[x, y], [x + width, y], [x + width, y + height], [x, y + height]], dtype=float)
    return Region(Loop(points, np.zeros(4)))


def joined(part, width, foot=0.0):
    for bridge in bridges_between(part, width):
        part = with_feet(union(part, (bridge.bar(),)), bridge, foot)
    return part


def area(part) -> float:
    return sum(region.area() for region in part)


def test_a_bridge_between_two_boxes_is_a_bar_of_that_width_across_the_gap():
    part = (box(0, 0, 20, 30), box(27, 0, 20, 30))
    (bridge,) = bridges_between(part, 4.0)
    assert (bridge.gap_mm, bridge.width_mm, bridge.is_sound) == (7.0, 4.0, True)
    assert bridge.middle == pytest.approx((23.5, 15.0), abs=0.5)
    made = joined(part, 4.0)
    assert len(made) == 1
    assert area(made) == pytest.approx(1200.0 + 28.0, abs=1e-9)
    footed = joined(part, 4.0, 1.5)
    assert area(footed) == pytest.approx(1228.0 + 4.0 * 1.5**2 * (1.0 - np.pi / 4.0), abs=1e-9)
    assert [finding.code for finding in as_cut(made, Bit(2.0, 1, 6.0)).findings] == ["corner-rounded"] * 4
    assert as_cut(footed, Bit(2.0, 1, 6.0)).findings == ()


def test_a_bridge_between_two_discs_spans_what_lies_between_their_edges():
    part = (disc(0, 0, 10), disc(26, 0, 10))
    made = joined(part, 5.0)
    half = np.arcsin(2.5 / 10.0)
    under_each = 100.0 * (half + np.sin(half) * np.cos(half))
    between = 26.0 * 5.0 - 2.0 * under_each
    assert area(made) == pytest.approx(200.0 * np.pi + between, rel=2e-4)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 4), st.integers(0, 3), st.floats(4.0, 9.0)), min_size=2, max_size=8,
        unique_by=lambda one: one[:2],
    ),
    st.floats(1.0, 4.0),
)  # fmt: skip
def test_pieces_become_one_with_one_bridge_less_than_there_were_and_keep_their_box(places, width):
    part = tuple(disc(22.0 * x, 22.0 * y, radius) for x, y, radius in places)
    bridges = bridges_between(part, width)
    assert len(bridges) == len(part) - 1
    assert all(bridge.is_sound for bridge in bridges)
    made = joined(part, width, 1.0)
    assert len(made) == 1
    assert difference(part, made) == ()
    box_before, box_after = (bounds_of(region.outer for region in some) for some in (part, made))
    assert np.allclose(box_before, box_after, atol=1e-9)


def test_a_bridge_keeps_off_a_tip_where_a_side_is_hardly_farther():
    tip = Region(Loop(np.array([[0.0, 0.0], [40.0, 0.0], [20.0, 40.0]]), np.zeros(3)))
    side = box(46.0, 0.0, 20.0, 60.0)
    (bridge,) = bridges_between((tip, side), 6.0)
    assert bridge.is_sound
    assert bridge.middle[1] < 12.0


def test_a_bridge_that_finds_no_ground_as_wide_as_itself_is_told():
    part = (box(0, 0, 3, 3), box(10, 0, 30, 30))
    (bridge,) = bridges_between(part, 8.0)
    assert not bridge.is_sound
    assert len(joined(part, 8.0)) == 1


def test_a_base_plate_round_a_box_is_the_box_grown():
    (plate,) = base_round((box(0, 0, 30, 20),), 5.0, 4.0)
    assert plate.area() == pytest.approx(600.0 + 2.0 * 5.0 * 50.0 + 25.0 * np.pi, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.5, 40.0), st.floats(2.0, 8.0), st.floats(1.0, 6.0), st.floats(3.0, 12.0))
def test_a_base_plate_joins_two_discs_with_a_neck_as_wide_as_asked(gap, margin, neck, radius):
    reach = radius + gap / 2.0
    part = (disc(-reach, 0, radius), disc(reach, 0, radius))
    plate = base_round(part, margin, neck)
    assert len(plate) == 1
    assert plate[0].openings == ()
    flat = plate[0].outer.flattened(1e-3)
    across = flat[np.abs(flat[:, 0]) < 0.3 * reach + 0.5]
    assert 2.0 * np.abs(across[:, 1]).min() >= min(neck, margin) - 1e-2
    assert widest_gap(part) == pytest.approx(gap, abs=0.05)


def petals() -> Source:
    picture = Image.new("RGB", (200 * TIMES, 240 * TIMES), "#ffffff")
    draw = ImageDraw.Draw(picture)
    draw.ellipse([v * TIMES for v in (30, 20, 130, 120)], fill="#b03a5b")
    draw.ellipse([v * TIMES for v in (60, 50, 100, 90)], fill="#e9c46a")
    draw.ellipse([v * TIMES for v in (110, 160, 180, 215)], fill="#2c6e91")
    out = BytesIO()
    picture.resize((200, 240), Image.Resampling.BOX).save(out, "PNG")
    return Source("petals.png", out.getvalue())


@pytest.fixture(scope="module")
def several():
    return build(Job(source="petals.png").with_choice("shape.height", "80 mm"), petals())


def changed(several, way, **more):
    made = several.job.with_choice("shape.pieces", way)
    for key, text in more.items():
        made = made.with_choice(f"shape.{key}", text)
    return build(made, petals(), several)


def patches_of(made):
    return {film.name: made.shape.film_patch(film.name)[0].area() for film in made.shape.patches.films}


def codes(made):
    return [finding.code for finding in made.findings]


def test_several_parts_are_told_with_their_number_and_cost_nothing(several):
    assert len(several.shape.part) == 2
    (told,) = [finding for finding in several.findings if finding.code == "several-parts"]
    assert "2 pieces" in told.text
    assert several.kept["pieces"].result is several.kept["shape"].result


def test_bridged_parts_are_one_as_high_as_asked_and_their_films_are_as_before(several):
    made = changed(several, "bridged")
    assert len(made.shape.part) == 1
    assert made.shape.size_mm[1] == pytest.approx(80.0, abs=1e-9)
    _, low, _, high = bounds_of(region.outer for region in made.shape.part)
    assert high - low == pytest.approx(80.0, abs=1e-9)
    assert patches_of(made) == patches_of(several)
    assert codes(made).count("bridge") == 1
    assert "several-parts" not in codes(made)


def test_on_a_base_plate_the_height_is_that_of_the_drawn_shape_and_it_is_said(several):
    made = changed(several, "based", base_margin="6 mm")
    assert len(made.shape.part) == 1
    assert made.shape.part[0].openings == ()
    drawn, whole = (bounds_of(one.outer for one in some) for some in (made.shape.drawn, made.shape.part))
    assert drawn[3] - drawn[1] == pytest.approx(80.0, abs=1e-9)
    assert whole[3] - whole[1] == pytest.approx(92.0, abs=1e-6)
    assert patches_of(made) == patches_of(several)
    (told,) = [finding for finding in made.findings if finding.code == "base-plate"]
    assert "92.00 mm high" in told.text
    assert "80 mm" in told.text


def test_an_opening_that_was_asked_for_stays_open_in_a_base_plate():
    made = build(job(shape__pieces="based", shape__patches="138,174 through"), badge())
    (plate,) = made.shape.part
    (hole,) = plate.openings
    (asked,) = made.shape.drawn[0].openings
    assert hole.signed_area() == pytest.approx(asked.signed_area(), abs=1e-9)
