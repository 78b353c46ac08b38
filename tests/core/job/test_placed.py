"""Points and roles as they are typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadValue
from core.job.placed import ColourAndRole, FramePoint, PatchAndRole, PicturePoint, SpokenRole
from core.job.wish import RoleOfColour, RoleOfPatch
from core.patches.role import Role

PIXELS = st.floats(0, 99_999)
FILM_NAMES = st.from_regex(r"[a-z0-9]{1,6}(-[a-z0-9]{1,6})?", fullmatch=True)
ROLES = st.builds(SpokenRole, st.just(Role.FILM), FILM_NAMES | st.just("")) | st.builds(
    SpokenRole, st.sampled_from([Role.BARE, Role.THROUGH, Role.GROUND])
)
COLOURS = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)


@pytest.mark.parametrize(
    "text",
    ["412,388", "412, 388", " 412 388 ", "412 x 388", "412×388", "412.0,388.0", "412,0 388,0"],  # noqa: RUF001
)
def test_a_point_on_the_picture_may_be_written_in_many_ways(text):
    assert PicturePoint().read(text) == (412.0, 388.0)


@pytest.mark.parametrize(
    "text", ["", "412", "412,388,9", "-1,5", "a,b", "1e3,5", "100001,5", "412,5 388", "nan,1"]
)
def test_what_is_no_point_on_a_picture_is_refused(text):
    with pytest.raises(BadValue, match="like 412,388"):
        PicturePoint().read(text)


@given(PIXELS, PIXELS)
def test_a_point_reads_back_to_the_last_bit(x, y):
    assert PicturePoint().read(PicturePoint().written((x, y))) == (x, y)


@given(st.integers(-10_000, 10_000), st.integers(-10_000, 10_000))
def test_a_point_of_the_frame_reads_back_from_its_grid(i, j):
    at = (i / 2, j / 2)
    assert FramePoint().read(FramePoint().written(at)) == at


def test_a_point_of_the_frame_may_have_units():
    assert FramePoint().read("1 in x 10 mm".replace("1 in", "12.5 mm")) == (12.5, 10.0)
    assert FramePoint().read("-0, 0.5") == (0.0, 0.5)


@pytest.mark.parametrize("text", ["0.3,1", "0,0.25", "1 in,0", "6000,0", "12,5 300", "5", ""])
def test_a_point_off_the_grid_or_off_any_stock_is_refused(text):
    with pytest.raises(BadValue):
        FramePoint().read(text)


@given(COLOURS, ROLES)
def test_the_role_of_a_colour_reads_back(colour, spoken):
    wish = RoleOfColour(colour, spoken.role, spoken.film)
    assert ColourAndRole().read(ColourAndRole().written(wish)) == wish


@given(PIXELS, PIXELS, ROLES, COLOURS | st.just(""))
def test_the_role_of_a_patch_reads_back(x, y, spoken, colour):
    wish = RoleOfPatch((x, y), spoken.role, spoken.film, colour)
    assert PatchAndRole().read(PatchAndRole().written(wish)) == wish


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("#2e7d5b", "is no role"),
        ("#2e7d5b glass", "is no role"),
        ("#2e7d5b bare skin", "only a film has a name"),
        ("#2e7d5b film Größe", "cannot name a film"),
        ("#2e7d5b film a--b", "cannot name a film"),
        ("#2e7d5b film ../x", "cannot name a film"),
        ("#2e7d5b film " + "x" * 41, "cannot name a film"),
        ("green film", "is no colour"),
    ],
)
def test_a_wrong_role_of_a_colour_is_refused_with_its_reason(text, why):
    with pytest.raises(BadValue, match=why):
        ColourAndRole().read(text)


@pytest.mark.parametrize(
    "text", ["412,388", "through", "412 through", "412,388 #12 film", "x,y film", "film 412,388"]
)
def test_a_wrong_role_of_a_patch_is_refused(text):
    with pytest.raises(BadValue):
        PatchAndRole().read(text)


def test_roles_may_be_typed_in_capitals():
    assert PatchAndRole().read("412 x 388 #FFF FILM Eye") == RoleOfPatch(
        (412.0, 388.0), Role.FILM, "eye", "#ffffff"
    )
