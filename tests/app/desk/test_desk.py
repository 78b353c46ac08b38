"""The Desk with a stand-in for the building process: newest wins, nothing is lost, nothing waits for ever."""

import pytest

from app.worker import Wanted
from core.errors import BadValue
from core.kit.kit import Kit


class Shown:
    """As much of a Shown as the Desk looks at."""

    def __init__(self, height=100.0, *, is_first_look=False):
        self.size_mm = (80.0, height)
        self.findings = ()
        self.is_first_look = is_first_look


@pytest.fixture
def opened(desk, stand_ins, qtbot):
    desk.open_bytes("a.png", b"a")
    answer(desk, stand_ins[-1], qtbot, Shown())
    return desk


def answer(desk, process, qtbot, result):
    with qtbot.waitSignal(desk.shown_changed):
        process.says(result)


def test_a_picture_on_the_desk_is_asked_about_and_shown(opened, stand_ins):
    assert [wanted for wanted, _, _ in stand_ins[0].asked] == [Wanted.SHOWN]
    assert not opened.is_old
    assert opened.undo_words == ""  # taking the first picture back would leave nothing to look at


def test_what_is_shown_is_old_until_the_answer_comes(opened, stand_ins, qtbot):
    with qtbot.waitSignal(opened.shown_changed) as heard:
        opened.propose("shape.height", "118 mm")
    assert heard.args[1] is True
    assert opened.scale == pytest.approx(1.18)
    answer(opened, stand_ins[0], qtbot, Shown(118.0))
    assert not opened.is_old
    assert opened.scale == 1.0


def test_an_answer_to_an_older_question_is_dropped(opened, stand_ins, qtbot):
    opened.propose("shape.height", "110 mm")
    older = stand_ins[0].number
    opened.propose("shape.height", "120 mm")
    stand_ins[0].says(Shown(110.0), number=older)
    answer(opened, stand_ins[0], qtbot, Shown(120.0))
    assert opened.shown.size_mm[1] == 120.0


def test_a_wrong_value_changes_nothing(opened):
    before = opened.job
    with pytest.raises(BadValue):
        opened.propose("shape.height", "tall")
    assert opened.job == before
    assert opened.undo_words == ""


def test_undo_before_anything_was_built_needs_no_build(opened, stand_ins):
    opened.propose("shape.height", "118 mm")
    assert opened.undo_words == "height 118 mm"
    opened.undo()
    assert not opened.is_old
    assert opened.redo_words == "height 118 mm"
    assert len(stand_ins[0].asked) == 2


def test_the_same_value_again_is_no_step(opened):
    opened.propose("shape.height", "118 mm")
    opened.propose("shape.height", "118 mm")
    opened.undo()
    assert opened.undo_words == ""


def test_a_height_that_is_dragged_scales_what_is_shown_and_is_no_step(opened, qtbot):
    with qtbot.waitSignal(opened.preview_changed) as heard:
        opened.height_preview(150.0)
    assert heard.args == [1.5]
    assert opened.undo_words == ""
    opened.height_preview(None)
    assert opened.scale == 1.0


def test_a_bad_picture_is_one_sentence_and_the_last_good_one_stays(opened, stand_ins, qtbot):
    good = opened.job
    opened.open_bytes("b.png", b"b")
    with qtbot.waitSignal(opened.failed) as heard:
        stand_ins[0].says(None, "b.png is no picture.")
    assert heard.args == ["b.png is no picture.", False]
    assert opened.job == good
    assert not opened.is_old
    assert opened.redo_words == ""


def test_a_choice_that_cannot_be_built_stays_and_is_told(opened, stand_ins, qtbot):
    opened.propose("shape.height", "118 mm")
    with qtbot.waitSignals([opened.failed, opened.stage_changed]):
        stand_ins[0].says(None, "It cannot be.")
    assert opened.job.text("shape.height") == "118 mm"
    assert opened.is_old


def test_a_process_that_dies_is_started_again_and_asked_again(opened, stand_ins, qtbot):
    opened.propose("shape.height", "118 mm")
    with qtbot.waitSignal(opened.failed):
        stand_ins[0].dies()
    assert stand_ins[0].is_closed
    answer(opened, stand_ins[1], qtbot, Shown(118.0))
    assert not opened.is_old


def test_a_question_that_kills_twice_is_not_asked_again(opened, stand_ins, qtbot):
    opened.propose("shape.height", "118 mm")
    for number in range(2):
        with qtbot.waitSignal(opened.failed):
            stand_ins[number].dies()
    assert len(stand_ins) == 2
    opened.propose("shape.height", "90 mm")
    answer(opened, stand_ins[2], qtbot, Shown(90.0))


