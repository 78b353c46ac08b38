"""What is worth knowing: gone through by one key, mended by a press, folded away."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton

from app.desk.acts import ACTS
from app.desk.remedies import REMEDIES
from core.findings import Finding, Level
from core.grouped import grouped
from tests.support.hands import answers

LEFT = Qt.MouseButton.LeftButton


def pressed(window, finding, words):
    """Press one button of a finding, as if the last Build had told it."""
    window.findings._show(grouped((finding,)))
    (view,) = window.findings.views
    next(one for one in view.findChildren(QAbstractButton) if one.text() == words).click()


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
    pressed(at_work, finding, "cut it out")
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


def at_px(window, px):
    return window.desk.shown.place.of(px)


@pytest.mark.parametrize(
    ("code", "words", "key", "text"),
    [
        ("tiny-piece", "leave it out", "film.dropped", "200,300"),
        ("tiny-piece", "join it", "film.joined", "200,300"),
        ("tiny-piece", "leave all out", "film.small_pieces", "left out"),
        ("tiny-piece", "join all", "film.small_pieces", "joined"),
        ("tiny-opening", "fill it", "film.filled", "200,300"),
        ("tiny-opening", "fill all", "film.small_openings", "filled"),
        ("thin-stroke", "thicken strokes", "film.stroke", "0.8 mm"),
        ("thin-gap", "open gaps", "film.gap", "0.8 mm"),
        ("lettering-clipped", "move it", "film.lettering", "moved"),
        ("lettering-clipped", "make it smaller", "film.lettering", "scaled"),
        ("corner-lifts", "round them", "film.corner_radius", "0.5 mm"),
        ("film-not-joined", "leave it out", "film.dropped", "200,300"),
        ("tip-lost", "nearer here", "film.tips", "200,300 0.4 mm"),
        ("rim-moved", "drop it", "film.rim", "dropped"),
        ("rim-thinned", "drop it", "film.rim", "dropped"),
        ("film-stencil", "bridge islands", "film.stencil_islands", "bridged"),
    ],
)
def test_one_press_does_what_helps_and_undo_takes_it_back(at_work, code, words, key, text):
    before = at_work.desk.job
    finding = Finding(Level.CAUTION, code, "Something.", "Do something.", at_px(at_work, (200.0, 300.0)))
    pressed(at_work, finding, words)
    assert at_work.desk.job.text(key) == text
    at_work.desk.undo()
    assert at_work.desk.job == before


def test_a_tip_pressed_again_lets_film_come_nearer_still(at_work):
    finding = Finding(Level.NOTE, "tip-lost", "A tip.", "Do.", at_px(at_work, (200.0, 300.0)))
    for text in ("200,300 0.4 mm", "200,300 0.2 mm"):
        pressed(at_work, finding, "nearer here")
        assert at_work.desk.job.text("film.tips") == text


def test_the_inset_that_the_fit_asks_for_is_taken_by_a_press_though_the_finding_has_no_place(at_work):
    at_work.desk.propose_job(at_work.desk.job.with_choice("film.inset", "0.2 mm"), "small inset")
    finding = Finding(Level.CAUTION, "inset-below-forecast", "Film may come over.", "Take more.")
    pressed(at_work, finding, "take that inset")
    inset, off = at_work.desk.job.film.inset.value, at_work.desk.shown.off_mm
    assert off <= inset < off + 0.1 + 1e-9


def test_every_act_is_of_a_finding_that_exists():
    core = Path(__file__).parents[3] / "core"
    source = "".join(path.read_text() for path in core.rglob("*.py"))
    assert all(f'"{code}"' in source for code in ACTS)


def test_the_place_that_is_looked_at_is_the_one_that_is_changed(at_work):
    places = [at_px(at_work, (200.0, 300.0)), at_px(at_work, (240.0, 310.0))]
    at_work.findings._show(
        grouped(tuple(Finding(Level.CAUTION, "tiny-piece", "A piece.", "Do.", at) for at in places))
    )
    (view,) = at_work.findings.views
    assert view.place() == places[0]
    view.next_place()
    view.next_place()
    assert view.place() == places[1]
