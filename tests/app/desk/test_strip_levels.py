"""Tab height and skim on the depth strip: dragged by their grips or by a tab, walked by keys, undone."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt

from app.desk.depth_strip import DepthStrip
from app.desk.level_hand import LevelHand

SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def strip(opened, qtbot):
    """The strip on its own, showing the small picture's cut."""
    made = DepthStrip(opened.desk)
    qtbot.addWidget(made)
    made.resize(1000, 96)
    made.show()
    assert made.play.shown is opened.desk.shown
    return made


def grip(strip, index):
    """Px of a level's grip."""
    section, down = strip.section()
    return QPointF(section.right() + 5.0, section.top() - strip.levels.hand.levels[index].z * down)


def down_px(strip, mm):
    return QPointF(0.0, -mm * strip.section()[1])


@pytest.mark.parametrize(
    ("index", "key", "up_mm", "becomes"),
    [(0, "part.tab_height", 0.4, "1.2 mm"), (1, "cutting.skim", -0.2, "0.5 mm")],
)
def test_a_level_is_dragged_by_its_grip_and_becomes_one_named_step(strip, drag, index, key, up_mm, becomes):
    start = grip(strip, index)
    drag(strip, start, start + down_px(strip, up_mm), lets_go=False)
    said = strip.levels.hand.in_hand.said()
    assert said.endswith(f" {becomes[:-3]}0 mm")
    drag(strip, start, start + down_px(strip, up_mm), presses=False, steps=1)
    assert strip.desk.job.text(key) == becomes
    assert strip.desk.undo_words == said
    assert not strip.play.is_on
    strip.desk.undo()
    assert strip.desk.job.is_default(key)


def test_a_tab_is_made_higher_where_it_stands(strip, drag):
    x = strip.x_of(strip.look.tabs[0])
    start = QPointF(x, grip(strip, 0).y())
    drag(strip, start, start + down_px(strip, 0.3))
    assert strip.desk.job.text("part.tab_height") == "1.1 mm"


def test_a_press_anywhere_else_leads_the_bit_as_ever(strip, drag):
    box = strip.box()
    at = QPointF(box.left() + 0.07 * box.width(), box.center().y())
    assert not strip.is_by_tab(at.x(), 6.0)
    drag(strip, at, at)
    assert strip.play.is_on
    assert strip.desk.job.is_default("part.tab_height")


def test_escape_gives_it_up(strip, drag, qtbot):
    start = grip(strip, 0)
    drag(strip, start, start + down_px(strip, 0.5), lets_go=False)
    qtbot.keyClick(strip, Qt.Key.Key_Escape)
    drag(strip, start, start, presses=False, steps=1)
    assert strip.desk.job.is_default("part.tab_height")
    assert strip.levels.hand.levels[0].value_mm == 0.8


def test_keys_choose_a_level_and_walk_it_as_one_step(strip, qtbot):
    qtbot.keyClick(strip, Qt.Key.Key_Return)
    for _ in range(3):
        qtbot.keyClick(strip, Qt.Key.Key_Up)
    assert strip.accessibleDescription() == "tabs stand 1.10 mm"
    qtbot.keyClick(strip, Qt.Key.Key_Return)  # the next one: the walk is over
    assert strip.desk.job.text("part.tab_height") == "1.1 mm"
    qtbot.keyClick(strip, Qt.Key.Key_Down, SHIFT)
    strip.levels.take_up(strip.desk.shown)  # a build comes in: the walk goes on
    qtbot.waitUntil(lambda: strip.desk.job.text("cutting.skim") == "1.3 mm")
    strip.desk.undo()
    strip.desk.undo()
    assert strip.desk.job.is_default("part.tab_height")


def test_a_level_stays_within_what_its_choice_takes_and_the_sheet(small):
    hand = LevelHand(small.shown)
    assert [level.at(99.0).value_mm for level in hand.levels] == [3.0, 0.0]
    assert [level.at(-99.0).value_mm for level in hand.levels] == [0.2, 3.0]


def test_a_skin_has_its_level_in_the_place_of_tabs_and_skim(small):
    rule = replace(small.shown.setup.tab_rule, skin_mm=0.5)
    shown = replace(small.shown, setup=replace(small.shown.setup, tab_rule=rule))
    (level,) = LevelHand(shown).levels
    assert (level.key, level.value_mm, level.z) == ("part.skin", 0.5, -2.5)
