"""True size: a mm is a mm, by the screen's word or by a bank card, and that is remembered for each screen."""

import pytest

from app.desk.errand import Errands
from app.desk.true_size import CARD_MM, STEP, TrueSize, TrueSizeCard, corrections, remember, screen_name
from app.desk.view import INCH_MM, CommonView

DOTS = 96.0


def test_at_true_size_a_card_on_the_page_is_as_wide_as_the_frame_that_measures_it(themed, qtbot):  # noqa: ARG001
    window, view = _window(qtbot), CommonView()
    card = TrueSizeCard(window, window, view, DOTS)
    view.true_size(DOTS)
    for _ in range(4):
        card.wider.click()
    assert view.screen_correction == pytest.approx((1.0 + STEP) ** 4)
    assert CARD_MM[0] / view.mm_per_px == pytest.approx(CARD_MM[0] * card.frame.px_per_mm)
    assert card.frame.sizeHint().width() >= CARD_MM[0] * DOTS / INCH_MM
    card.back.click()
    assert view.screen_correction == 1.0
    assert view.is_true_size(DOTS)


def test_a_view_that_is_not_at_true_size_keeps_its_scale(themed, qtbot):  # noqa: ARG001
    view = CommonView()
    before = view.mm_per_px
    view.correct_screen(1.1, DOTS)
    assert view.mm_per_px == before
    assert view.times_true_size(DOTS) == pytest.approx(INCH_MM / DOTS / 1.1 / before)


def test_what_was_set_is_remembered_for_this_screen_and_for_no_other(themed, qtbot, tmp_path):  # noqa: ARG001
    window, errands, view = _window(qtbot), Errands(), CommonView()
    true_size = TrueSize(window, errands)
    true_size.take(view)
    true_size.recall(tmp_path)
    qtbot.waitUntil(lambda: not errands.are_running)
    card = true_size.card(window, window)
    card.wider.click()
    card.shut()
    qtbot.waitUntil(lambda: not errands.are_running)
    remember(tmp_path / "screens.json", "another screen", 0.9)
    again, other = TrueSize(window, errands), CommonView()
    again.recall(tmp_path)
    qtbot.waitUntil(lambda: not errands.are_running)
    again.take(other)
    assert other.screen_correction == pytest.approx(1.0 + STEP)
    errands.close()


@pytest.mark.parametrize("text", ["", "[1]", '{"a": "wide"}', '{"a": 99.0}', "no JSON"])
def test_corrections_that_make_no_sense_are_none(tmp_path, text):
    (tmp_path / "screens.json").write_text(text)
    assert corrections(tmp_path / "screens.json") == {}


def _window(qtbot):
    from PySide6.QtWidgets import QWidget  # noqa: PLC0415 - needs a QApplication

    window = QWidget()
    window.resize(900, 700)
    qtbot.addWidget(window)
    window.show()
    assert screen_name(window.screen())
    return window
