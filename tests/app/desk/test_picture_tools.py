"""Tools for the picture: what a hand draws on it becomes the same choice that can be typed."""

import math

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.desk.picture_edits import Stroke, level_of
from app.desk.picture_tools import KEYS, PictureTools, Tool
from core.touch.edit import Way


@pytest.fixture
def tooled(opened):
    opened.view.show_picture(True)
    return opened


def at(page, x, y):
    """The page's px of a place of the source picture, px."""
    return page.seen().of(*page.shown.place.of((x, y)))


def near(point, wanted):
    """Within a pixel of the screen, which is less than one of this picture."""
    return math.dist(point, wanted) < 1.0


def draw(opened, drag, tool, start, end, page=None, **how):
    page = page or opened.part
    opened.view.take_tool(tool)
    drag(page, at(page, *start), at(page, *end), **how)


def test_a_drag_rubs_a_disc_out_and_a_press_fills_a_speck(tooled, drag):
    draw(tooled, drag, Tool.RUB, (80.0, 80.0), (90.0, 80.0))
    (touch,) = tooled.desk.job.picture.touches
    assert touch.way is Way.RUB
    assert near(touch.at, (80.0, 80.0))
    assert touch.size == pytest.approx(10.0, abs=1.0)
    QTest.mouseClick(tooled.film, Qt.MouseButton.LeftButton, pos=at(tooled.film, 40.0, 40.0).toPoint())
    assert tooled.desk.job.picture.touches[1].way is Way.FILL
    assert near(tooled.desk.job.picture.touches[1].at, (40.0, 40.0))
    assert tooled.desk.undo_words == "speck filled at 40, 40"


@pytest.mark.parametrize(("tool", "way"), [(Tool.JOIN, Way.BRIDGE), (Tool.PART, Way.PART)])
def test_a_bar_goes_from_end_to_end_as_wide_as_the_hand_made_it(tooled, drag, tool, way):
    draw(tooled, drag, tool, (30.0, 80.0), (130.0, 80.0), lets_go=False)
    before = tooled.part._picture.hand.stroke.width_mm
    QTest.keyClick(tooled.part, Qt.Key.Key_Up)
    QTest.mouseRelease(tooled.part, Qt.MouseButton.LeftButton, pos=at(tooled.part, 130.0, 80.0).toPoint())
    (touch,) = tooled.desk.job.picture.touches
    assert touch.way is way
    assert near(touch.at, (30.0, 80.0))
    assert near(touch.to, (130.0, 80.0))
    assert touch.size * 80.0 / 100.0 == pytest.approx(before * 1.15, abs=0.1)  # 100 px are 80 mm


def test_a_press_with_a_bar_makes_nothing(tooled, drag):
    draw(tooled, drag, Tool.JOIN, (30.0, 80.0), (30.0, 80.0))
    assert tooled.desk.job.picture.touches == ()


def test_a_drag_off_a_corner_makes_it_round_and_a_press_gives_it_back(tooled, drag):
    draw(tooled, drag, Tool.CORNER, (130.0, 130.0), (130.0, 120.0))
    (corner,) = tooled.desk.job.shape.corners
    assert corner.is_mm
    assert corner.radius == pytest.approx(8.0, abs=0.6)
    assert near(corner.at, (130.0, 130.0))
    draw(tooled, drag, Tool.CORNER, (130.0, 130.0), (130.0, 130.0))
    assert tooled.desk.job.shape.corners == ()


@pytest.mark.parametrize("end", [(130.0, 95.0), (130.0, 65.0), (88.0, 130.0)])
def test_the_line_that_was_drawn_lies_level_or_stands_upright_afterwards(tooled, drag, end):
    draw(tooled, drag, Tool.LEVEL, (80.0, 80.0), end)
    turn = tooled.desk.job.picture.level.value
    x, y = end[0] - 80.0, 80.0 - end[1]
    turned = math.atan2(y, x) + turn
    assert min(abs(math.sin(turned)), abs(math.cos(turned))) < math.sin(math.radians(1.0))


def test_a_second_line_is_measured_on_the_picture_as_it_lies_now(small):
    job = small.job.with_choice("picture.level", "10 deg")
    stroke = Stroke((0.0, 0.0), (10.0, 10.0 * math.tan(math.radians(4.0))), is_press=False)
    assert level_of(small.shown, job, stroke) == pytest.approx(6.0)


