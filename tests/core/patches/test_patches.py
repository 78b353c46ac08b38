"""Roles: what is proposed, what the maker's word changes, which specks go, what films are called."""

import numpy as np
import pytest

from core.errors import BadValue, WrongCall
from core.outline.chain import Chain
from core.outline.outline import BEYOND, Face, Outline
from core.patches.colour_names import hex_of, keywords, nearest_keyword
from core.patches.face_at import face_at
from core.patches.patches import (
    ColourRole,
    PatchRole,
    RoleWishes,
    SinglePatchRole,
    checked_name,
    film_patch,
    part_of,
)
from core.patches.role import Role
from core.patches.roles import automatic_names, propose
from core.patches.shape import Size, faces_box, scaled_to, shape_of
from core.patches.specks import absorbed, face_areas

WHITE, GREEN, RED = (1.0, 1.0, 1.0), (0.0, 0.5, 0.0), (0.8, 0.0, 0.0)
PALETTE = (WHITE, GREEN, RED)
QUARTER = np.tan(np.pi / 8)


def ring(x, y, radius, left, right):
    """A circle with the face ``left`` inside."""
    return Chain(
        np.array([[x + radius, y], [x - radius, y], [x + radius, y]]), np.array([1.0, 1.0]), left, right
    )


def arc(points, bulge, left, right):
    return Chain(np.array(points, float), np.full(len(points) - 1, bulge), left, right)


def face(colour, x, y):
    return Face(colour, (float(x), float(y)))


@pytest.fixture
def turtle():
    """A disc of radius 50 about (100, 100), px: green left of x = 100, red right; in the green a white eye
    of radius 6; in the red a green dot of radius 0.4; beside the disc a red dot of radius 0.3."""
    top, bottom = (100, 150), (100, 50)
    chains = (
        arc([top, (50, 100), bottom], QUARTER, 1, 0),
        arc([bottom, (150, 100), top], QUARTER, 2, 0),
        arc([bottom, top], 0.0, 1, 2),
        ring(70, 100, 6, 3, 1),
        ring(130, 100, 0.4, 4, 2),
        ring(200, 180, 0.3, 5, 0),
    )
    faces = (
        face(0, 0, 0),
        face(1, 60, 120),
        face(2, 120, 120),
        face(0, 70, 100),
        face(1, 130, 100),
        face(2, 200, 180),
    )
    return Outline(chains, faces, (0.01,) * len(chains))


def roles(patches):
    return [str(patch.role) for patch in patches.roles]


def codes(patches):
    return [finding.code for finding in patches.findings]


def test_the_silhouette_is_solid_and_an_enclosed_light_area_is_bare(turtle):
    patches = propose(turtle, PALETTE, 0)
    assert roles(patches) == ["ground", "film", "film", "bare", "film", "film"]
    assert codes(patches) == ["enclosed-bare"]
    (whole, dot) = sorted(part_of(turtle, patches), key=lambda region: -region.area())
    assert whole.openings == ()
    assert whole.area() == pytest.approx(np.pi * 2500)
    assert dot.area() == pytest.approx(np.pi * 0.09)


def test_nothing_goes_through_but_what_is_asked(turtle):
    wish = SinglePatchRole((71.0, 101.0), Role.THROUGH, colour=WHITE)
    patches = propose(turtle, PALETTE, 0, RoleWishes(patches=(wish,)))
    assert patches.through_faces() == {3}
    assert sorted(len(region.openings) for region in part_of(turtle, patches)) == [0, 1]
    assert codes(patches) == []


def test_a_colours_role_reaches_all_its_patches_and_a_single_patch_differs(turtle):
    wishes = RoleWishes(
        (ColourRole((0.0, 0.49, 0.02), Role.BARE),),
        (SinglePatchRole((130.0, 100.1), Role.FILM, "spot"),),
    )
    patches = propose(turtle, PALETTE, 0, wishes)
    assert patches.faces_of((Role.BARE,)) == {1, 3}
    assert patches.film_faces("spot") == {4}


def test_the_ground_beyond_stays_ground_whatever_its_colour_is_to_be(turtle):
    wishes = RoleWishes((ColourRole(WHITE, Role.FILM, "paper"),))
    patches = propose(turtle, PALETTE, 0, wishes)
    assert roles(patches)[BEYOND] == "ground"
    assert patches.film_faces("paper") == {3}