def test_a_process_that_cannot_start_is_not_started_for_ever(desk, stand_ins, qtbot):
    for number in range(2):
        with qtbot.waitSignal(desk.failed):
            stand_ins[number].dies()
    qtbot.wait(50)
    assert len(stand_ins) == 2


def test_a_kit_is_not_given_up_for_a_later_change_which_is_built_after_it(opened, stand_ins, qtbot, tmp_path):
    opened.write_kit(tmp_path / "kit")
    opened.propose("shape.height", "118 mm")
    assert stand_ins[0].asked[-1][0] is Wanted.KIT
    with qtbot.waitSignal(opened.kit_written) as heard:
        stand_ins[0].says(Kit({"a.txt": b"a"}, {}, ()))
    assert (tmp_path / "kit" / "a.txt").read_bytes() == b"a"
    assert heard.args[0] == str(tmp_path / "kit")
    assert stand_ins[0].asked[-1][0] is Wanted.SHOWN
    assert opened.has_unsaved  # the change after it is in no kit


def test_a_kit_that_cannot_be_written_is_told_and_the_desk_is_free_again(opened, stand_ins, qtbot, tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("dear")
    opened.write_kit(tmp_path / "mine")
    with qtbot.waitSignal(opened.failed):
        stand_ins[0].says(Kit({"a.txt": b"a"}, {}, ()))
    assert not opened.is_writing
    assert (tmp_path / "mine" / "letter.txt").read_text() == "dear"


def test_a_file_that_is_not_there_is_one_sentence(desk, qtbot, tmp_path):
    with qtbot.waitSignal(desk.failed) as heard:
        desk.open_path(tmp_path / "none.png")
    assert heard.args[0] == f"There is no file {tmp_path / 'none.png'}."


def test_a_stage_is_told_in_words(opened, stand_ins, qtbot):
    opened.propose("shape.height", "118 mm")
    with qtbot.waitSignal(opened.stage_changed) as heard:
        stand_ins[0].tells("trace")
    assert heard.args == ["tracing its outline"]


def look(desk, process, qtbot, **choices):
    with qtbot.waitSignal(desk.shown_changed):
        process.looks(Shown(**choices, is_first_look=True))


def test_a_first_look_is_shown_and_the_exact_one_takes_its_place(desk, stand_ins, qtbot):
    desk.open_bytes("a.png", b"a")
    look(desk, stand_ins[0], qtbot)
    assert desk.shown.is_first_look
    assert not desk.is_old
    answer(desk, stand_ins[0], qtbot, Shown())
    assert not desk.shown.is_first_look
    assert len(stand_ins[0].asked) == 1


def test_a_change_made_on_a_first_look_is_asked_about_and_not_lost(desk, stand_ins, qtbot):
    desk.open_bytes("a.png", b"a")
    look(desk, stand_ins[0], qtbot)
    older = stand_ins[0].number
    desk.propose("shape.height", "118 mm")
    stand_ins[0].says(Shown(), number=older)
    answer(desk, stand_ins[0], qtbot, Shown(118.0))
    assert desk.shown.size_mm[1] == 118.0
    assert desk.undo_words == "height 118 mm"


def test_going_back_to_what_had_only_a_first_look_asks_again(desk, stand_ins, qtbot):
    desk.open_bytes("a.png", b"a")
    look(desk, stand_ins[0], qtbot)
    desk.propose("shape.height", "118 mm")
    desk.undo()
    assert [wanted for wanted, _, _ in stand_ins[0].asked] == [Wanted.SHOWN] * 3


def test_a_picture_that_had_a_first_look_stays_when_the_exact_one_fails(desk, stand_ins, qtbot):
    desk.open_bytes("a.png", b"a")
    look(desk, stand_ins[0], qtbot)
    with qtbot.waitSignal(desk.failed):
        stand_ins[0].says(None, "no such luck")
    assert desk.source.name == "a.png"
    assert desk.shown.is_first_look


def test_old_pages_say_so_when_nothing_newer_is_on_its_way(opened, stand_ins, qtbot):
    opened.propose("shape.height", "118 mm")
    assert not opened.is_stuck
    with qtbot.waitSignal(opened.failed):
        stand_ins[0].says(None, "no such luck")
    assert opened.is_old
    assert opened.is_stuck
    opened.propose("shape.height", "120 mm")
    assert not opened.is_stuck
    answer(opened, stand_ins[0], qtbot, Shown(120.0))
    assert not opened.is_old
