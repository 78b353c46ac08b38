"""The bench view: every step of the kit's own order of work, large, turned over like pages."""

import json
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from app.desk.theme import DARK, LIGHT, put_on
from core.cancel import NEVER
from core.files import write_folder
from core.job.job import Job, Source
from core.kit.kit import Kit
from core.kit.make import make_kit
from core.kit.older_kit import is_older_kit
from core.paper.order import Scene
from tests.app.desk.test_readable import cut_off, hard_to_read, laid_on_another
from tests.support.hands import LONG_MS

TURTLE = Path(__file__).parents[3] / "assets" / "demo" / "turtle.png"
#: pt; letters of this size at two metres are as large as 11 pt at 0.9 m.
READ_PT = 24.0
LEFT = Qt.MouseButton.LeftButton


@cache
def kit(*choices: tuple[str, str]) -> Kit:
    job = Job(source="turtle.png").with_choice("shape.height", "118 mm")
    for key, text in choices:
        job = job.with_choice(key, text)
    return make_kit(job, Source("turtle.png", TURTLE.read_bytes()), NEVER, lambda _: None)


def written(window, made, tmp_path):
    """As if the building process had made it, and the disk had taken it."""
    folder = tmp_path / "turtle-kit"
    write_folder(folder, dict(made.files), is_older_kit)
    window.desk.kit_written.emit(str(folder), made)
    return folder


@pytest.fixture
def at_bench(at_work, tmp_path, qtbot):
    """The window with the demo's kit written and taken to the bench."""
    written(at_work, kit(), tmp_path)
    button = next(one for one in at_work.popover.findChildren(QPushButton) if "bench" in one.text())
    qtbot.mouseClick(button, LEFT)
    assert at_work.is_at_bench
    return at_work


def test_every_step_of_the_kit_is_shown_in_order_with_its_number_and_its_care(at_bench, qtbot):
    order = kit().report["order"]
    for number, entry in enumerate(order):
        view = at_bench.bench
        assert (view.at, view.words.text(), view.care.text()) == (number, entry["words"], entry["care"])
        assert view.number.isVisible() == bool(entry["number"])
        assert view.number.text().replace("\n", " ") == entry["number"]
        assert view.picture.accessibleName() == f"picture: {entry['picture'].partition(': ')[2]}"
        assert entry["words"] in view.accessibleName()
        qtbot.keyClick(view, Qt.Key.Key_PageDown)
    assert at_bench.bench.at == len(order) - 1
    assert not at_bench.bench.next.isEnabled()


def test_what_the_hands_need_is_the_number_of_its_step():
    order = kit().report["order"]
    numbers = {entry["number"] for entry in order if entry["number"]}
    assert {"3.00 mm", "2 mm", "Z 0.10 mm"} <= numbers
    wide, high = kit().report["films"][0]["sheet_box_mm"]
    assert f"{wide:.2f} \u00d7 {high:.2f} mm" in numbers
    for entry in order:
        value = entry["number"].removeprefix("Z ").partition(" ")[0]
        assert entry["stage"] == "Cut the film" or value in entry["words"]


def test_it_is_turned_by_keys_and_presses_and_left_by_escape_where_it_was(at_bench, qtbot):
    view = at_bench.bench
    qtbot.keyClick(view, Qt.Key.Key_Space)
    qtbot.keyClick(view, Qt.Key.Key_B)
    assert view.at == 1
    assert not at_bench.spread.play.is_running
    qtbot.mouseClick(view.next, LEFT)
    qtbot.keyClick(view, Qt.Key.Key_Left)
    assert view.at == 1
    qtbot.keyClick(view, Qt.Key.Key_End)
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert view.at == 0
    qtbot.keyClick(view, Qt.Key.Key_Right)
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert not at_bench.is_at_bench
    assert at_bench.spread.isVisible()
    qtbot.keyClick(at_bench, Qt.Key.Key_B, Qt.KeyboardModifier.ControlModifier)
    assert at_bench.is_at_bench
    assert view.at == 1


@pytest.mark.parametrize("size", [(1100, 700), (1600, 1000), (3840, 2160)], ids=str)
def test_every_step_is_large_enough_to_be_read_at_two_metres_and_nothing_is_cut_off(at_bench, themed, size):
    put_on(themed, DARK)  # the sun shines all the same
    at_bench.resize(*size)
    for _ in kit().report["order"]:
        for _ in range(3):
            themed.processEvents()
        assert at_bench.bench.words.font().pointSizeF() >= READ_PT
        assert cut_off(at_bench) == []
        assert laid_on_another(at_bench) == []
        at_bench.bench.go(1)
    assert hard_to_read(at_bench) == []
    put_on(themed, LIGHT)


def test_every_scene_of_the_papers_can_be_drawn_on_the_screen(at_bench):
    view = at_bench.bench
    blank = view.picture.grab().toImage()
    for scene in Scene:
        view.picture._scene = str(scene)
        drawn = view.picture.grab().toImage()
        assert drawn != blank
        blank = drawn


def test_without_a_kit_it_says_what_is_missing(at_work, qtbot):
    qtbot.keyClick(at_work, Qt.Key.Key_B, Qt.KeyboardModifier.ControlModifier)
    assert not at_work.is_at_bench
    assert at_work.notice.text.startswith("Write the kit first")


def test_a_job_that_lies_in_its_kit_goes_to_the_bench_and_a_changed_kit_does_not(window, tmp_path, qtbot):
    folder = tmp_path / "turtle-kit"
    write_folder(folder, dict(kit().files), is_older_kit)
    job = next(folder.glob("*.samecut"))
    window.doors.open(job)
    qtbot.waitUntil(lambda: window.desk.home.job == job, timeout=LONG_MS)
    window.show_bench()
    qtbot.waitUntil(lambda: window.is_at_bench, timeout=LONG_MS)
    assert window.bench.words.text() == kit().report["order"][0]["words"]
    window.leave_bench()
    report = json.loads((folder / "report.json").read_text())
    report["order"][5]["words"] = report["order"][5]["words"].replace("0.10", "5.00")
    (folder / "report.json").write_text(json.dumps(report))
    window.show_bench()
    qtbot.waitUntil(lambda: "is not as it was made" in window.notice.text, timeout=LONG_MS)
    assert not window.is_at_bench


def test_the_work_of_another_picture_is_not_taken_to_the_bench(at_bench):
    at_bench.leave_bench()
    other = Source("other.png", TURTLE.read_bytes())
    at_bench.desk.take_up(at_bench.desk.job, other, "other.png opened")
    at_bench.show_bench()
    assert not at_bench.is_at_bench


def test_a_kit_without_any_order_of_work_is_written_all_the_same(at_work, tmp_path):
    made = kit()
    at_work.desk.kit_written.emit(
        str(tmp_path), Kit(made.files, dict(made.report) | {"order": []}, made.findings)
    )
    at_work.show_bench()
    assert not at_work.is_at_bench
