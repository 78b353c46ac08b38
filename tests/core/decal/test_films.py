"""Film = patch ∩ face: inside the face, all of it with the bare, neighbours on one edge to the last bit."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import CancelToken
from core.decal.excepted import lost_tips
from core.decal.film import FilmSource
from core.decal.films import make_films
from core.decal.weld import welded
from core.decal.width import piece_widths
from core.errors import Cancelled
from core.outline.boolean import intersection
from core.outline.chain import Chain
from core.outline.faces import regions_of
from core.outline.loop import Loop
from core.outline.measure import signed_distances
from core.outline.outline import Face, Outline
from core.outline.region import Region

QUARTER = np.tan(np.pi / 8)


def rectangle(width, height, x=0.0, y=0.0):
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], float)
    return Region(Loop(corners, np.zeros(4)).moved(x, y))


def polygon(*corners):
    return Region(Loop(np.array(corners, float), np.zeros(len(corners))))


def disc(radius, x=0.0, y=0.0):
    return Region(Loop.circle((x, y), radius))


def annulus(outer, inner):
    return Region(Loop.circle((0, 0), outer), (Loop.circle((0, 0), inner).reversed(),))


def fan(angles, bends, radius=40.0):
    """A disc cut into sectors by one bent Chain each from the middle: faces 1 to n, all of it covered."""
    n = len(angles)
    rim = radius * np.column_stack((np.cos(angles), np.sin(angles)))
    chains = []
    for index in range(n):
        following = (index + 1) % n
        turn = (angles[following] - angles[index]) % (2 * np.pi)
        middle = angles[index] + turn / 2
        way = radius * np.array([np.cos(middle), np.sin(middle)])
        bulge = np.tan(turn / 8)
        chains.append(
            Chain(np.array([rim[index], way, rim[following]]), np.array([bulge, bulge]), index + 1, 0)
        )
        half = 0.5 * rim[index]
        before = (index - 1) % n + 1
        bend = np.array([bends[index], -bends[index]])
        chains.append(Chain(np.array([[0.0, 0.0], half, rim[index]]), bend, index + 1, before))
    faces = [Face(0, (0.0, 0.0))] + [Face(index, (0.0, 0.0)) for index in range(1, n + 1)]
    return Outline(tuple(chains), tuple(faces), (0.01,) * len(chains))


def sources_of(outline):
    return tuple(
        FilmSource(f"film-{face}", "#808080", regions_of(outline, {face}))
        for face in range(1, len(outline.faces))
    )


def segments_of(film):
    """Start, end and bulge of every segment of a film."""
    return [
        (*start, *end, bulge)
        for region in film.regions
        for loop in region.loops()
        for start, end, bulge in zip(
            loop.points.tolist(), np.roll(loop.points, -1, axis=0).tolist(), loop.bulges.tolist(), strict=True
        )
    ]


FANS = st.integers(3, 7).flatmap(
    lambda n: st.tuples(
        st.lists(st.floats(0.05, 0.95), min_size=n, max_size=n),
        st.lists(st.integers(-15, 15), min_size=n, max_size=n),
    )
)


def fan_of(drawn):
    shares, bends = drawn
    n = len(shares)
    angles = [(index + 0.6 * share) * 2 * np.pi / n for index, share in enumerate(shares)]
    return fan(angles, [bend / 100 for bend in bends])


@given(FANS, st.floats(0.3, 2.0))
@settings(deadline=None, max_examples=8)
def test_films_lie_in_the_face_and_cover_it(drawn, inset):
    outline = fan_of(drawn)
    part = regions_of(outline, set(range(1, len(outline.faces))))
    made = make_films(sources_of(outline), part, inset)
    whole = sum(region.area() for region in made.face)
    assert sum(film.area() for film in made.films) == pytest.approx(whole, abs=1e-4)
    assert whole == pytest.approx(np.pi * (40.0 - inset) ** 2, abs=1e-6)
    corners = np.vstack([region.outer.flattened(0.01) for film in made.films for region in film.regions])
    assert np.hypot(*corners.T).max() <= 40.0 - inset + 1e-6


@given(FANS, st.floats(0.3, 2.0))
@settings(deadline=None, max_examples=8)
def test_films_that_meet_say_their_edge_with_equal_numbers(drawn, inset):
    outline = fan_of(drawn)
    part = regions_of(outline, set(range(1, len(outline.faces))))
    made = make_films(sources_of(outline), part, inset)
    every = [segment for film in made.films for segment in segments_of(film)]
    known = set(every)
    inner = [each for each in every if abs(np.hypot(*_middle(each)) - (40.0 - inset)) > 1e-3]
    assert len(inner) >= 2 * len(made.films)
    for x, y, to_x, to_y, bulge in inner:
        assert (to_x, to_y, x, y, -bulge) in known


def _middle(segment):
    x, y, to_x, to_y, bulge = segment
    return Chain(np.array([[x, y], [to_x, to_y]]), np.array([bulge]), 0, 0).segments().midpoints()[0]


def test_the_inset_belongs_to_the_parts_edge_and_openings_and_not_to_the_edge_between_colours():
    part = (Region(rectangle(60, 40).outer, (Loop.circle((15, 20), 5).reversed(),)),)
    left = intersection(part, (rectangle(30, 40),))
    right = (rectangle(30, 40, 30),)
    made = make_films((FilmSource("a", "#000000", left), FilmSource("b", "#ffffff", right)), part, 0.8)
    b, a = made.films
    assert (a.name, b.name) == ("a", "b")
    assert a.area() == pytest.approx(29.2 * 38.4 - np.pi * 5.8**2, abs=1e-4)
    assert b.area() == pytest.approx(29.2 * 38.4, abs=1e-6)
    assert (a.pieces, b.pieces) == (1, 1)
    assert made.findings == ()


def test_a_film_that_lies_in_the_inset_alone_is_told_and_left_out():
    rim = FilmSource("rim", "#000000", (annulus(20.0, 19.5),))
    made = make_films((rim,), (disc(20.0),), 0.8)
    assert made.films == ()
    assert [finding.code for finding in made.findings] == ["film-vanished"]


def test_pieces_too_small_to_weed_and_strokes_too_thin_are_told_with_their_place():
    patches = (disc(0.9, 10, 10), rectangle(20, 0.7, 20, 20), rectangle(5, 5, 30, 5))
    made = make_films((FilmSource("dots", "#000000", patches),), (rectangle(60, 40),), 0.8)
    found = {finding.code: finding.at for finding in made.findings}
    assert set(found) == {"tiny-piece", "thin-stroke"}
    assert np.hypot(found["tiny-piece"][0] - 10, found["tiny-piece"][1] - 10) <= 1.0
    assert 20 < found["thin-stroke"][0] < 40
    assert 20 < found["thin-stroke"][1] < 20.7
    assert any("0.70 mm wide" in one.text for one in made.findings if one.code == "thin-stroke")


def test_many_small_pieces_are_told_two_dozen_at_a_time():
    dots = tuple(disc(0.5, 4 * index + 4, 10) for index in range(30))
    made = make_films((FilmSource("dots", "#000000", dots),), (rectangle(130, 40),), 0.8)
    codes = [finding.code for finding in made.findings]
    assert codes == ["tiny-piece"] * 24 + ["small-pieces"]
    assert "6 more" in made.findings[-1].text


def test_work_that_is_no_longer_wanted_is_given_up():
    with pytest.raises(Cancelled):
        make_films(
            (FilmSource("a", "#000000", (disc(5.0),)),), (disc(10.0),), 0.8, token=CancelToken(lambda: True)
        )


DUMBBELL = polygon(
    (0, 0), (10, 0), (10, 4.25), (20, 4.25), (20, 0), (30, 0), (30, 10), (20, 10), (20, 5.75), (10, 5.75),
    (10, 10), (0, 10),
)  # fmt: skip


@pytest.mark.parametrize(
    ("region", "width"),
    [
        (rectangle(10, 3), 3.0),
        (rectangle(10, 0.5), 0.5),
        (rectangle(0.1, 4), 0.1),
        (disc(7.0), 14.0),
        (annulus(10.0, 8.0), 2.0),
        (DUMBBELL, 1.5),
        (polygon((0, 0), (30, 0), (15, 15 * 3**0.5)), 30 / 3**0.5),
    ],
    ids=["bar", "thin bar", "hair", "disc", "ring", "dumbbell", "triangle"],
)
def test_the_smallest_width_of_a_piece_is_that_of_its_closed_form(region, width):
    assert piece_widths((region,))[0] == pytest.approx(width, abs=0.05, rel=0.02)


def test_an_opening_near_the_edge_makes_the_piece_as_thin_as_what_is_between():
    region = Region(disc(10).outer, (Loop.circle((5.0, 0.0), 4.0).reversed(),))
    assert piece_widths((region,))[0] == pytest.approx(1.0, abs=0.05)


def test_pieces_are_measured_each_for_itself():
    widths = piece_widths((rectangle(10, 3), disc(1.0, 30, 0), DUMBBELL))
    assert widths.tolist() == pytest.approx([3.0, 2.0, 1.5], abs=0.05)


@pytest.mark.parametrize("degrees", [20.0, 30.0, 45.0, 60.0])
def test_a_sharp_tip_is_listed_with_the_edge_it_loses(degrees):
    half = np.radians(degrees) / 2
    part = (polygon((0, 0), (40 * np.tan(half), 40), (-40 * np.tan(half), 40)),)
    tip = [place for place in lost_tips(part, part, 0.6) if np.hypot(*place.at) < 0.01]
    assert [place.why for place in tip] == ["tip"]
    # The inset's disc touches both edges cot(half) of it from the tip (closed form).
    assert tip[0].size_mm == pytest.approx(2 * 0.6 / np.tan(half), abs=0.25)


def test_a_right_angle_is_no_lost_tip_and_bare_tips_lose_nothing():
    square = (rectangle(30, 30),)
    assert lost_tips(square, square, 0.8) == ()
    needle = (polygon((0, 0), (60, -3), (60, 3)),)
    assert lost_tips(needle, (rectangle(5, 6, 55, -3),), 0.8) == ()
    assert lost_tips(needle, needle, 0.0) == ()


def test_a_neck_too_narrow_for_the_face_is_listed_once():
    neck = lost_tips((DUMBBELL,), (DUMBBELL,), 0.8)
    assert len(neck) == 1
    assert neck[0].size_mm == pytest.approx(20.0, abs=2.0)


@given(st.lists(st.floats(-1e-7, 1e-7), min_size=16, max_size=16))
@settings(deadline=None, max_examples=30)
def test_edges_that_differ_in_their_last_digits_become_one(noise):
    shift = np.array(noise).reshape(8, 2)
    left = Region(
        Loop(np.array([[0, 0], [10, 0], [10, 20], [0, 20.0]]) + shift[:4], np.array([0, 0.2, 0, 0]))
    )
    right = Region(
        Loop(
            np.array([[10, 0], [25, 0], [25, 20], [10, 20.0]]) + shift[4:],
            np.array([0, 0, 0, -0.2 * (1 + 1e-12)]),
        )
    )
    (a,), (b,) = welded(((left,), (right,)))
    np.testing.assert_array_equal(a.outer.points[[1, 2]], b.outer.points[[0, 3]])
    assert a.outer.bulges[1] == -b.outer.bulges[3]
    assert abs(a.outer.points - left.outer.points).max() <= 1e-6


def test_two_halves_of_a_circle_stay_two_arcs():
    (circle,) = welded(((disc(5.0),),))[0]
    assert circle.area() == pytest.approx(25 * np.pi)


def test_films_of_a_shape_with_corners_stay_within_the_face():
    star = np.array([np.exp(1j * np.pi * index / 5) * (40 if index % 2 else 18) for index in range(10)])
    part = (polygon(*np.column_stack((star.real, star.imag))),)
    made = make_films((FilmSource("star", "#000000", part),), part, 0.8)
    corners = np.vstack([region.outer.flattened(0.01) for region in made.films[0].regions])
    assert signed_distances(part, corners).__abs__().min() >= 0.8 - 1e-4
    assert len(made.excepted) == 5


def test_a_sliver_thinner_than_any_look_at_it_has_no_width():
    lens = Region(Loop(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([1e-3, 1e-3])))
    widths = piece_widths((lens, rectangle(10.0, 3.0)))
    assert widths[0] == 0.0
    assert widths[1] == pytest.approx(3.0, abs=0.06)


@given(st.lists(st.floats(0.1, 6.0), min_size=1, max_size=6), st.floats(0.3, 3.0))
@settings(deadline=None, max_examples=40)
def test_where_enough_is_known_the_narrow_and_the_narrowest_are_told_as_before(sides, enough):
    pieces = tuple(rectangle(20.0, side, 0.0, 10.0 * row) for row, side in enumerate(sides))
    told, at_least = piece_widths(pieces), piece_widths(pieces, enough)
    narrow = (told < enough - 0.05) | (told == told.min())
    np.testing.assert_allclose(at_least[narrow], told[narrow], atol=0.05, rtol=0.02)
    assert (at_least <= np.array(sides) * 1.02 + 0.05).all()  # the others have at least what is told
    assert (at_least[~narrow] >= min(enough, told.min()) - 0.06).all()
