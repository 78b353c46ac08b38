"""The played cut as a hand uses it: run, held, led along the strip and by pressing on the path."""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from app.desk.columns import Columns
from app.desk.cut_layer import levels_of
from app.desk.cut_paint import chip_colour, slot_colours
from app.desk.depth_strip import words_of
from app.desk.play import SPEEDS
from app.desk.play_words import at_second, clock, freed_words, legend
from app.desk.theme import DARK, LIGHT, contrast
from core.router.freed import Freed
from core.router.played import Chip

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def played(themed, qtbot, desk, small, shows):  # noqa: ARG001 - light first
    """The open book with its strip, 1100 x 700, showing the small picture."""
    from app.desk.spread import Spread  # noqa: PLC0415 - needs a QApplication

    spread = Spread(desk)
    spread.resize(1100, 700)
    qtbot.addWidget(spread)
    spread.show()
    shows(small)
    return SimpleNamespace(
        spread=spread, part=spread.part, strip=spread.depth_strip, play=spread.play, run=small.shown.run,
        shown=small.shown,
    )  # fmt: skip


def picture_of(played):
    """The part page, when it has caught up."""
    picture = played.part.grab()
    while played.part._cut.is_behind:
        picture = played.part.grab()
    return picture.toImage()


def colour_at(played, at):
    """What the part page shows at a place of it, px."""
    return picture_of(played).pixelColor(QPointF(at * played.part.devicePixelRatioF()).toPoint())


def near(one, other, most=40):
    return max(abs(a - b) for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True)) <= most


def level_piece(played, second):
    """A piece that is cut at this second or a little later, long enough to look at."""
    run = played.run
    spans = np.hypot(*np.diff(run.points[:, :2], axis=0).T)
    fits = (run.seconds[:-1] >= second) & (run.kinds == Chip.FULL) & (spans > 1.0)
    return int(np.flatnonzero(fits)[0])


def test_pressing_run_lets_the_bit_run_by_the_clock_and_again_holds_it(played, qtbot):
    qtbot.mouseClick(played.strip.run, LEFT)
    qtbot.waitUntil(lambda: played.play.second > 0.3)
    assert played.part.is_played
    qtbot.mouseClick(played.strip.run, LEFT)
    stood = played.play.second
    QTest.qWait(60)
    assert played.play.second == stood
    assert "hold" not in played.strip.run.accessibleName()


def test_each_press_on_the_speed_takes_the_next_one_and_the_words_say_it(played, qtbot):
    told = []
    for _ in SPEEDS:
        qtbot.mouseClick(played.strip.speed, LEFT)
        told.append(played.strip.speed.text())
    assert sorted(told) == sorted(f"{speed}\u00d7" for speed in SPEEDS)


def test_three_hundred_times_as_fast_goes_that_far(played):
    played.play.speed = 300
    played.play.toggle()
    begun = played.play.second
    QTest.qWait(200)
    played.play.hold()
    assert 20.0 < played.play.second - begun < 300.0


def test_a_press_on_the_strip_stands_the_bit_there_and_a_drag_leads_it(played, drag):
    strip, box = played.strip, played.strip.box()
    drag(strip, QPointF(box.left() + 0.3 * box.width(), 40.0), QPointF(box.left() + 0.6 * box.width(), 40.0))
    assert played.play.second == pytest.approx(0.6 * played.play.total, rel=0.01)
    assert played.part.is_played


def test_the_ends_of_the_strip_are_the_ends_of_the_cut(played, drag):
    strip, box = played.strip, played.strip.box()
    drag(strip, QPointF(box.center()), QPointF(box.right() + 500.0, 40.0))
    assert played.play.second == played.play.total
    drag(strip, QPointF(box.center()), QPointF(-500.0, 40.0))
    assert played.play.second == 0.0


