"""A rim moved inward keeps its width and meets no other film; dropped, lines run on to the edge."""

from math import pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.rim import Rim, RimWish, rimmed
from core.decal.rim_runs import rim_of
from core.outline.boolean import difference, intersection, union
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from tests.support.shapes import any_shape, area, rectangle, rounded, same_shape, solid

PART = solid(rounded(60, 40, 8))
INNER = shrunk(PART, 1.5)
RIM = difference(PART, INNER)
BAR = intersection(solid(rectangle(2, 40, (29, 0))), PART)
DRAWN = union(RIM, BAR)


def flat(regions):
    return shapely.union_all(to_polygon(regions, 1e-4).geoms)


def film_of(patch, how, inset=0.8, widest=4.0, part=PART):
    wish = FilmWish(inset, rim=RimWish(how, widest))
    return films_as_wished((FilmSource("ink", "#000000", patch),), part, wish)


def test_moved_a_rim_is_as_wide_in_the_film_as_it_was_drawn():
    (film,) = film_of(RIM, Rim.MOVED).films
    wanted = difference(shrunk(PART, 0.8), shrunk(PART, 2.3))
    assert same_shape(film.regions, wanted, 0.002)
    assert [run.width_mm for run in film.rim] == [pytest.approx(1.5, abs=0.01)]


def test_thinned_it_is_what_the_face_leaves_of_it():
    (film,) = film_of(RIM, Rim.THINNED).films
    assert same_shape(film.regions, difference(shrunk(PART, 0.8), INNER), 0.002)


def test_a_rim_narrower_than_the_inset_is_there_when_moved():
    thin = difference(PART, shrunk(PART, 0.6))
    assert film_of(thin, Rim.THINNED).films == ()
    (film,) = film_of(thin, Rim.MOVED).films
    assert same_shape(film.regions, difference(shrunk(PART, 0.8), shrunk(PART, 1.4)), 0.002)


def test_a_line_that_meets_the_rim_stays_as_wide_as_it_was():
    (film,) = film_of(DRAWN, Rim.MOVED).films
    assert len(film.rim) == 2
    cut = flat(film.regions).intersection(shapely.LineString([(20, 20), (40, 20)]))
    assert cut.length == pytest.approx(2.0, abs=1e-3)
    moved = flat(film.regions).intersection(shapely.LineString([(15, 0), (15, 10)]))
    assert moved.length == pytest.approx(1.5, abs=1e-3)


def test_dropped_the_lines_that_met_it_run_on_to_the_face():
    (film,) = film_of(DRAWN, Rim.DROPPED).films
    wanted = intersection(BAR, shrunk(PART, 0.8))
    assert same_shape(film.regions, wanted, 0.01)


def test_dropped_in_a_part_with_sharp_corners_nothing_stays_in_them():
    part = solid(rectangle(30, 20))
    frame = difference(part, solid(rectangle(26, 16, (2, 2))))
    made = film_of(frame, Rim.DROPPED, part=part)
    assert made.films == ()


@pytest.mark.parametrize(("widest", "is_rim"), [(1.4, False), (1.6, True)])
def test_only_lines_up_to_the_widest_are_a_rim(widest, is_rim):
    assert bool(rim_of(RIM, PART, (), widest).runs) is is_rim


def test_a_band_with_another_film_inside_it_is_no_rim_and_both_still_meet():
    made = films_as_wished(
        (FilmSource("ink", "#000000", RIM), FilmSource("sky", "#3070c0", INNER)),
        PART,
        FilmWish(0.8, rim=RimWish(Rim.MOVED)),
    )
    assert not any(film.rim for film in made.films)
    assert sum(film.area() for film in made.films) == pytest.approx(area(shrunk(PART, 0.8)), abs=1e-6)


def test_a_moved_rim_stops_at_a_film_beyond_a_narrow_gap():
    island = shrunk(PART, 1.9)
    made = films_as_wished(
        (FilmSource("ink", "#000000", RIM), FilmSource("sky", "#3070c0", island)),
        PART,
        FilmWish(0.8, rim=RimWish(Rim.MOVED)),
    )
    ink, sky = (flat(film.regions) for film in sorted(made.films, key=lambda film: film.name))
    assert shapely.intersection(ink, sky).area < 1e-6
    assert sky.area == pytest.approx(area(island), abs=0.01)


def test_an_openings_rim_moves_too():
    hole = solid(rounded(20, 12, 3))
    part = difference(PART, tuple(region.mapped(lambda loop: loop.moved(20, 14)) for region in hole))
    drawn = difference(part, shrunk(part, 1.2))
    (film,) = film_of(drawn, Rim.MOVED, part=part).films
    assert same_shape(film.regions, difference(shrunk(part, 0.8), shrunk(part, 2.0)), 0.002)
    assert len(film.rim) == 2


@given(st.integers(0, 300), st.floats(0.3, 1.5), st.floats(0.2, 1.0))
@settings(max_examples=25, deadline=None)
def test_whatever_the_part_a_moved_rim_has_all_that_the_patch_has_in_the_face(seed, width, inset):
    part = any_shape(seed)
    frame = difference(part, shrunk(part, width))
    (moved,) = rimmed([frame], part, inset, RimWish(Rim.MOVED))
    assert flat(frame).difference(flat(moved.patch).buffer(0.003)).is_empty
    assert flat(moved.patch).difference(flat(frame).buffer(inset + 0.003)).is_empty
    (dropped,) = rimmed([frame], part, inset, RimWish(Rim.DROPPED))
    assert flat(dropped.patch).difference(flat(frame).buffer(0.003)).is_empty


def test_the_note_tells_width_and_what_became_of_it():
    for how, word in (
        (Rim.MOVED, "moved in by 0.8 mm"),
        (Rim.THINNED, "leaves 0.7 mm"),
        (Rim.DROPPED, "dropped"),
    ):
        (note,) = [one for one in film_of(DRAWN, how).findings if one.code == f"rim-{how}"]
        assert "1.5 mm wide" in note.text
        assert word in note.text
        assert "film.rim" in note.remedy


def test_a_disc_has_a_rim_all_round():
    disc = solid(rounded(20, 20, 9.999))
    frame = difference(disc, shrunk(disc, 1.0))
    (run,) = rim_of(frame, disc, (), 4.0).runs
    assert run.start == run.end
    assert run.length_mm == pytest.approx(2 * pi * 9, abs=0.02)