def test_a_box_crops_and_a_press_takes_the_crop_away(tooled, drag):
    draw(tooled, drag, Tool.CROP, (140.0, 20.0), (20.0, 150.0))
    low, high = tooled.desk.job.picture.crop
    assert near(low, (20.0, 20.0))
    assert near(high, (140.0, 150.0))
    draw(tooled, drag, Tool.CROP, (80.0, 80.0), (80.0, 80.0))
    assert tooled.desk.job.picture.crop == ()


def test_a_corner_of_the_slanted_sheet_is_dragged_and_the_others_stay(tooled, drag):
    draw(tooled, drag, Tool.SHEET, (160.0, 0.0), (150.0, 12.0))
    corners = tooled.desk.job.picture.corners
    assert [
        near(one, two) for one, two in zip(corners, [(0, 0), (150, 12), (160, 160), (0, 160)], strict=True)
    ]
    assert all(
        near(one, two) for one, two in zip(corners, [(0, 0), (150, 12), (160, 160), (0, 160)], strict=True)
    )
    QTest.keyClick(tooled.part, Qt.Key.Key_Delete)
    assert tooled.desk.job.picture.corners == ()


def test_escape_gives_a_stroke_up(tooled, drag):
    draw(tooled, drag, Tool.RUB, (80.0, 80.0), (90.0, 80.0), lets_go=False)
    QTest.keyClick(tooled.part, Qt.Key.Key_Escape)
    QTest.mouseRelease(tooled.part, Qt.MouseButton.LeftButton, pos=at(tooled.part, 90.0, 80.0).toPoint())
    assert tooled.desk.job.picture.touches == ()


def test_a_touch_up_is_chosen_walked_dragged_and_taken_away(tooled, drag, qtbot):
    draw(tooled, drag, Tool.RUB, (80.0, 80.0), (90.0, 80.0))
    QTest.keyClick(tooled.part, Qt.Key.Key_Return)
    before = tooled.desk.job.picture.touches[0].at
    for _ in range(3):
        QTest.keyClick(tooled.part, Qt.Key.Key_Right)
    QTest.keyClick(tooled.part, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: tooled.desk.undo_words == "touch-up 1 moved")
    moved = tooled.desk.job.picture.touches[0].at
    assert moved == pytest.approx((before[0] + 3.0, before[1] + 10.0), abs=0.02)
    assert tooled.desk.undo_words == "touch-up 1 moved"
    draw(tooled, drag, Tool.RUB, moved, (60.0, 60.0))
    (touch,) = tooled.desk.job.picture.touches
    assert near(touch.at, (60.0, 60.0))
    QTest.keyClick(tooled.part, Qt.Key.Key_Delete)
    assert tooled.desk.job.picture.touches == ()


def test_every_tool_says_what_it_does_and_what_it_draws(tooled, drag):
    for tool in Tool:
        tooled.view.take_tool(tool)
        assert tooled.part.named_at(at(tooled.part, 80.0, 80.0))
    for tool, told in ((Tool.RUB, "radius"), (Tool.JOIN, "long"), (Tool.LEVEL, "turned"), (Tool.CROP, "px")):
        draw(tooled, drag, tool, (60.0, 60.0), (100.0, 80.0), lets_go=False)
        assert told in tooled.part.named_at(QPointF(1.0, 1.0))
        tooled.part.grab()
        QTest.keyClick(tooled.part, Qt.Key.Key_Escape)
        drag(tooled.part, at(tooled.part, 0.0, 0.0), at(tooled.part, 0.0, 0.0), presses=False)


def test_strokes_are_drawn_where_the_hand_is(tooled, drag):
    tooled.view.take_tool(Tool.CROP)
    before = tooled.part.grab().toImage()
    draw(tooled, drag, Tool.CROP, (30.0, 30.0), (60.0, 100.0), lets_go=False)
    after, edge = tooled.part.grab().toImage(), at(tooled.part, 30.0, 70.0).toPoint()
    assert before.pixelColor(edge) != after.pixelColor(edge)