def test_a_ground_coloured_face_that_meets_the_ground_beyond_is_ground():
    chains = (
        arc([(0, 0), (10, 0)], 0.0, 1, 0),
        arc([(10, 0), (10, 10), (0, 10), (0, 0)], 0.0, 1, 2),
        arc([(10, 0), (20, 0), (20, 20), (0, 20), (0, 0)], 0.0, 2, 0),
    )
    outline = Outline(chains, (face(0, 0, 0), face(0, 5, 5), face(1, 15, 15)), (0.0,) * 3)
    assert roles(propose(outline, PALETTE, 0)) == ["ground", "ground", "film"]


@pytest.mark.parametrize(
    ("wishes", "code"),
    [
        (RoleWishes(patches=(SinglePatchRole((10.0, 10.0), Role.BARE),)), "patch-not-found"),
        (RoleWishes(patches=(SinglePatchRole((70.0, 100.0), Role.BARE, colour=RED),)), "patch-changed"),
        (RoleWishes((ColourRole((0.0, 0.0, 1.0), Role.BARE),)), "colour-not-found"),
    ],
)
def test_a_word_that_nothing_answers_to_is_told_and_changes_nothing(turtle, wishes, code):
    patches = propose(turtle, PALETTE, 0, wishes)
    assert code in codes(patches)
    assert patches.roles == propose(turtle, PALETTE, 0).roles


def test_specks_take_the_role_and_colour_of_the_neighbour_with_most_edge(turtle):
    patches = propose(turtle, PALETTE, 0, smallest=1.0)
    assert patches.specks == {4, 5}
    assert patches.roles[4] == patches.roles[2]
    assert patches.roles[5] == PatchRole(Role.GROUND)
    (red,) = film_patch(turtle, patches, "firebrick")
    assert red.openings == ()
    counted = [finding for finding in patches.findings if finding.code in {"specks", "speck"}]
    assert {finding.at for finding in counted} == {(130.0, 100.0), (200.0, 180.0)}


def test_specks_are_told_with_their_size_in_mm_the_largest_first(turtle):
    areas = face_areas(turtle)[[4, 5]] * 0.5**2
    told = propose(turtle, PALETTE, 0, smallest=1.0, unit_mm=0.5).findings
    (counted,) = [finding for finding in told if finding.code == "specks"]
    assert f"2 specks were too small to keep (together {areas.sum():.2f} mm2" in counted.text
    assert f"the largest {areas.max():.2f} mm2" in counted.text


def test_a_speck_that_was_given_a_role_stays(turtle):
    wishes = RoleWishes(patches=(SinglePatchRole((130.0, 100.0), Role.THROUGH),))
    patches = propose(turtle, PALETTE, 0, wishes, smallest=1.0)
    assert patches.specks == {5}
    assert patches.through_faces() == {4}


def test_specks_beside_each_other_grow_together_before_they_go():
    # Two cells of 1 x 1 side by side in a wide face: together they are no speck any more.
    chains = (
        arc([(5, 5), (6, 5)], 0.0, 2, 1),
        arc([(6, 5), (6, 6)], 0.0, 2, 3),
        arc([(6, 6), (5, 6), (5, 5)], 0.0, 2, 1),
        arc([(6, 5), (7, 5), (7, 6), (6, 6)], 0.0, 3, 1),
        arc([(0, 0), (20, 0), (20, 20), (0, 20), (0, 0)], 0.0, 1, 0),
    )
    faces = (face(0, 0, 0), face(1, 15, 15), face(2, 5.5, 5.5), face(2, 6.5, 5.5))
    outline = Outline(chains, faces, (0.0,) * 5)
    assert face_areas(outline).tolist() == pytest.approx([np.inf, 398.0, 1.0, 1.0])
    assert absorbed(outline, 1.5) == {2: 1, 3: 1}


@pytest.mark.parametrize(("x", "host"), [(9.2, 1), (9.8, 2)])
def test_a_speck_across_an_edge_goes_where_most_of_its_own_edge_is(x, host):
    # Faces 1 and 2 meet at x = 10; the speck of 1 x 1 from x lies on both.
    chains = (
        arc([(10, 0), (10, 5)], 0.0, 1, 2),
        arc([(10, 5), (x, 5), (x, 6), (10, 6)], 0.0, 1, 3),
        arc([(10, 5), (x + 1, 5), (x + 1, 6), (10, 6)], 0.0, 3, 2),
        arc([(10, 6), (10, 20)], 0.0, 1, 2),
        arc([(10, 20), (0, 20), (0, 0), (10, 0)], 0.0, 1, 0),
        arc([(10, 0), (20, 0), (20, 20), (10, 20)], 0.0, 2, 0),
    )
    faces = (face(0, 0, 0), face(1, 2, 2), face(2, 18, 18), face(0, x + 0.5, 5.5))
    assert absorbed(Outline(chains, faces, (0.0,) * 6), 1.5) == {3: host}


