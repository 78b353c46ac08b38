"""The window as a person uses it: drop, type, press, undo, write. The building process is a stand-in."""

from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog, QLabel, QLineEdit, QScrollArea

from app.desk.cards import CARDS
from app.desk.keeping import Keeper
from app.desk.theme import DARK, LIGHT, put_on
from app.desk.window import DeskWindow
from app.opened import opened as read_opened
from app.worker import Wanted
from core.findings import Finding, Level
from core.job.job import CHOICES, Job
from core.kit.kit import Kit

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def window(desk, qtbot, tmp_path):
    made = DeskWindow(desk, tmp_path / "state")
    qtbot.addWidget(made, before_close_func=DeskWindow.close)  # the first time it asks about unsaved work
    made.show()
    qtbot.waitActive(made).__enter__()
    qtbot.waitUntil(lambda: made.spread is not None and not desk.errands.are_running)
    return made


@pytest.fixture
def opened(window, stand_ins, shown_of_turtle, qtbot):
    """The demo on the desk, its height given."""
    window.open_demo()
    window.desk.propose("shape.height", "118 mm")
    answers(window, stand_ins[-1], shown_of_turtle(window.desk.job), qtbot)
    return window


def answers(window, process, shown, qtbot):
    with qtbot.waitSignal(window.desk.shown_changed):
        process.says(shown)


def dropped(window, data):
    spot, copy = QPoint(300, 300), Qt.DropAction.CopyAction
    none = Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(window, enter := QDragEnterEvent(spot, copy, data, LEFT, none))
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(QPointF(spot), copy, data, LEFT, none))
    return enter.isAccepted()


def typed(control, text, qtbot):
    field = control.field
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_a_dropped_picture_is_opened_and_its_height_is_asked_for(
    window, stand_ins, shown_of_turtle, qtbot, tmp_path, turtle
):
    (tmp_path / "my turtle.png").write_bytes(turtle.data)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "my turtle.png"))])
    with qtbot.waitSignal(window.desk.job_changed):
        assert dropped(window, data)
    answers(window, stand_ins[-1], shown_of_turtle(), qtbot)
    assert window.spread is not None
    assert window.spread.isVisible()
    assert window.strip.brackets["picture"].text() == "my turtle"
    assert "shape.height" in window.popover.controls
    assert window.strip.answer.text() == "1 to answer"
    control = window.popover.controls["shape.height"]
    qtbot.waitUntil(control.field.hasFocus)
    typed(control, "4 5/8 in", qtbot)
    assert window.desk.job.text("shape.height") == "4 5/8 in"
    assert window.strip.answer.isHidden()
    assert control._other.text() == "117.47 mm"


def test_text_is_not_taken_for_a_picture(window):
    data = QMimeData()
    data.setText("hello")
    assert not dropped(window, data)


def test_a_bad_file_is_one_sentence_on_the_page_and_nothing_else_changes(opened, qtbot, tmp_path):
    job = opened.desk.job
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "gone.png"))])
    with qtbot.waitSignal(opened.desk.failed):
        dropped(opened, data)
    assert opened.notice.text == f"There is no file {tmp_path / 'gone.png'}."
    assert opened.desk.job == job


def test_a_copied_picture_is_pasted_and_nothing_copied_is_told(window, stand_ins):
    QGuiApplication.clipboard().clear()
    window.paste()
    assert "copy one first" in window.notice.text
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.red)
    QGuiApplication.clipboard().setImage(image)
    window.paste()
    assert stand_ins[-1].asked[-1][2].data.startswith(b"\x89PNG")
    QGuiApplication.clipboard().clear()


def test_every_choice_has_its_control_in_a_card(opened):
    seen = set()
    for card in CARDS:
        opened.open_card(card.name)
        seen |= set(opened.popover.controls)
        for key in card.more:
            opened.open_choice(key)
            assert opened.popover.controls[key].isVisible()
        opened.popover.shut()
    assert seen == set(CHOICES)


def test_a_refused_value_is_told_beside_the_field_and_the_last_good_one_stays(opened, qtbot):
    opened.open_choice("cutting.skim")
    control = opened.popover.controls["cutting.skim"]
    typed(control, "7", qtbot)
    assert control.refused == "7 is too much; it takes 0 mm to 5 mm."
    assert opened.desk.job.text("cutting.skim") == "0.3 mm"
    typed(control, "0.2", qtbot)
    assert control.refused == ""
    assert control.field.text() == "0.2 mm"


