"""How small and how large the shape may be made, and what breaks beyond."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageDraw

from core.build import build
from core.cancel import NEVER, CancelToken
from core.errors import Cancelled
from core.findings import has_stop
from core.job.job import Job, Source
from core.limits import CLOSE, DOUBT_MM, LOST, MOST_MM, limits_of
from core.units import LENGTH, measured
from tests.support.pictures import badge, job


def silent(_told):
    """Nobody listens."""


@pytest.fixture(scope="module")
def made():
    return build(job(), badge())


@pytest.fixture(scope="module")
def limits(made):
    return limits_of(made, NEVER, silent)


def breaks_at(made, height_mm):
    asked = made.job.with_value("shape.height", measured(height_mm, LENGTH))
    known = {found.code for found in made.findings}
    found = build(asked, made.source, made).findings
    return has_stop(found) or any(one.code in LOST and one.code not in known for one in found)


def test_it_is_good_inside_and_broken_just_beyond(made, limits):
    for limit, beyond in ((limits.smallest, 1.0 - 2.0 * CLOSE), (limits.largest, 1.0 + 2.0 * CLOSE)):
        assert limit.breaks is not None
        assert not breaks_at(made, limit.height_mm)
        assert breaks_at(made, limit.height_mm * beyond)


def test_what_breaks_first_is_named(limits):
    assert limits.smallest.height_mm < 60.0 < limits.largest.height_mm
    assert limits.smallest.breaks.code in LOST
    assert limits.largest.breaks.code in {"stock-too-large", "travel-too-short"}


def test_how_large_the_picture_is_good_for_follows_from_its_edges(made, limits):
    asked = max(made.shape.outline.doubt)
    assert limits.doubt_mm == asked
    assert limits.largest_sharp_mm == pytest.approx(min(made.height_mm * DOUBT_MM / asked, MOST_MM))


def test_from_a_height_that_is_too_large_it_finds_its_way_back(made, limits):
    huge = build(job(shape__height=f"{limits.largest.height_mm * 1.5:.2f} mm"), badge(), made)
    assert has_stop(huge.findings)
    found = limits_of(huge, NEVER, silent)
    assert found.largest.height_mm == pytest.approx(limits.largest.height_mm, rel=2.0 * CLOSE)


def test_the_search_is_given_up_when_nobody_wants_it(made):
    with pytest.raises(Cancelled):
        limits_of(made, CancelToken(lambda: True), silent)


def odd_shape(seed):
    """A picture drawn here by chance: a lobed blob with a film, a slot and a tip, each of another width."""
    rng = np.random.default_rng(seed)
    size, times = 260, 4
    picture = Image.new("RGB", (size * times, size * times), "#ffffff")
    draw = ImageDraw.Draw(picture)
    turn = np.linspace(0.0, 2.0 * np.pi, 240, endpoint=False)
    lobes, deep = rng.integers(2, 7), rng.uniform(0.05, 0.3)
    radius = times * size * 0.32 * (1.0 + deep * np.cos(lobes * turn + rng.uniform(0, 6)))
    middle = times * size / 2.0
    rim = np.column_stack((middle + radius * np.cos(turn), middle + radius * np.sin(turn)))
    draw.polygon([(x, y) for x, y in rim.tolist()], "#2c6e91")
    wide, tall = rng.uniform(0.04, 0.2, 2) * times * size
    x, y = middle + rng.uniform(-0.08, 0.08, 2) * times * size
    draw.ellipse((x - wide, y - tall, x + wide, y + tall), "#e9c46a")
    slim = rng.uniform(0.015, 0.05) * times * size
    draw.rectangle((middle - slim, middle - 0.42 * times * size, middle + slim, middle), "#2c6e91")
    out = BytesIO()
    picture.resize((size, size), Image.Resampling.BOX).save(out, "PNG")
    return Source("odd.png", out.getvalue())


@pytest.mark.whole
@pytest.mark.parametrize("seed", range(20))
def test_the_smallest_good_height_holds_just_above_and_fails_just_below(seed):
    asked = Job(source="odd.png").with_choice("shape.height", "90 mm")
    made = build(asked, odd_shape(seed))
    found = limits_of(made, NEVER, silent).smallest
    assert found is not None
    assert found.breaks is not None
    assert not breaks_at(made, found.height_mm * (1.0 + 0.1 * CLOSE))
    below = (0.25, 0.5, 0.75, 1.0)  # shares of what the limit is found to: a thin piece may be gone beyond
    assert any(breaks_at(made, found.height_mm * (1.0 - share * CLOSE)) for share in below)
