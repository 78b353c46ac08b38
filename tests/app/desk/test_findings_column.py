"""What is worth knowing: gone through by one key, mended by a press, folded away."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton

from app.desk.remedies import REMEDIES
from core.findings import Finding, Level
from core.grouped import grouped
from tests.support.hands import answers

LEFT = Qt.MouseButton.LeftButton


def test_the_next_key_goes_through_every_place_of_every_finding(at_work, qtbot):
    places = []
    at_work.findings.place_asked.connect(places.append)
    total = sum(len(view.group.places) for view in at_work.findings.views)
    nowhere = sum(not view.group.places for view in at_work.findings.views)
    for _ in range(total + nowhere):
        qtbot.keyClick(at_work, Qt.Key.Key_F6)
    assert len(places) == total
    assert set(places) == {finding.at for finding in at_work.desk.shown.findings if finding.at}


def test_a_remedy_opens_its_choice(at_work, qtbot):
    view = next(view for view in at_work.findings.views if view.group.code == "corner-rounded")
    button = next(one for one in view.findChildren(QAbstractButton) if one.text() == "bit…")
    qtbot.mouseClick(button, LEFT)
    assert "bit.diameter" in at_work.popover.controls


def test_no_finding_is_wider_than_the_column_however_many_remedies_it_has(at_work, qtbot):
    made = [Finding(Level.CAUTION, code, "It is so.", "Mend it.", (9.0, 9.0)) for code in REMEDIES]
    at_work.findings._show(grouped(tuple(made)))
    qtbot.waitUntil(lambda: at_work.findings.views[-1].width() > 0)
    room = at_work.findings._scroll.viewport().width()
    for view in at_work.findings.views:
        assert view.minimumSizeHint().width() <= room, view.group.code
        buttons = view.findChildren(QAbstractButton)
        assert len(buttons) >= len(REMEDIES[view.group.code])
        assert all(view.rect().contains(one.geometry()) for one in buttons), view.group.code


def test_an_enclosed_area_is_cut_out_by_one_press(at_work):
    shown = at_work.desk.shown
    at = shown.place.of((200.0, 300.0))
    finding = Finding(Level.NOTE, "enclosed-bare", "One area.", "Give it a role.", at)
    at_work.findings._show(())
    at_work.findings._cut_out(finding.at)
    colour = shown.palette[shown.ground]
    assert at_work.desk.job.text("shape.patches") == f"200,300 {colour} through"


def test_the_column_can_be_folded_and_comes_back_with_the_next_finding(at_work, qtbot):
    qtbot.mouseClick(at_work.findings._fold, LEFT)
    assert at_work.findings.width() < 60
    qtbot.keyClick(at_work, Qt.Key.Key_Period)
    assert at_work.findings.width() > 200


def test_a_correction_from_an_old_gauge_is_worth_knowing(at_work, stand_ins, shown_of_turtle, qtbot):
    job = at_work.desk.job.with_choice("machine.scale_x", "100.2 %").with_choice(
        "machine.gauged", "2019-01-31"
    )
    at_work.desk.propose_job(job, "corrected")
    answers(at_work, stand_ins[-1], shown_of_turtle(job), qtbot)
    told = [view for view in at_work.findings.views if view.group.code == "gauge-old"]
    assert [str(view.group.level) for view in told] == ["caution"]
    assert "2019-01-31" in told[0].group.text
    levels = [list(Level).index(view.group.level) for view in at_work.findings.views]
    assert levels == sorted(levels)
    qtbot.mouseClick(
        next(one for one in told[0].findChildren(QAbstractButton) if one.text() == "router…"), LEFT
    )
    assert "machine.gauged" in at_work.popover.controls