def test_the_strip_is_led_by_the_keyboard(played, qtbot):
    strip = played.strip
    strip.setFocus()
    qtbot.keyClick(strip, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(strip, Qt.Key.Key_Right)
    qtbot.keyClick(strip, Qt.Key.Key_Left)
    assert played.play.second == pytest.approx(10.0)
    assert clock(10.0) in strip.accessibleDescription()
    qtbot.keyClick(strip, Qt.Key.Key_End)
    assert played.play.second == played.play.total
    qtbot.keyClick(strip, Qt.Key.Key_Space)
    assert played.play.is_running
    assert played.play.second < played.play.total  # from the end it begins anew
    qtbot.keyClick(strip, Qt.Key.Key_Escape)
    assert not played.part.is_played
    assert not played.play.is_running


def test_what_was_cut_is_gone_and_what_comes_later_still_stands(played):
    piece = level_piece(played, 0.5 * played.run.total())
    played.play.seek(float(played.run.seconds[piece + 1]) + 0.7)  # some mm farther on
    x, y = (played.run.points[piece] + played.run.points[piece + 1])[:2] / 2.0
    at = played.part.seen().of(x, y)
    across = [QPointF(x, y) for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0)]
    assert any(near(colour_at(played, at + step), chip_colour(LIGHT, Chip.FULL)) for step in across)
    beside = played.part.seen().of(*beside_of(played, piece, 0.6 * played.shown.setup.bit.radius_mm))
    depth = slot_colours(LIGHT, 10)[levels_of(played.shown)[piece]]
    assert near(colour_at(played, beside), depth, 12)
    played.play.seek(0.0)
    assert near(colour_at(played, beside), LIGHT.colour("stock"), 30)


def beside_of(played, piece, away_mm):
    start, end = played.run.points[piece, :2], played.run.points[piece + 1, :2]
    across = np.array([end[1] - start[1], start[0] - end[0]]) / np.linalg.norm(end - start)
    return tuple(((start + end) / 2.0 + away_mm * across).tolist())


def test_going_back_shows_the_same_as_coming_from_the_start(played):
    played.play.seek(0.4 * played.play.total)
    first = picture_of(played)
    played.play.seek(played.play.total)
    picture_of(played)
    played.play.seek(0.4 * played.play.total)
    assert picture_of(played) == first


def test_running_on_in_small_steps_shows_the_same_as_going_there_at_once(played):
    played.play.seek(0.0)
    for step in range(1, 61):
        played.play.seek(0.5 * played.play.total * step / 60)
    stepped = picture_of(played)
    played.play.seek(0.0)
    picture_of(played)
    played.play.seek(0.5 * played.play.total)
    at_once = picture_of(played)
    assert difference(stepped, at_once) < 0.002  # joints of strokes are softened by less than a pixel


def difference(one, other):
    """Mean difference of two pictures, of 1."""
    a, b = (
        np.frombuffer(image.convertToFormat(image.Format.Format_RGB32).constBits(), np.uint8)
        for image in (one, other)
    )
    return float(np.abs(a.astype(float) - b).mean() / 255.0)


def test_a_press_on_the_path_leads_the_bit_there_pass_after_pass(played, qtbot):
    played.play.seek(0.0)
    piece = level_piece(played, 0.8 * played.run.total())
    place = tuple(((played.run.points[piece] + played.run.points[piece + 1])[:2] / 2.0).tolist())
    spot = played.part.seen().of(*place).toPoint()
    stood = []
    for _ in range(3):
        qtbot.mouseClick(played.part, LEFT, pos=spot)
        stood.append(played.play.second)
        x, y, _ = played.run.stand(played.play.second).at
        assert math.dist((x, y), place) <= 1.5
    assert stood == sorted(set(stood))


def test_the_path_says_that_it_can_be_pressed(played):
    played.play.seek(0.0)
    piece = level_piece(played, 0.5 * played.run.total())
    at = played.part.seen().of(*played.run.points[piece, :2].tolist())
    assert "press" in played.part.named_at(at)


