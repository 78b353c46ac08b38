"""From the gauge's kit over its readings to a machine's row, and on to a kit that is made good."""

import json

import numpy as np
import pytest

from app import tables
from app.edge import run
from app.tables import rows_of
from core.gauge.feature import NEUTRAL, SCALE_X, SCALE_Y, SKEW, expected
from core.gauge.plate import measured
from core.job.tables import Table

ROUTER = np.array([0.997, 1.002, 0.004, 0.12, 0.0, 0.0])


@pytest.fixture(scope="module")
def cut(tmp_path_factory):
    folder = tmp_path_factory.mktemp("gauge") / "gauge"
    assert run(["gauge", "make", "--out", str(folder)]) == 0
    return folder


@pytest.fixture
def mine(tmp_path, monkeypatch):
    folder = tmp_path / "own"
    monkeypatch.setattr(tables, "own_folder", lambda: folder)
    return folder


def fill_in(folder, errors=ROUTER, machine="router"):
    form = folder.with_name("gauge-readings.toml")
    first, second = form.read_text().split("[cutter]")
    parts = {"router": first, "cutter": second}
    for one in measured():
        read = expected([one.feature], errors)[0]
        parts[machine] = parts[machine].replace(f'\n{one.letter} = ""', f"\n{one.letter} = {read:.4f}")
    filled = folder.parent / f"{machine}.toml"
    filled.write_text("[cutter]".join(parts.values()))
    return filled


def test_the_kit_is_proven_and_has_the_plate_at_its_size(cut):
    report = json.loads((cut / "report.json").read_text())
    assert (report["height_mm"], report["width_mm"]) == (102.0, 130.0)
    assert report["outline"]["openings"] == 5
    assert report["readback"]["edge_error_mm"]["max"] < 0.002
    assert [one["pieces"] for one in report["films"]] == [1]
    assert "gauge-page" in {one["role"] for one in report["files"]}
    assert run(["check", str(cut)]) == 0


def test_readings_become_a_row_that_makes_the_machine_good(cut, mine, capsys):
    form = fill_in(cut)
    read = ["gauge", "read", str(cut), "--form", str(form), "--machine", "A light router"]
    assert run(read) == 0
    assert "scale x: 99.700 %" in capsys.readouterr().out
    once = (mine / "machines.toml").read_text()
    row = next(row for row in rows_of(Table.MACHINE) if row.name == "a light router")
    said = dict(row.choices)
    assert float(said["machine.scale_x"].split()[0]) == pytest.approx(100.0 / 0.997, abs=2e-4)
    assert said["machine.travel_x"] == "300 mm"
    assert run(read) == 0
    assert (mine / "machines.toml").read_text() == once


def test_a_gauge_cut_with_a_correction_shows_what_is_left_and_the_whole_is_kept(tmp_path, mine):
    folder = tmp_path / "gauge"
    first = ["machine.scale_x=100.4 %", "machine.scale_y=99.9 %", "machine.skew=0.1 deg"]
    settings = [word for one in first for word in ("--set", one)]
    assert run(["gauge", "make", "--out", str(folder), *settings]) == 0
    scale_x, scale_y, lean = 0.997, 1.002, np.tan(0.004)
    # What the machine makes of (x, y) written with the first correction.
    left = NEUTRAL.copy()
    left[SCALE_X], left[SCALE_Y] = scale_x * 1.004, scale_y * 0.999
    left[SKEW] = np.arctan((scale_x * np.tan(np.radians(0.1)) * 0.999 + lean * left[SCALE_Y]) / left[SCALE_Y])
    form = fill_in(folder, left)
    assert run(["gauge", "read", str(folder), "--form", str(form), "--machine", "mine"]) == 0
    said = dict(next(row for row in rows_of(Table.MACHINE) if row.name == "mine").choices)
    assert float(said["machine.scale_x"].split()[0]) == pytest.approx(100.0 / scale_x, abs=5e-4)
    assert float(said["machine.scale_y"].split()[0]) == pytest.approx(100.0 / scale_y, abs=5e-4)
    wanted = np.degrees(np.arctan(-lean * scale_y / scale_x))
    assert float(said["machine.skew"].split()[0]) == pytest.approx(wanted, abs=2e-4)
    assert mine.is_dir()


def test_a_kit_that_is_no_gauge_or_was_changed_is_not_read(cut, tmp_path, capsys):
    assert run(["gauge", "read", str(tmp_path)]) == 3
    form = fill_in(cut)
    changed = tmp_path / "gauge"
    changed.mkdir()
    for file in cut.iterdir():
        (changed / file.name).write_bytes(file.read_bytes())
    program = next(changed.glob("*part*.nc"))
    program.write_bytes(program.read_bytes().replace(b"X", b"X1", 40))
    assert run(["gauge", "read", str(changed), "--form", str(form)]) == 3
    assert "not as it was made" in capsys.readouterr().err


def test_an_empty_form_is_said(cut, capsys):
    assert run(["gauge", "read", str(cut)]) == 2
    assert "holds no reading yet" in capsys.readouterr().err