def test_a_changed_choice_is_marked_and_given_back_by_a_press(opened, qtbot):
    opened.open_choice("bit.diameter")
    control = opened.popover.controls["bit.diameter"]
    assert control._back.isHidden()
    typed(control, "1/8 in", qtbot)
    assert control._back.isVisible()
    qtbot.mouseClick(control._back, LEFT)
    assert opened.desk.job.is_default("bit.diameter")


def test_a_word_is_chosen_by_a_press(opened, qtbot):
    opened.open_choice("film.side")
    button = opened.popover.controls["film.side"].field._buttons["behind"]
    qtbot.mouseClick(button, LEFT)
    assert opened.desk.job.film.side == "behind"
    assert (
        "films behind" in opened.strip.accessibleName() or "behind" in opened.strip.brackets["films"].text()
    )


def test_what_becomes_of_a_colour_is_chosen_by_a_press(opened, qtbot):
    opened.open_card("picture")
    field = opened.popover.controls["shape.colours"].field
    colour = next(colour for colour, row in field._rows.items() if row._buttons["film"].isChecked())
    qtbot.mouseClick(field._rows[colour]._buttons["bare"], LEFT)
    assert opened.desk.job.text("shape.colours") == f"{colour} bare"


def test_undo_and_redo_go_by_name_through_everything_that_was_done(opened, qtbot):
    first = opened.desk.job
    for number in range(20):
        opened.desk.propose("bit.diameter", f"{1 + number / 10} mm")
    last = opened.desk.job
    assert opened.status._undo.text() == "undo: bit diameter 2.9 mm"
    for _ in range(20):
        qtbot.keyClick(opened, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert opened.desk.job == first
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    for _ in range(20):
        qtbot.keyClick(opened, Qt.Key.Key_Z, both)
    assert opened.desk.job == last


def test_a_choice_is_found_by_its_name_with_the_keyboard_alone(opened, qtbot):
    qtbot.keyClick(opened, Qt.Key.Key_Slash)
    qtbot.keyClicks(opened.popover.line, "skim")
    qtbot.keyClick(opened.popover.line, Qt.Key.Key_Return)
    control = opened.popover.controls["cutting.skim"]
    qtbot.waitUntil(control.field.hasFocus)
    qtbot.keyClick(control.field, Qt.Key.Key_Escape)
    assert opened.popover is None


def test_the_same_bracket_closes_its_card_and_another_opens_another(opened, qtbot):
    qtbot.mouseClick(opened.strip.brackets["bit"], LEFT)
    assert opened.popover.heading.text() == "The bit"
    qtbot.mouseClick(opened.strip.brackets["films"], LEFT)
    assert opened.popover.heading.text() == "The films"
    qtbot.mouseClick(opened.strip.brackets["films"], LEFT)
    assert opened.popover is None


def test_the_next_key_goes_through_every_place_of_every_finding(opened, qtbot):
    places = []
    opened.findings.place_asked.connect(places.append)
    total = sum(len(view.group.places) for view in opened.findings.views)
    nowhere = sum(not view.group.places for view in opened.findings.views)
    for _ in range(total + nowhere):
        qtbot.keyClick(opened, Qt.Key.Key_F6)
    assert len(places) == total
    assert set(places) == {finding.at for finding in opened.desk.shown.findings if finding.at}


def test_the_picture_is_shown_and_put_away_by_one_key(opened, qtbot):
    for wanted in (True, False):
        qtbot.keyClick(opened, Qt.Key.Key_P)
        assert opened.spread.view.has_picture is wanted


def test_letters_typed_into_a_field_are_no_keys(opened, qtbot):
    opened.open_choice("files.name")
    field = opened.popover.controls["files.name"].field
    qtbot.keyClicks(field, "P0./")
    assert field.text() == "P0./"
    assert not opened.spread.view.has_picture


def test_a_remedy_opens_its_choice(opened, qtbot):
    view = next(view for view in opened.findings.views if view.group.code == "corner-rounded")
    button = next(one for one in view.findChildren(QAbstractButton) if one.text() == "bit…")
    qtbot.mouseClick(button, LEFT)
    assert "bit.diameter" in opened.popover.controls


def test_an_enclosed_area_is_cut_out_by_one_press(opened):
    shown = opened.desk.shown
    at = shown.place.of((200.0, 300.0))
    finding = Finding(Level.NOTE, "enclosed-bare", "One area.", "Give it a role.", at)
    opened.findings._show(())
    opened.findings._cut_out(finding.at)
    colour = shown.palette[shown.ground]
    assert opened.desk.job.text("shape.patches") == f"200,300 {colour} through"


def test_the_column_can_be_folded_and_comes_back_with_the_next_finding(opened, qtbot):
    qtbot.mouseClick(opened.findings._fold, LEFT)
    assert opened.findings.width() < 60
    qtbot.keyClick(opened, Qt.Key.Key_Period)
    assert opened.findings.width() > 200


def test_the_kit_is_written_where_it_is_told_and_the_proof_is_shown(opened, stand_ins, qtbot, tmp_path):
    qtbot.keyClick(opened, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    place = opened.popover.findChild(QLineEdit)
    assert Path(place.text()).name == "turtle-118mm-kit"
    place.setText(str(tmp_path / "kit"))
    qtbot.mouseClick(opened.popover.go, LEFT)
    assert stand_ins[-1].asked[-1][0] is Wanted.KIT
    with qtbot.waitSignal(opened.desk.kit_written):
        stand_ins[-1].says(Kit({"a.txt": b"a"}, {"readback": {"mark_error_mm": 0.0}, "files": []}, ()))
    assert (tmp_path / "kit" / "a.txt").is_file()
    assert "marks by 0.000 mm" in opened.popover.proof.text()


def test_everything_that_takes_the_keyboard_has_a_name(opened):
    opened.open_choice("cutting.skim")
    for widget in opened.findChildren(QAbstractButton) + opened.findChildren(QLineEdit):
        if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
            assert widget.accessibleName() or getattr(widget, "text", str)(), widget


def test_tab_reaches_every_bracket_in_the_order_of_the_sentence(opened, qtbot):
    opened.strip.brackets["picture"].setFocus()
    order = []
    for _ in CARDS:
        order.append(QApplication.focusWidget())
        qtbot.keyClick(order[-1], Qt.Key.Key_Tab)
    assert order == list(opened.strip.brackets.values())


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("size", [(1100, 700), (1600, 1000)], ids=str)
def test_no_text_is_cut_off(opened, themed, theme, size):
    put_on(themed, theme)
    opened.resize(*size)
    cards = [lambda card=card: opened.open_choice(card.choices[-1]) for card in CARDS]
    for open_one in (
        lambda: None,
        *cards,
        opened.list_keys,
        opened.find_choice,
        opened.ask_for_kit,
        opened.set_true_size,
    ):
        open_one()
        for _ in range(5):  # a layout asks for another one when a text wraps
            themed.processEvents()
        assert cut_off(opened) == []
    put_on(themed, LIGHT)


def cut_off(window):
    """Texts that are wider or higher than what they stand in, and words of the sentence that overlap."""
    found = []
    for widget in window.findChildren(QLabel) + window.findChildren(QAbstractButton):
        if not widget.isVisible() or not widget.text():
            continue
        needed = widget.sizeHint()
        wraps = isinstance(widget, QLabel) and widget.wordWrap()
        too_high = widget.height() < widget.heightForWidth(widget.width()) - 1 if wraps else False
        if too_high or (not wraps and widget.width() < needed.width() - 1):
            found.append(
                (
                    widget.text(),
                    widget.size().toTuple(),
                    needed.toTuple(),
                    widget.heightForWidth(widget.width()),
                )
            )
    areas = [area for area in window.findChildren(QScrollArea) if area.isVisible()]
    found += [area.size() for area in areas if area.widget().width() > area.viewport().width()]
    words = [word for word in window.strip._words if word.isVisible()]
    for one, other in pairwise(words):
        if one.geometry().intersects(other.geometry()):
            found.append((one.text(), other.text()))
    return found


def test_closing_twice_with_unsaved_work_leaves_it_for_the_next_window(opened, tmp_path):
    opened.close()
    assert opened.isVisible()
    opened.close()
    assert not opened.isVisible()
    left = Keeper(tmp_path / "state").left()
    assert left.job == opened.desk.job


def test_the_next_window_offers_what_was_left_and_goes_on_with_it(desk, turtle, qtbot, tmp_path):
    job = Job(source="turtle.png").with_choice("shape.height", "77 mm")
    keeper = Keeper(tmp_path / "state")
    keeper.keep(job, turtle)
    keeper.close(is_done=False)
    window = DeskWindow(desk, tmp_path / "state")
    qtbot.addWidget(window)
    window.show()
    qtbot.waitUntil(lambda: bool(window.first.offered))
    assert window.first.offered == "Go on with turtle.png"
    window.first._kept.click()
    assert desk.job == job
    qtbot.waitUntil(lambda: not desk.errands.are_running)
    assert len(list((tmp_path / "state").iterdir())) == 1
    window.close()
    window.close()


def test_a_change_is_kept_within_five_seconds(opened, qtbot, tmp_path):
    opened.desk.propose("bit.diameter", "1 mm")
    assert opened._keep_timer.isActive()
    assert opened._keep_timer.remainingTime() < 5000
    opened._keep_timer.timeout.emit()
    qtbot.waitUntil(lambda: not opened.desk.errands.are_running)
    (folder,) = (tmp_path / "state").iterdir()
    assert 'diameter = "1 mm"' in (folder / "kept.samecut").read_text()


@pytest.fixture
def says_where(monkeypatch, tmp_path):
    """The file that the maker names when asked where to save; counts how often that was."""
    asked = []

    def name(_window, _title, proposed, _kinds):
        asked.append(Path(proposed))
        return str(tmp_path / "work" / "hanger"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", name)
    (tmp_path / "work").mkdir()
    return asked


def saves(window, qtbot, modifiers=Qt.KeyboardModifier.ControlModifier):
    with qtbot.waitSignal(window.desk.saved):
        qtbot.keyClick(window, Qt.Key.Key_S, modifiers)


def test_ctrl_s_asks_where_once_and_what_was_saved_opens_as_it_was(opened, says_where, qtbot, tmp_path):
    assert opened.isWindowModified()
    saves(opened, qtbot)
    assert not opened.isWindowModified()
    assert opened.windowTitle().startswith("hanger")
    opened.desk.propose("shape.height", "90 mm")
    assert opened.isWindowModified()
    saves(opened, qtbot)
    assert len(says_where) == 1
    assert says_where[0].name == "turtle.samecut"
    again = read_opened(tmp_path / "work" / "hanger.samecut")
    assert again.job == opened.desk.job
    assert again.source.data == opened.desk.source.data


def test_ctrl_shift_s_asks_again(opened, says_where, qtbot):
    saves(opened, qtbot)
    saves(opened, qtbot, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert len(says_where) == 2


def test_undo_to_what_was_saved_has_nothing_left_to_save(opened, says_where, qtbot):  # noqa: ARG001
    saves(opened, qtbot)
    opened.desk.propose("shape.height", "90 mm")
    opened.desk.undo()
    assert not opened.isWindowModified()


def test_unsaved_work_is_asked_about_and_saved_before_the_window_goes(opened, says_where, qtbot, tmp_path):
    opened.close()
    assert opened.isVisible()
    with qtbot.waitSignal(opened.desk.saved):
        opened.popover.save.click()
    qtbot.waitUntil(lambda: not opened.isVisible())
    assert len(says_where) == 1
    assert (tmp_path / "work" / "hanger.samecut").exists()
    assert Keeper(tmp_path / "state").left() is None


def test_unsaved_work_that_is_given_up_is_not_offered_again(opened, tmp_path):
    opened._keep()
    opened.close()
    opened.popover.leave.click()
    assert not opened.isVisible()
    assert Keeper(tmp_path / "state").left() is None


def test_escape_stays_and_the_next_close_asks_again(opened, qtbot):
    opened.close()
    qtbot.keyClick(opened.popover, Qt.Key.Key_Escape)
    opened.close()
    assert opened.isVisible()
    assert opened.popover is not None


def test_a_new_picture_keeps_the_bench_and_nothing_of_the_picture_before(opened):
    desk = opened.desk
    for key, text in (("bit.diameter", "1.5 mm"), ("stock.thickness", "2.8 mm"), ("part.tabs", "100,100")):
        desk.propose(key, text)
    desk.open_bytes("other.png", b"another picture")
    kept, fresh = ("bit.diameter", "stock.thickness"), ("part.tabs", "shape.height", "shape.colours")
    assert [desk.job.text(key) for key in kept] == ["1.5 mm", "2.8 mm"]
    assert all(desk.job.is_default(key) for key in fresh)
    assert desk.job.source == "other.png"


def test_the_pages_at_true_size_say_so_and_a_press_sets_it_by_a_bank_card(opened, qtbot):
    status = opened.status
    assert status.scale.text().endswith("true size")
    opened.spread.part.setFocus()
    qtbot.keyClick(opened.spread.part, Qt.Key.Key_T)
    assert status.scale.text() == "true size"
    status.scale.click()
    assert opened.popover.heading.text() == "True size"
    opened.popover.wider.click()
    assert status.scale.text() == "true size"