def test_a_press_beside_the_path_moves_the_page(played, drag):
    played.play.seek(1.0)
    before, second = played.part.view.centre, played.play.second
    drag(played.part, QPointF(20.0, 80.0), QPointF(60.0, 120.0))
    assert played.part.view.centre != before
    assert played.play.second == second


def test_tabs_are_not_taken_while_the_cut_is_played(played, drag):
    tab = played.part.hand.tabs[0]
    played.play.seek(0.0)
    spot = played.part.seen().of(*tab.at)
    drag(played.part, spot, spot + QPointF(30.0, 30.0))
    assert played.part.desk.job == played.shown.job


def test_the_whole_part_is_back_by_its_button_or_by_escape_on_the_page(played, qtbot):
    played.play.seek(5.0)
    qtbot.mouseClick(played.strip.done, LEFT)
    assert not played.part.is_played
    assert not played.strip.done.isVisible()
    played.play.seek(5.0)
    qtbot.keyClick(played.part, Qt.Key.Key_Escape)
    assert not played.part.is_played


def test_another_path_keeps_the_share_that_was_played(played, shows, small):
    from dataclasses import replace  # noqa: PLC0415

    played.play.seek(0.25 * played.play.total)
    played.part.desk.propose("shape.height", "81 mm")
    shows(small, replace(small.shown))
    assert played.play.second == pytest.approx(0.25 * played.play.total)


def test_what_comes_free_and_every_tab_have_a_mark_and_a_press_stands_on_it(played, qtbot):
    look = played.strip.look
    (part,) = [words for second, words in look.marks if second == played.shown.freed[-1].second]
    assert part == freed_words(played.shown.freed[-1])
    assert len(look.tabs) == len(played.shown.path.tabs)
    strip, second = played.strip, look.tabs[0]
    spot = QPoint(round(strip.x_of(second)), 50)
    qtbot.mouseClick(strip, LEFT, pos=spot)
    assert played.play.second == second
    x, y, _ = played.run.stand(second).at
    reach = played.shown.setup.bit.radius_mm + 1.0
    assert min(math.dist((x, y), tab.at) for tab in played.shown.path.tabs) <= reach
    assert "over a tab" in strip.named_at(QPointF(spot))


def test_free_is_said_in_other_words_than_held():
    assert "3 tabs hold" in freed_words(Freed(1.0, (0.0, 0.0), "edge", 3))
    assert "comes free" in freed_words(Freed(1.0, (0.0, 0.0), "edge", 0))


def test_columns_know_the_deepest_and_the_highest_and_share_out_all_of_the_time(played):
    for count in (7, 300):
        columns = Columns.of(played.run, count)
        assert columns.low.min() == played.run.points[:, 2].min()
        assert columns.high.max() == played.run.points[:, 2].max()
        assert columns.shares.sum(axis=1) == pytest.approx(np.ones(count))
        thick = columns.shares[:, Chip.FULL].mean() * played.run.total()
        assert thick == pytest.approx(np.diff(played.run.seconds)[played.run.kinds == Chip.FULL].sum())


def test_words_tell_the_time_what_is_cut_and_the_chip(played):
    piece = level_piece(played, 0.5 * played.run.total())
    time, name, doing = at_second(played.shown, float(played.run.seconds[piece]) + 1e-3)
    assert "of" in time
    assert name.startswith("edge")
    assert "chip 0.0" in doing
    assert "in the air" in at_second(played.shown, 0.0)[2]
    assert "min" in words_of(played.shown)[0]
    assert (clock(59.9), clock(61.0), clock(3725.0)) == ("0:59", "1:01", "1:02:05")


def test_the_legend_names_every_kind_and_its_colours_are_told_apart_by_lightness_too(played):
    assert {kind for kind, _ in legend(played.shown)} == set(Chip) - {Chip.AIR}
    for theme in (LIGHT, DARK):
        full, thin, rubs = (QColor(chip_colour(theme, kind)) for kind in (Chip.FULL, Chip.THIN, Chip.RUBS))
        for one, other in ((full, thin), (thin, rubs)):
            assert contrast(one.name(), other.name()) > 1.5
