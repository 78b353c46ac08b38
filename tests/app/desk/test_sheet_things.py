"""Clamps, work zero and the hole to hang by in the hand: dragged, walked, added, taken away, undone."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.desk.paths import path_of, placed
from app.desk.sheet_hand import SheetHand
from core.sheet.clamp import Clamp
from core.sheet.placement import Placement

BOX = Clamp((12.0, 60.0), (14.0, 20.0), 12.0)
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def clamped(opened, shows, small):
    """The two pages, with a clamp on the stock."""
    opened.desk.propose_value("stock.clamps", (BOX,))
    shows(small, replace(small.shown, job=opened.desk.job))
    return opened


@pytest.fixture
def hanging(opened, shows, small):
    """The two pages, with a hole to hang the part by."""
    at = small.shown.place.of((80.0, 45.0))
    opened.desk.propose("part.hanger", "80,45")
    shows(small, replace(small.shown, job=opened.desk.job, hanger=at, is_first_look=True))
    return opened, at


def px(page, at):
    return page.seen().of(*at)


def moved_px(page, right_mm, up_mm):
    return QPointF(right_mm, -up_mm) * page.seen().scale


def test_a_clamp_follows_the_hand_and_becomes_one_named_step(clamped, drag):
    part = clamped.part
    start = px(part, (14.0, 55.0))  # not its middle: it is taken where it is pressed
    drag(part, start, start + moved_px(part, 10.0, 20.0))
    (clamp,) = clamped.desk.job.stock.clamps
    assert clamp.at == pytest.approx((22.0, 80.0), abs=0.5)
    assert clamp.at[0] % 0.5 == 0.0
    assert (clamp.size_mm, clamp.height_mm) == (BOX.size_mm, BOX.height_mm)
    assert clamped.desk.undo_words.startswith("clamp moved to ")
    clamped.desk.undo()
    assert clamped.desk.job.stock.clamps == (BOX,)


def test_the_numbers_are_shown_while_it_is_dragged_and_escape_gives_it_up(clamped, drag, qtbot):
    part = clamped.part
    start = px(part, BOX.at)
    drag(part, start, start + moved_px(part, 10.0, 5.0), lets_go=False)
    at, words = part._things.said_in_hand()
    assert at == pytest.approx((22.0, 65.0), abs=0.5)
    assert "clamp 14 \u00d7 20, 12 high" in words
    assert f"{at[0]:.1f}, {at[1]:.1f} mm" in words
    qtbot.keyClick(part, Qt.Key.Key_Escape)
    drag(part, start, start, presses=False, steps=1)
    assert clamped.desk.job.stock.clamps == (BOX,)
    assert part._things.hand.things[0].at == BOX.at


def test_what_is_in_the_hand_stays_there_when_a_build_comes_in(clamped, drag, shows, small):
    part = clamped.part
    start = px(part, BOX.at)
    drag(part, start, start + moved_px(part, 6.0, 0.0), lets_go=False)
    shows(small, replace(small.shown, job=clamped.desk.job))
    assert part._things.is_dragged
    end = start + moved_px(part, 10.0, 5.0)
    drag(part, end, end, presses=False)
    (clamp,) = clamped.desk.job.stock.clamps
    assert clamp.at == pytest.approx((22.0, 65.0), abs=0.5)


def test_the_same_by_the_keyboard_is_one_step(clamped, qtbot):
    part = clamped.part
    qtbot.keyClick(part, Qt.Key.Key_S)
    for key, modifiers in ((Qt.Key.Key_Right, SHIFT), (Qt.Key.Key_Right, SHIFT), (Qt.Key.Key_Up, None)):
        qtbot.keyClick(part, key, modifiers or Qt.KeyboardModifier.NoModifier)
    assert "clamp" in part.accessibleDescription()
    QTest.qWait(600)
    (clamp,) = clamped.desk.job.stock.clamps
    assert clamp.at == pytest.approx((14.0, 60.1))
    clamped.desk.undo()
    assert clamped.desk.job.stock.clamps == (BOX,)


def test_undo_in_the_middle_of_a_walk_takes_the_walk_back_and_nothing_comes_after(clamped, qtbot):
    qtbot.keyClick(clamped.part, Qt.Key.Key_S)
    qtbot.keyClick(clamped.part, Qt.Key.Key_Right, SHIFT)
    clamped.desk.undo()
    assert clamped.desk.job.stock.clamps == (BOX,)
    QTest.qWait(600)
    assert clamped.desk.job.stock.clamps == (BOX,)
    clamped.desk.redo()
    assert clamped.desk.job.stock.clamps[0].at == pytest.approx((13.0, 60.0))


def test_a_clamp_that_is_added_in_the_middle_of_a_walk_stays(clamped, qtbot):
    part = clamped.part
    qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Right, SHIFT)
    qtbot.keyClick(part, Qt.Key.Key_C)
    QTest.qWait(600)
    first, second = clamped.desk.job.stock.clamps
    assert first.at == pytest.approx((13.0, 60.0))
    assert second.size_mm == BOX.size_mm


def test_no_step_of_a_walk_is_lost_when_a_build_comes_in(clamped, qtbot, small):
    part = clamped.part
    qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Right, SHIFT)
    again = replace(small.shown, job=clamped.desk.job)
    part.shown = again
    part.shown_anew()
    qtbot.keyClick(part, Qt.Key.Key_Right, SHIFT)
    QTest.qWait(600)
    assert clamped.desk.job.stock.clamps[0].at == pytest.approx((14.0, 60.0))


def test_a_clamp_is_added_at_the_pointer_like_the_last_one_and_taken_away(clamped, qtbot):
    part = clamped.part
    qtbot.mouseMove(part, px(part, (60.0, 8.0)).toPoint())
    QTest.mouseMove(part, px(part, (60.0, 8.0)).toPoint())
    part._pointer = px(part, (60.0, 8.0))
    qtbot.keyClick(part, Qt.Key.Key_C)
    assert [clamp.size_mm for clamp in clamped.desk.job.stock.clamps] == [BOX.size_mm, BOX.size_mm]
    assert clamped.desk.job.stock.clamps[1].at == pytest.approx((60.0, 8.0), abs=0.5)
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert clamped.desk.job.stock.clamps == (BOX,)
    assert "removed" in clamped.desk.undo_words


def test_the_work_zero_lands_on_the_grid_and_says_where(opened, drag):
    part = opened.part
    start = px(part, opened.part.shown.layout.zero_at)
    drag(part, start, start + moved_px(part, 13.3, 21.2))
    job = opened.desk.job
    assert job.stock.zero_on == "point"
    assert job.stock.zero_at == pytest.approx((13.3, 21.2), abs=0.6)
    assert all(value % 0.5 == 0.0 for value in job.stock.zero_at)
    assert opened.desk.undo_words.startswith("work zero moved to ")


def test_the_work_zero_snaps_on_corners_by_name(opened, drag):
    part, stock = opened.part, opened.part.shown.layout.stock
    start = px(part, part.shown.layout.zero_at)
    drag(part, start, px(part, (stock.width_mm, stock.depth_mm)) + QPointF(-4.0, 3.0))
    assert opened.desk.job.stock.zero_on == "stock right far"
    assert opened.desk.undo_words == "work zero moved to stock right far"


def test_arrow_keys_move_the_work_zero_by_its_grid(opened, qtbot):
    qtbot.keyClick(opened.part, Qt.Key.Key_S)
    qtbot.keyClick(opened.part, Qt.Key.Key_Right)
    opened.part._things.end_walk()
    assert opened.desk.job.stock.zero_at == (0.5, 0.0)


def test_the_hole_to_hang_by_is_moved_and_removed(hanging, drag, qtbot):
    opened, at = hanging
    part = opened.part
    assert part.named_at(px(part, at)).startswith("hole to hang by")
    drag(part, px(part, at), px(part, at) + moved_px(part, 5.0, -3.0))
    (wanted,) = opened.desk.job.part.hanger
    assert part.shown.place.of(wanted) == pytest.approx((at[0] + 5.0, at[1] - 3.0), abs=0.2)
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert opened.desk.job.part.hanger == ()


def test_a_mark_follows_the_hand_on_its_grid_and_all_three_become_the_jobs(opened, drag):
    part, marks = opened.part, opened.part.shown.layout.marks
    start = px(part, marks[1].at)
    drag(part, start, start + moved_px(part, 3.2, 2.1), lets_go=False)
    at, words = part._things.said_in_hand()
    assert at == pytest.approx((marks[1].at[0] + 3.2, marks[1].at[1] + 2.1), abs=0.51)
    assert words.startswith("mark \u2300 5 \u00b7 ")
    assert part._things._ground is not None
    drag(part, start, start + moved_px(part, 3.2, 2.1), presses=False, steps=1)
    wanted = opened.desk.job.fit.marks
    assert wanted == (marks[0].at, at, marks[2].at)
    assert all(value % 0.5 == 0.0 for place in wanted for value in place)
    assert opened.desk.undo_words.startswith("mark moved to ")
    opened.desk.undo()
    assert opened.desk.job.text("fit.marks") == "auto"


def test_a_mark_says_what_is_amiss_while_it_is_dragged(opened, drag, qtbot):
    part, marks = opened.part, opened.part.shown.layout.marks
    x, y = part.shown.layout.shape_at
    wide, high = part.shown.size_mm
    for to, said in (
        ((x + wide / 2.0, y + high / 2.0), "in the slot"),
        ((x + wide / 2.0, 0.0), "over the sheet's edge"),
        ((x - 1.0, y + high / 2.0), "in the slot"),
    ):
        drag(part, px(part, marks[1].at), px(part, to), lets_go=False)
        assert said in part._things.said_in_hand()[1]
        thing = part._things.hand.in_hand
        assert thing.is_bad(part._things.hand.things)
        qtbot.keyClick(part, Qt.Key.Key_Escape)
        drag(part, px(part, to), px(part, to), presses=False, steps=1)
    assert opened.desk.job.text("fit.marks") == "auto"


def test_a_pattern_that_could_be_laid_wrong_says_so(opened):
    hand = opened.part._things.hand
    places = [index for index, thing in enumerate(hand.things) if thing.kind == "mark"]
    x, y = hand.things[places[0]].at
    for index, to in zip(places[1:], ((x + 60.0, y), (x + 30.0, y - 40.0)), strict=True):
        hand.chosen = index
        hand._put(replace(hand.things[index], at=to))
    assert "would miss by only" in hand.said_of(places[0])


def test_a_fourth_mark_is_added_and_taken_away_and_then_they_are_proposed_again(opened, qtbot, shows, small):
    part, marks = opened.part, opened.part.shown.layout.marks
    part._pointer = px(part, (12.0, 60.0))
    qtbot.keyClick(part, Qt.Key.Key_M)
    assert opened.desk.job.fit.marks[:3] == tuple(mark.at for mark in marks)
    assert opened.desk.job.fit.marks[3] == pytest.approx((12.0, 60.0), abs=0.51)
    assert opened.desk.undo_words.startswith("mark added at ")
    qtbot.keyClick(part, Qt.Key.Key_M)
    assert len(opened.desk.job.fit.marks) == 4
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert len(opened.desk.job.fit.marks) == 3
    shows(small, replace(small.shown, job=opened.desk.job))
    for _ in range(3):
        qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert opened.desk.job.text("fit.marks") == "auto"
    assert opened.desk.undo_words == "marks as proposed"


def test_arrow_keys_move_a_mark_by_its_grid(opened, qtbot):
    marks = opened.part.shown.layout.marks
    for _ in range(3):
        qtbot.keyClick(opened.part, Qt.Key.Key_S)
    qtbot.keyClick(opened.part, Qt.Key.Key_Up)
    opened.part._things.end_walk()
    x, y = marks[0].at
    assert opened.desk.job.fit.marks[0] == (x, y + 0.5)


def entry_of(part):
    return next(one for one in part._things.hand.things if one.kind == "entry")


def test_an_entry_runs_along_its_edge_in_the_hand_and_becomes_a_named_step(opened, drag):
    part = opened.part
    before = entry_of(part)
    assert "as proposed" in part._things.named_at(before.at, 1.0)
    x, y = part.shown.layout.shape_at
    to = (x + 60.0, y - 3.0)  # below the square's lower side
    drag(part, px(part, before.at), px(part, to), lets_go=False)
    at, words = part._things.said_in_hand()
    assert at == pytest.approx((x + 60.0, y - part.shown.setup.bit.radius_mm), abs=0.2)
    assert words.startswith("entry of the edge \u00b7 ")
    assert "mm to the next tab" in words
    drag(part, px(part, to), px(part, to), presses=False, steps=1)
    (point,) = opened.desk.job.part.entries
    assert part.shown.place.of(point) == pytest.approx(at, abs=1e-6)
    assert opened.desk.undo_words.startswith("entry of the edge moved to ")
    opened.desk.undo()
    assert opened.desk.job.part.entries == ()


def test_an_entry_walks_by_keys_is_given_up_and_given_back(opened, qtbot):
    part = opened.part
    before = entry_of(part)
    for _ in range(2):
        qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Right, SHIFT)
    gone = entry_of(part).on.along_mm - before.on.along_mm
    assert gone == pytest.approx(1.0, abs=1e-6)
    qtbot.keyClick(part, Qt.Key.Key_Escape)
    assert entry_of(part).at == before.at
    for _ in range(2):
        qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Right)
    part._things.end_walk()
    assert len(opened.desk.job.part.entries) == 1
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert opened.desk.job.part.entries == ()
    assert opened.desk.undo_words == "entry of the edge as proposed"


@pytest.mark.parametrize(("side", "keys"), [("corner", "wd"), ("right", "w"), ("far", "d")])
def test_the_sheet_is_made_larger_by_a_side_or_by_its_corner(opened, drag, side, keys):
    part, stock = opened.part, opened.part.shown.layout.stock
    wide, deep = stock.width_mm, stock.depth_mm
    start = {"corner": (wide, deep), "right": (wide, deep / 3.0), "far": (wide / 4.0, deep)}[side]
    drag(part, px(part, start), px(part, start) + moved_px(part, 7.2, 5.1), lets_go=False)
    _, words = part._things.said_in_hand()
    asked = (wide + 7.0 if "w" in keys else wide, deep + 5.0 if "d" in keys else deep)
    assert words == f"sheet {asked[0]:g} \u00d7 {asked[1]:g} mm"
    drag(part, px(part, start), px(part, start) + moved_px(part, 7.2, 5.1), presses=False, steps=1)
    job = opened.desk.job
    assert job.text("stock.width") == (f"{asked[0]:g} mm" if "w" in keys else "auto")
    assert job.text("stock.depth") == (f"{asked[1]:g} mm" if "d" in keys else "auto")
    assert opened.desk.undo_words == f"sheet made {asked[0]:g} \u00d7 {asked[1]:g} mm"


def test_a_side_of_the_sheet_walks_by_keys_and_delete_gives_it_back(opened, qtbot):
    part, stock = opened.part, opened.part.shown.layout.stock
    for _ in range(7):
        qtbot.keyClick(part, Qt.Key.Key_S)
    qtbot.keyClick(part, Qt.Key.Key_Right, SHIFT)
    qtbot.keyClick(part, Qt.Key.Key_Up, SHIFT)  # only its own side moves
    part._things.end_walk()
    assert opened.desk.job.text("stock.width") == f"{stock.width_mm + 1.0:g} mm"
    assert opened.desk.job.text("stock.depth") == "auto"
    qtbot.keyClick(part, Qt.Key.Key_Delete)
    assert opened.desk.job.text("stock.width") == "auto"
    assert opened.desk.undo_words == "sheet as small as does"


def test_things_are_gone_through_by_one_key_and_none_is_chosen_after_the_last(clamped, qtbot):
    kinds = []
    for _ in range(10):
        qtbot.keyClick(clamped.part, Qt.Key.Key_S)
        hand = clamped.part._things.hand
        kinds.append(None if hand.chosen is None else hand.things[hand.chosen].kind)
    assert kinds == ["clamp", "zero", "entry", "mark", "mark", "mark", "stock", "stock", "stock", None]


def test_tabs_of_every_copy_are_drawn_and_those_of_the_first_are_in_the_hand(small):
    from app.desk.tab_hand import TabHand  # noqa: PLC0415 - with the first Shown
    from core.router.copies import copied_tabs  # noqa: PLC0415

    copies = (Placement(), Placement((100.0, 0.0)), Placement((200.0, 150.0), is_turned=True))
    layout = replace(small.shown.layout, copies=copies)
    path = replace(small.shown.path, tabs=copied_tabs(small.shown.path.tabs, copies))
    hand = TabHand(replace(small.shown, layout=layout, path=path))
    assert [tab.at for tab in hand.tabs] == [pytest.approx(tab.at, abs=1e-6) for tab in small.shown.path.tabs]
    assert hand.others == copies[1:]


@pytest.mark.parametrize(
    "copy", [Placement((31.0, 12.5)), Placement((200.0, 150.0), is_turned=True)], ids=str
)
def test_a_copy_is_drawn_where_it_is_cut(themed, small, copy):  # noqa: ARG001 - draws
    drawn = placed(copy).map(path_of(small.shown.as_cut)).boundingRect()
    cut = path_of(copy.regions(small.shown.as_cut)).boundingRect()
    for one, other in zip(drawn.getRect(), cut.getRect(), strict=True):
        assert one == pytest.approx(other, abs=1e-3)


def test_nothing_is_moved_by_a_mere_press(clamped, qtbot):
    qtbot.mouseClick(clamped.part, Qt.MouseButton.LeftButton, pos=px(clamped.part, BOX.at).toPoint())
    assert clamped.desk.job.stock.clamps == (BOX,)
    assert SheetHand(clamped.part.shown).drop() is None
