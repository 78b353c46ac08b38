"""The picture under the pages, and patches that are given another role by a press."""

import math
from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.desk.picture_layer import NEXT, NEXT_AT_RIM, _laid
from app.desk.view import CommonView
from core.job.resolve import PicturePlace
from core.patches.role import Role
from core.picture.plane import Plane


def centre(opened):
    x, y = opened.part.shown.layout.shape_at
    width, height = opened.part.shown.size_mm
    return x + width / 2.0, y + height / 2.0


def press(page, point):
    QTest.mouseClick(page, Qt.MouseButton.LeftButton, pos=page.seen().of(*point).toPoint())


def test_p_shows_the_picture_under_both_pages(opened):
    QTest.keyClick(opened.film, Qt.Key.Key_P)
    assert opened.view.has_picture
    at = opened.part.seen().of(*centre(opened)).toPoint()
    for page in (opened.part, opened.film):
        colour = page.grab().toImage().pixelColor(at)
        assert colour.red() > colour.blue()  # the disc is of the colour of sand
    QTest.keyClick(opened.part, Qt.Key.Key_P)
    assert not opened.view.has_picture


def test_a_press_gives_the_patch_its_next_role_at_a_place_of_the_picture_within_it(opened):
    opened.view.show_picture(True)
    press(opened.film, centre(opened))
    (wish,) = opened.desk.job.shape.patches
    assert wish.role is Role.BARE
    assert math.dist(wish.at, (80.0, 80.0)) < 21.0  # px: the disc
    assert wish.colour == "#e0b050"
    assert "bare" in opened.desk.undo_words


def test_another_press_on_the_same_patch_replaces_the_word_about_it(opened, small, shows):
    from dataclasses import replace  # noqa: PLC0415

    opened.view.show_picture(True)
    press(opened.part, centre(opened))
    patches = small.shown.patches
    roles = tuple(
        replace(one, role=Role.BARE, film="") if one.film != patches.roles[1].film and one.film else one
        for one in patches.roles
    )
    again = replace(small.shown, job=opened.desk.job, patches=replace(patches, roles=roles))
    shows(small, again)
    press(opened.part, centre(opened))
    assert len(opened.desk.job.shape.patches) == 1
    opened.desk.undo()
    opened.desk.undo()
    assert opened.desk.job.shape.patches == ()


def test_roles_go_round_and_a_patch_at_the_rim_becomes_ground_and_no_hole():
    for cycle, length in ((NEXT, 3), (NEXT_AT_RIM, 3)):
        seen, role = [], "film"
        for _ in range(length):
            role = cycle[role]
            seen.append(role)
        assert seen[-1] == "film"
    assert NEXT["bare"] == "through"
    assert NEXT_AT_RIM["bare"] == "ground"


def test_a_patch_says_what_it_is_and_what_a_press_makes_of_it(opened):
    opened.view.show_picture(True)
    said = opened.part.named_at(opened.part.seen().of(*centre(opened)))
    assert said.startswith("film ")
    assert said.endswith("press: bare")


def test_a_press_beside_every_patch_moves_the_page_and_changes_nothing(opened):
    opened.view.show_picture(True)
    press(opened.part, (-500.0, -500.0))
    assert opened.desk.job.shape.patches == ()


def test_the_picture_is_laid_as_squaring_up_has_laid_it(opened):
    plane = Plane(((0.9, 0.1, 3.0), (-0.2, 1.1, 7.0), (1e-4, -2e-4, 1.0)))
    shown = replace(opened.part.shown, place=PicturePlace(160, 0.5, (12.0, 31.0), plane))
    onto = _laid(shown)
    for point in ((0.0, 0.0), (160.0, 20.0), (37.5, 81.25)):
        x, y = shown.place.of(point)
        there = onto.map(QPointF(*point))
        assert (there.x(), -there.y()) == pytest.approx((x, y))


@pytest.mark.usefixtures("qapp")
def test_a_drawing_is_shown_by_the_colours_of_its_areas():
    from types import SimpleNamespace  # noqa: PLC0415

    from app.desk.picture_layer import PictureLayer  # noqa: PLC0415
    from core.build import build  # noqa: PLC0415
    from core.job.job import Job, Source  # noqa: PLC0415
    from core.shown import shown_of  # noqa: PLC0415

    source = Source(
        "badge.svg",
        b'<svg xmlns="http://www.w3.org/2000/svg" width="60mm" viewBox="0 0 60 60">'
        b'<circle cx="30" cy="30" r="25" fill="#264653"/>'
        b'<rect x="20" y="20" width="20" height="20" fill="#e9c46a"/></svg>',
    )
    shown = shown_of(build(Job(source=source.name), source))
    layer = PictureLayer(SimpleNamespace(desk=SimpleNamespace(source=source), shown=shown, view=CommonView()))
    assert layer._picture() is None
    areas = dict(layer._inked(shown))
    assert set(areas) == {"#264653", "#e9c46a"}
    assert areas["#e9c46a"].boundingRect().width() == pytest.approx(20.0)
