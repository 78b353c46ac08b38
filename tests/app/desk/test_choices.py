"""The cards of the sentence: choices typed, pressed, refused, given back, found by name, undone."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication

from app.desk.cards import CARDS
from core.job.job import CHOICES
from tests.support.hands import typed

LEFT = Qt.MouseButton.LeftButton


def test_every_choice_has_its_control_in_a_card(at_work):
    seen = set()
    for card in CARDS:
        at_work.open_card(card.name)
        seen |= set(at_work.popover.controls)
        for key in card.more:
            at_work.open_choice(key)
            assert at_work.popover.controls[key].isVisible()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # the card before this one
        at_work.popover.shut()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert seen == set(CHOICES)


def test_a_refused_value_is_told_beside_the_field_and_the_last_good_one_stays(at_work, qtbot):
    at_work.open_choice("cutting.skim")
    control = at_work.popover.controls["cutting.skim"]
    typed(control, "7", qtbot)
    assert control.refused == "7 is too much; it takes 0 mm to 5 mm."
    assert at_work.desk.job.text("cutting.skim") == "0.3 mm"
    typed(control, "0.2", qtbot)
    assert control.refused == ""
    assert control.field.text() == "0.2 mm"


def test_a_changed_choice_is_marked_and_given_back_by_a_press(at_work, qtbot):
    at_work.open_choice("bit.diameter")
    control = at_work.popover.controls["bit.diameter"]
    assert control._back.isHidden()
    typed(control, "1/8 in", qtbot)
    assert control._back.isVisible()
    qtbot.mouseClick(control._back, LEFT)
    assert at_work.desk.job.is_default("bit.diameter")


def test_a_word_is_chosen_by_a_press(at_work, qtbot):
    at_work.open_choice("film.side")
    button = at_work.popover.controls["film.side"].field._buttons["behind"]
    qtbot.mouseClick(button, LEFT)
    assert at_work.desk.job.film.side == "behind"
    assert (
        "films behind" in at_work.strip.accessibleName() or "behind" in at_work.strip.brackets["films"].text()
    )


def test_films_are_put_in_order_by_a_press_the_uppermost_first(at_work, qtbot):
    at_work.open_choice("film.order")
    field = at_work.popover.controls["film.order"].field
    lowest, *rest = (film.name for film in at_work.desk.shown.films.films)
    assert field.names == (lowest, *rest)
    assert not field.moves[lowest, -1].isEnabled()
    qtbot.mouseClick(field.moves[lowest, 1], LEFT)
    assert at_work.desk.job.film.order == (rest[0], lowest, *rest[1:])
    assert field.names == at_work.desk.job.film.order
    qtbot.mouseClick(at_work.popover.controls["film.order"]._back, LEFT)
    assert at_work.desk.job.film.order == ()
    assert field.names == (lowest, *rest)


def test_what_becomes_of_a_colour_is_chosen_by_a_press(at_work, qtbot):
    at_work.open_card("picture")
    field = at_work.popover.controls["shape.colours"].field
    colour = next(colour for colour, row in field._rows.items() if row._buttons["film"].isChecked())
    qtbot.mouseClick(field._rows[colour]._buttons["bare"], LEFT)
    assert at_work.desk.job.text("shape.colours") == f"{colour} bare"


def test_undo_and_redo_go_by_name_through_everything_that_was_done(at_work, qtbot):
    first = at_work.desk.job
    for number in range(20):
        at_work.desk.propose("bit.diameter", f"{1 + number / 10} mm")
    last = at_work.desk.job
    assert at_work.status._undo.text() == "undo: bit diameter 2.9 mm"
    for _ in range(20):
        qtbot.keyClick(at_work, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert at_work.desk.job == first
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    for _ in range(20):
        qtbot.keyClick(at_work, Qt.Key.Key_Z, both)
    assert at_work.desk.job == last


def test_a_card_that_takes_the_place_of_another_stays_open(at_work, qapp):
    at_work.open_choice("bit.diameter")  # the keyboard is in a field of the first
    qapp.processEvents()
    at_work.open_choice("stock.thickness")
    qapp.processEvents()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert at_work.popover is not None
    assert at_work.popover.isVisible()
    assert at_work.popover.controls["stock.thickness"].field.isVisible()


def test_a_choice_is_found_by_its_name_with_the_keyboard_alone(at_work, qtbot):
    qtbot.keyClick(at_work, Qt.Key.Key_Slash)
    qtbot.keyClicks(at_work.popover.line, "skim")
    qtbot.keyClick(at_work.popover.line, Qt.Key.Key_Return)
    control = at_work.popover.controls["cutting.skim"]
    qtbot.waitUntil(control.field.hasFocus)
    qtbot.keyClick(control.field, Qt.Key.Key_Escape)
    assert at_work.popover is None


def test_the_same_bracket_closes_its_card_and_another_opens_another(at_work, qtbot):
    qtbot.mouseClick(at_work.strip.brackets["bit"], LEFT)
    assert at_work.popover.heading.text() == "The bit"
    qtbot.mouseClick(at_work.strip.brackets["films"], LEFT)
    assert at_work.popover.heading.text() == "The films"
    qtbot.mouseClick(at_work.strip.brackets["films"], LEFT)
    assert at_work.popover is None


def test_letters_typed_into_a_field_are_no_keys(at_work, qtbot):
    at_work.open_choice("files.name")
    field = at_work.popover.controls["files.name"].field
    qtbot.keyClicks(field, "P0./")
    assert field.text() == "P0./"
    assert not at_work.spread.view.has_picture