@pytest.mark.parametrize(
    ("point", "expected"),
    [((60, 120), 1), ((140, 90), 2), ((70, 100), 3), ((130, 100.1), 4), ((10, 10), 0), ((70, 107), 1)],
)
def test_a_press_finds_the_face_it_lies_in(turtle, point, expected):
    assert face_at(turtle, point) == expected


def test_every_face_is_found_by_its_own_inside_point(turtle):
    assert [face_at(turtle, each.inside) for each in turtle.faces] == list(range(len(turtle.faces)))


def test_films_are_called_by_the_nearest_keyword_each_name_once(turtle):
    patches = propose(turtle, PALETTE, 0)
    assert [film.name for film in patches.films] == ["green", "firebrick"]
    names = automatic_names([GREEN, (0.0, 0.502, 0.0), GREEN])
    assert names == ["green", "green-2", "green-3"]


def test_a_patch_that_is_told_the_name_of_another_colours_film_joins_it(turtle):
    red = [face for face, role in enumerate(propose(turtle, PALETTE, 0).roles) if role.film == "firebrick"]
    told = tuple(SinglePatchRole(turtle.faces[face].inside, Role.FILM, "green") for face in red)
    patches = propose(turtle, PALETTE, 0, RoleWishes(patches=told))
    assert [film.name for film in patches.films] == ["green"]
    assert {patches.roles[face].film for face in red} == {"green"}


def test_every_keyword_is_the_nearest_to_its_own_colour():
    for name, colour in keywords().items():
        assert keywords()[nearest_keyword(colour)] == colour, name


def test_a_colour_is_written_in_six_digits():
    assert hex_of((1.0, 0.5, 0.0)) == "#ff8000"


@pytest.mark.parametrize("name", ["", "Shell", "a b", "-a", "a--b", "schäl", "a_b", "a\n"])
def test_a_name_that_could_not_stand_everywhere_is_refused(name):
    with pytest.raises(BadValue):
        checked_name(name)


def test_the_part_is_exactly_as_high_as_asked_and_stands_at_the_origin(turtle):
    shape = shape_of(turtle, PALETTE, 0, RoleWishes(), size=Size(118.0), smallest_mm2=1.5)
    box = faces_box(shape.outline, shape.patches.part_faces())
    assert box == pytest.approx((0.0, 0.0, 118.0, 118.0), abs=1e-9)
    assert shape.size_mm == pytest.approx((118.0, 118.0))
    assert len(shape.part) == 1


def test_a_speck_beside_the_shape_does_not_count_in_its_height(turtle):
    with_speck = shape_of(turtle, PALETTE, 0, RoleWishes(), size=Size(100.0), smallest_mm2=0.0)
    without = shape_of(turtle, PALETTE, 0, RoleWishes(), size=Size(100.0), smallest_mm2=1.5)
    assert without.scale == pytest.approx(1.0)
    assert with_speck.scale < 0.8


def test_a_points_place_in_the_shape_is_its_place_in_the_picture_scaled_and_moved(turtle):
    shape = shape_of(turtle, PALETTE, 0, RoleWishes(), size=Size(50.0), smallest_mm2=1.5)
    x, y = (0.5 * 70 - 25, 0.5 * 100 - 25)
    assert (shape.scale * 70 + shape.shift[0], shape.scale * 100 + shape.shift[1]) == pytest.approx((x, y))
    assert face_at(shape.outline, (x, y)) == 3
    (eye,) = [finding for finding in shape.patches.findings if finding.code == "enclosed-bare"]
    assert eye.at == pytest.approx((x, y))


def test_a_picture_without_a_part_is_one_sentence(turtle):
    wishes = RoleWishes(tuple(ColourRole(colour, Role.GROUND) for colour in PALETTE))
    with pytest.raises(WrongCall, match="Nothing in the picture is part"):
        shape_of(turtle, PALETTE, 0, wishes, size=Size(50.0), smallest_mm2=0.0)


def test_scaling_takes_the_bellies_of_arcs_into_account():
    outline = Outline((ring(3.0, 4.0, 2.0, 1, 0),), (face(0, 0, 0), face(1, 3, 4)), (0.0,))
    scaled = scaled_to(outline, {1}, Size(10.0))
    assert faces_box(scaled.outline, {1}) == pytest.approx((0.0, 0.0, 10.0, 10.0))
