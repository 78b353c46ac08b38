"""The gauge in the window: readings typed as a person types them, judged at once, kept once, found again."""

import json
import tomllib

import numpy as np
import pytest
from PySide6.QtCore import Qt

from app import tables
from app.desk.theme import DARK, LIGHT, put_on
from app.edge import run
from app.tables import rows_of
from core.gauge.feature import expected
from core.gauge.form import Machine
from core.gauge.plate import measured, steps
from core.job.tables import Table
from tests.app.desk.test_readable import cut_off, hard_to_read, laid_on_another
from tests.support.hands import LONG_MS

ROUTER = np.array([0.997, 1.002, 0.004, 0.12, 0.0, 0.0])


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("gauges") / "gauge"
    assert run(["gauge", "make", "--out", str(folder)]) == 0
    return folder


@pytest.fixture
def mine(tmp_path, monkeypatch):
    folder = tmp_path / "own"
    monkeypatch.setattr(tables, "own_folder", lambda: folder)
    return folder


@pytest.fixture
def page(window, written, mine, qtbot):  # noqa: ARG001 - own tables stand round it
    """The gauge's page with a gauge open, no reading yet."""
    form = written.with_name("gauge-readings.toml")
    form.unlink(missing_ok=True)
    qtbot.keyClick(window, Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
    assert window.is_at_gauge
    with qtbot.waitSignal(window.gauge.work.opened, timeout=LONG_MS):
        window.gauge.work.open(written)
    qtbot.waitUntil(lambda: not window.desk.errands.are_running, timeout=LONG_MS)
    return window.gauge


def types(page, machine, key, text, qtbot):
    """A reading typed into its field, and Return."""
    field = page.table.field(machine, key)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def types_all(page, machine, errors, qtbot, **other):
    for one in measured():
        text = other.get(one.letter, f"{expected([one.feature], errors)[0]:.3f}")
        types(page, machine, one.letter, text, qtbot)
    qtbot.waitUntil(lambda: not page._desk.errands.are_running, timeout=LONG_MS)


def lines(page, machine=Machine.ROUTER):
    return page.verdicts[machine].lines.text()


def test_readings_are_judged_as_they_are_typed_with_comma_and_inch(page, qtbot):
    assert lines(page) == "No reading yet."
    types(page, Machine.ROUTER, "A", "129,85", qtbot)
    assert "not told by these readings: scale y, skew, width" in lines(page)
    types(page, Machine.ROUTER, "B", "5.112 in", qtbot)
    types_all(page, Machine.ROUTER, ROUTER, qtbot, A="129,490", B="5.0980 in")
    assert "scale x: 99.7" in lines(page)
    assert "scale y: 100.2" in lines(page)
    assert "doubtful" not in lines(page)
    assert lines(page, Machine.CUTTER) == "No reading yet."


def test_a_doubtful_reading_is_named_on_its_field_until_it_is_read_again(page, qtbot):
    field = page.table.field(Machine.ROUTER, "E")
    good = f"{expected([measured()[4].feature], ROUTER)[0]:.3f}"
    types_all(page, Machine.ROUTER, ROUTER, qtbot, E=f"{float(good) + 0.9:.3f}")
    assert field.property("state") == "doubtful"
    assert page.table.note(Machine.ROUTER, "E") == "router: +0.90 mm off what the others say; read it again"
    others = [one.letter for one in measured() if one.letter != "E"]
    assert all(page.table.field(Machine.ROUTER, letter).property("state") == "" for letter in others)
    types(page, Machine.ROUTER, "E", good, qtbot)
    assert field.property("state") == ""
    assert page.table.note(Machine.ROUTER, "E") == ""


def test_what_is_no_reading_is_refused_beside_its_field_and_the_last_good_one_stays(page, qtbot):
    types(page, Machine.ROUTER, "A", "129.85", qtbot)
    for text in ("13", "wide", "129.85 kg"):
        types(page, Machine.ROUTER, "A", text, qtbot)
        assert page.table.field(Machine.ROUTER, "A").property("state") == "refused"
        assert page.table.note(Machine.ROUTER, "A").startswith("router: ")
        assert page.work.said(Machine.ROUTER, "A") == "129.85"
    types(page, Machine.ROUTER, "A", "129.9", qtbot)
    assert page.table.note(Machine.ROUTER, "A") == ""


def test_the_correction_is_kept_with_its_day_used_as_one_step_and_never_twice(page, at_work, mine, qtbot):
    desk = at_work.desk
    types_all(page, Machine.ROUTER, ROUTER, qtbot)
    types(page, Machine.ROUTER, "day", "2026-05-31", qtbot)
    before = desk.job
    keeps(page, Machine.ROUTER, "My mill", qtbot)
    once, job = (mine / "machines.toml").read_text(), desk.job
    row = next(row for row in rows_of(Table.MACHINE) if row.name == "My mill")
    said = dict(row.choices)
    assert float(said["machine.scale_x"].split()[0]) == pytest.approx(100.0 / 0.997, abs=2e-2)
    assert said["machine.gauged"] == "2026-05-31"
    assert said["machine.travel_x"] == before.text("machine.travel_x")
    assert row.is_in(job)
    assert tomllib.loads(once)["My mill"]["gauge"] == page.work.cut.digest
    keeps(page, Machine.ROUTER, "my mill", qtbot)
    assert (mine / "machines.toml").read_text() == once
    assert desk.job == job
    assert desk.undo_words == "router My mill, by its gauge of 2026-05-31"
    qtbot.keyClick(at_work, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert desk.job == before


def keeps(page, machine, name, qtbot):
    verdict = page.verdicts[machine]
    verdict.name.setText(name)
    with qtbot.waitSignal(page.work.told, timeout=LONG_MS) as told:
        qtbot.mouseClick(verdict.go, Qt.MouseButton.LeftButton)
    assert told.args[1] is False
    assert not verdict.kept.isHidden()


def test_what_was_typed_is_found_again_as_the_command_line_reads_it(page, written, window, qtbot, capsys):
    types_all(page, Machine.ROUTER, ROUTER, qtbot, A="129,490")
    types(page, Machine.CUTTER, "A", "129.9", qtbot)
    types(page, Machine.ROUTER, steps()[0].letter, "0.55", qtbot)
    said = lines(page)
    qtbot.waitUntil(lambda: not window.desk.errands.are_running, timeout=LONG_MS)
    with qtbot.waitSignal(page.work.opened, timeout=LONG_MS):
        page.work.open(written)
    assert page.table.field(Machine.ROUTER, "A").text() == "129,490"
    assert lines(page) == said
    assert run(["gauge", "read", str(written)]) == 0
    told = capsys.readouterr().out
    assert all(line in told for line in said.splitlines())


def test_a_folder_that_is_no_gauge_is_said_on_the_page_and_the_open_one_stays(page, window, tmp_path, qtbot):
    page.work.open(tmp_path)
    qtbot.waitUntil(lambda: "is no kit of a gauge" in window.notice.text, timeout=LONG_MS)
    assert page.work.cut.folder.name == "gauge"


def test_the_keyboard_goes_down_one_plate_and_the_letter_in_hand_is_shown(page, qtbot):
    first = page.table.field(Machine.ROUTER, "A")
    first.setFocus()
    assert page.figure.letter == "A"
    qtbot.keyClick(first, Qt.Key.Key_Tab)
    assert page.table.field(Machine.ROUTER, "B").hasFocus()
    assert page.figure.letter == "B"
    qtbot.keyClick(page.table.field(Machine.ROUTER, "B"), Qt.Key.Key_Return)
    assert page.table.field(Machine.ROUTER, "C").hasFocus()


def test_escape_goes_back_to_the_desk_as_it_was(at_work, qtbot):
    at_work.show_gauge()
    assert not at_work.spread.isVisible()
    qtbot.keyClick(at_work.gauge, Qt.Key.Key_Escape)
    assert at_work.spread.isVisible()
    assert at_work.findings.isVisible()


def test_the_kit_is_written_on_the_machines_of_the_job_and_opened(at_work, stand_ins, tmp_path, mine, qtbot):  # noqa: ARG001
    from core.cancel import NEVER  # noqa: PLC0415
    from core.kit.make import make_kit  # noqa: PLC0415

    desk = at_work.desk
    desk.propose("machine.scale_x", "100.4 %")
    at_work.show_gauge()
    at_work.gauge.write_asked.emit(tmp_path / "g")
    qtbot.waitUntil(lambda: stand_ins[-1].asked[-1][0] == "kit", timeout=LONG_MS)
    _, job, source = stand_ins[-1].asked[-1]
    assert job.text("machine.scale_x") == "100.4 %"
    assert source.name == "gauge.svg"
    kit = make_kit(job, source, NEVER, lambda _: None)
    with qtbot.waitSignal(at_work.gauge.work.opened, timeout=LONG_MS):
        stand_ins[-1].says(kit)
    assert at_work.gauge.work.cut.written_with[Machine.ROUTER].scale_x == pytest.approx(1.004)
    assert json.loads((tmp_path / "g" / "report.json").read_text())["height_mm"] == 102.0
    assert at_work.is_at_gauge
    assert desk.has_unsaved


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("size", [(1100, 700), (1600, 1000)], ids=str)
def test_it_is_read_at_every_size_with_all_that_can_be_said(page, window, themed, qtbot, theme, size):
    put_on(themed, theme)
    window.resize(*size)
    for letter, text in {
        "A": "130.81",
        "B": "129.9",
        "C": "129.92",
        "D": "3",
        "F": "102.1",
        "K": "wide",
    }.items():
        types(page, Machine.ROUTER, letter, text, qtbot)
        types(page, Machine.CUTTER, letter, text, qtbot)
    for _ in range(5):
        themed.processEvents()
    assert page.table.note(Machine.CUTTER, "D")
    assert cut_off(window) == []
    assert laid_on_another(window) == []
    assert hard_to_read(window) == []
    put_on(themed, LIGHT)
