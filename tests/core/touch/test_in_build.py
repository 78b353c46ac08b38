"""Touch-ups as part of the whole: made again on every Build, and no dearer than they must be."""

from core.build import build
from tests.support.pictures import badge, job


def test_without_touch_ups_nothing_is_made_again_and_a_corner_traces_nothing():
    first = build(job(), badge())
    told: list[str] = []
    made = build(job(shape__corners="round 54,36 4 mm"), badge(), first, tell=told.append)
    assert told == ["shape", "pieces", "hanger", "reach", "sheet", "found", "path", "films", "forecast"]
    assert made.traced is first.traced
    assert {finding.code for finding in made.findings} == {finding.code for finding in first.findings}


def test_a_touch_up_holds_at_every_height():
    """The badge's inner disc is rubbed out: the film of its colour is no more."""
    rubbed = job(picture__touches="rub 138,174 54")
    for height in ("40 mm", "90 mm"):
        made = build(rubbed.with_choice("shape.height", height), badge())
        assert [film.name for film in made.films.films] == ["teal"]


def test_a_radius_in_mm_is_so_in_the_part():
    made = build(job(shape__corners="round 186,102 3 mm"), badge())
    (region,) = made.shape.part
    radii = region.outer.segments().radii()
    assert abs(radii - 3.0).min() < 1e-6


def test_an_edit_without_effect_is_told_where_it_lies():
    made = build(job(picture__touches="rub 20,280 5", shape__corners="round 150,150 2 mm"), badge())
    told = {finding.code: finding for finding in made.findings}
    for code, at in (("touch-idle", (20.0, 280.0)), ("corner-not-found", (150.0, 150.0))):
        x, y = made.place.of(at)
        assert abs(told[code].at[0] - x) < 1e-9
        assert abs(told[code].at[1] - y) < 1e-9
