"""Artwork goes through a whole Build: told by its bytes, as large as it says, kept where nothing changed."""

import pytest

from core.build import build
from core.cancel import CancelToken
from core.job.job import Job, Source
from core.kit.make import check_kit, make_kit
from tests.support.artwork import svg

BADGE = svg(
    '<circle cx="50" cy="50" r="30" fill="#264653"/>'
    '<path d="M35 45Q50 25 65 45T50 70Q35 60 35 45z" fill="#e9c46a"/>'
)
SOURCE = Source("badge.txt", BADGE)


def codes(made):
    return [finding.code for finding in made.findings]


@pytest.fixture(scope="module")
def made():
    return build(Job(source=SOURCE.name), SOURCE)


def test_a_drawing_that_states_its_size_is_not_scaled(made):
    assert made.shape.size_mm == pytest.approx((60.0, 60.0), abs=1e-9)
    assert "height-from-drawing" in codes(made)
    assert "height-assumed" not in codes(made)


def test_a_height_that_is_asked_for_is_the_height(made):
    asked = build(Job(source=SOURCE.name).with_choice("shape.height", "45 mm"), SOURCE, made)
    assert asked.shape.size_mm == pytest.approx((45.0, 45.0), abs=1e-9)
    assert "height-from-drawing" not in codes(asked)


def test_another_height_of_that_order_fits_nothing_again(made):
    first = build(Job(source=SOURCE.name).with_choice("shape.height", "45 mm"), SOURCE, made)
    again = build(Job(source=SOURCE.name).with_choice("shape.height", "50 mm"), SOURCE, first)
    assert again.traced is first.traced
    other = build(Job(source=SOURCE.name).with_choice("film.inset", "1.5 mm"), SOURCE, made)
    assert other.shape is made.shape


def test_touch_ups_and_crops_are_said_to_do_nothing(made):
    job = Job(source=SOURCE.name).with_choice("picture.crop", "10,10; 500,500")
    assert "not-squared" in codes(build(job, SOURCE, made))


def test_points_on_the_picture_lie_where_they_are_seen(made):
    x, y = made.place.of((made.picture.width / 2.0, made.picture.height / 2.0))
    left, low = made.layout.shape_at
    assert (x - left, y - low) == pytest.approx((30.0, 30.0), abs=0.1)
    row, column = made.picture.height // 2, made.picture.width // 2
    assert made.picture.pixels[row, column, 0] > 0.8


def test_its_kit_is_proven_and_carries_the_drawing():
    kit = make_kit(Job(source=SOURCE.name), SOURCE, CancelToken(), lambda _stage: None)
    assert not [finding for finding in kit.findings if finding.level == "stop"]
    assert BADGE in kit.files.values()
    assert [one["format"] for one in kit.report["files"] if one["role"] == "source"] == ["svg"]
    assert kit.report["readback"]["height_error_mm"] == pytest.approx(0.0, abs=1e-6)
    assert not [finding for finding in check_kit(kit.files).findings if finding.level == "stop"]
