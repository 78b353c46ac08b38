"""A picture on its way in: dropped, pasted, refused; and what a new one takes over."""

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QGuiApplication, QImage

from tests.support.hands import answers, dropped, file_of, typed

LEFT = Qt.MouseButton.LeftButton


def test_a_dropped_picture_is_opened_and_its_height_is_asked_for(
    window, stand_ins, shown_of_turtle, qtbot, tmp_path, turtle
):
    (tmp_path / "my turtle.png").write_bytes(turtle.data)
    data = file_of(tmp_path / "my turtle.png")
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


def test_a_bad_file_is_one_sentence_on_the_page_and_nothing_else_changes(at_work, qtbot, tmp_path):
    job = at_work.desk.job
    data = file_of(tmp_path / "gone.png")
    with qtbot.waitSignal(at_work.desk.failed):
        dropped(at_work, data)
    assert at_work.notice.text == f"There is no file {tmp_path / 'gone.png'}."
    assert at_work.desk.job == job


def test_a_copied_picture_is_pasted_and_nothing_copied_is_told(window, stand_ins):
    QGuiApplication.clipboard().clear()
    window.doors.paste()
    assert "copy one first" in window.notice.text
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.red)
    QGuiApplication.clipboard().setImage(image)
    window.doors.paste()
    assert stand_ins[-1].asked[-1][2].data.startswith(b"\x89PNG")
    QGuiApplication.clipboard().clear()


def test_a_new_picture_keeps_the_bench_and_nothing_of_the_picture_before(at_work):
    desk = at_work.desk
    for key, text in (("bit.diameter", "1.5 mm"), ("stock.thickness", "2.8 mm"), ("part.tabs", "100,100")):
        desk.propose(key, text)
    desk.open_bytes("other.png", b"another picture")
    at_work.popover.leave.click()  # asked about first: it is saved nowhere
    kept, fresh = ("bit.diameter", "stock.thickness"), ("part.tabs", "shape.height", "shape.colours")
    assert [desk.job.text(key) for key in kept] == ["1.5 mm", "2.8 mm"]
    assert all(desk.job.is_default(key) for key in fresh)
    assert desk.job.source == "other.png"
