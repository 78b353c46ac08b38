"""What of the picture becomes film: colours, the whole face, or dark lines alone; each kit is proven."""

import pytest

from core.build import build
from core.cancel import NEVER
from core.findings import Level
from core.job.job import Job
from core.kit.make import make_kit
from tests.support.pictures import line_drawing


def job(**choices):
    made = Job(source="lines.png").with_choice("shape.height", "80 mm")
    for key, text in choices.items():
        made = made.with_choice(key.replace("__", "."), text)
    return made


def kit(**choices):
    return make_kit(job(**choices), line_drawing(), NEVER, lambda _: None)


@pytest.mark.parametrize("how", ["moved", "thinned", "dropped"])
def test_a_rim_is_proven_in_the_kit_as_it_was_asked_for(how):
    made = kit(film__made_of="dark lines", film__rim=how)
    assert not [one for one in made.findings if one.level is Level.STOP]
    assert {film["name"] for film in made.report["films"]} == {"black"}
    assert made.report["readback"]["film_error_mm"]["black"]["max"] <= 0.01
    told = [one for one in made.report["readback"]["excepted"] if one["why"] == "rim"]
    assert bool(told) is (how != "thinned")
    assert f"rim-{how}" in {one.code for one in made.findings}


def test_dark_lines_leave_all_other_colours_clear():
    both = build(job(), line_drawing())
    lines = build(job(film__made_of="dark lines"), line_drawing())
    assert {film.name for film in both.films.films} == {"black", "gold"}
    assert {film.name for film in lines.films.films} == {"black"}


def test_the_whole_face_is_one_film_as_large_as_the_face():
    made = build(job(film__made_of="whole face"), line_drawing())
    (film,) = made.films.films
    assert film.name == "face"
    assert film.area() == pytest.approx(sum(region.area() for region in made.films.face), abs=1e-6)
    proven = kit(film__made_of="whole face")
    assert not [one for one in proven.findings if one.level is Level.STOP]


@pytest.mark.parametrize("islands", ["loose", "bridged"])
def test_a_stencil_is_proven_in_the_kit_with_bridges_only_when_asked(islands):
    made = kit(film__stencils="black", film__stencil_islands=islands)
    assert not [one for one in made.findings if one.level is Level.STOP]
    black = next(film for film in made.report["films"] if film["name"] == "black")
    assert bool(black["stencil"]["bridges"]) is (islands == "bridged")
    assert made.report["readback"]["film_error_mm"]["black"]["max"] <= 0.01
    listed = [one for one in made.report["readback"]["excepted"] if one["why"] == "bridge"]
    assert len(listed) == len(black["stencil"]["bridges"])


def test_in_a_picture_of_several_colours_a_band_along_the_edge_stays_unless_dark_lines_are_asked_for():
    both = build(job(), line_drawing())
    assert not any(film.rim for film in both.films.films)
    assert not [one for one in both.findings if one.code.startswith("rim-")]
    assert all(film.rim for film in build(job(film__made_of="dark lines"), line_drawing()).films.films)