def test_keys_and_buttons_take_tools_and_only_with_the_picture(tooled, qtbot):
    bar = PictureTools(tooled.desk, tooled.view)
    qtbot.addWidget(bar)
    for key, tool in KEYS.items():
        QTest.keyClick(tooled.part, getattr(Qt.Key, f"Key_{key}"))
        assert tooled.view.tool == tool
        assert bar.buttons[tool].isChecked()
    QTest.mouseClick(bar.buttons[Tool.ROLE], Qt.MouseButton.LeftButton)
    assert tooled.view.tool == Tool.ROLE
    tooled.view.show_picture(False)
    assert bar.isHidden()
    QTest.keyClick(tooled.part, Qt.Key.Key_3)
    assert tooled.view.tool == Tool.ROLE


def test_a_drawing_has_no_pixels_to_rub_out(tooled, qtbot):
    from core.job.job import Source  # noqa: PLC0415

    bar = PictureTools(tooled.desk, tooled.view)
    qtbot.addWidget(bar)
    tooled.view.take_tool(Tool.CROP)
    assert not any(button.isHidden() for button in bar.buttons.values())
    square = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>'
    tooled.desk.take_up(tooled.desk.job, Source("square.svg", square), "square.svg opened")
    bar._follow()
    assert [tool for tool, button in bar.buttons.items() if not button.isHidden()] == [Tool.ROLE, Tool.CORNER]
    assert tooled.view.tool == Tool.ROLE


def test_what_is_read_stands_beside_the_picture_as_it_is(tooled):
    (left, of), (right, read) = tooled.part.title(), tooled.film.title()
    assert "160" in of
    assert ("as it is" in left, "read" in right) == (True, True)
    assert read == "3 colours, 2 patches"


def test_a_press_names_the_ground_and_a_press_on_it_gives_it_back(tooled, drag):
    draw(tooled, drag, Tool.GROUND, (5.0, 5.0), (5.0, 5.0))
    assert tooled.desk.job.text("picture.ground") == "auto"
    assert not tooled.desk.undo_words.endswith("ground")
    draw(tooled, drag, Tool.GROUND, (80.0, 80.0), (80.0, 80.0))
    assert tooled.desk.job.picture.ground == "#e0b050"
    draw(tooled, drag, Tool.GROUND, (5.0, 5.0), (5.0, 5.0))
    assert tooled.desk.job.text("picture.ground") == "auto"


def test_a_drag_from_colour_to_colour_makes_them_one(tooled, drag, small):
    from core.build import build  # noqa: PLC0415

    draw(tooled, drag, Tool.SAME, (80.0, 80.0), (85.0, 85.0))
    assert tooled.desk.job.picture.merged == ()
    draw(tooled, drag, Tool.SAME, (80.0, 80.0), (35.0, 35.0))
    assert tooled.desk.job.picture.merged == (("#2e7d5b", "#e0b050"),)
    made = build(tooled.desk.job, small.source)
    assert [film.colour for film in made.films.films] == ["#2e7d5b"]


def test_another_tool_leaves_what_was_chosen_with_the_last_one(tooled, drag):
    draw(tooled, drag, Tool.RUB, (80.0, 80.0), (90.0, 80.0))
    QTest.keyClick(tooled.part, Qt.Key.Key_Return)
    tooled.view.take_tool(Tool.CROP)
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Delete):
        QTest.keyClick(tooled.part, key)
    assert len(tooled.desk.job.picture.touches) == 1
    tooled.view.take_tool(Tool.RUB)
    QTest.keyClick(tooled.part, Qt.Key.Key_Return)
    QTest.keyClick(tooled.part, Qt.Key.Key_Right)
    tooled.view.take_tool(Tool.SHEET)  # the walk was that of the touch-up
    assert tooled.desk.undo_words == "touch-up 1 moved"
    assert tooled.desk.job.text("picture.corners") == "auto"


def test_a_walk_on_one_picture_does_nothing_to_the_next(tooled, drag, small):
    from core.job.job import Job, Source  # noqa: PLC0415

    draw(tooled, drag, Tool.RUB, (80.0, 80.0), (90.0, 80.0))
    QTest.keyClick(tooled.part, Qt.Key.Key_Return)
    QTest.keyClick(tooled.part, Qt.Key.Key_Right)
    tooled.desk.take_up(Job(source="other.png"), Source("other.png", small.source.data), "other.png opened")
    QTest.qWait(600)
    assert tooled.desk.job.picture.touches == ()
