"""The program's own tables and the maker's, and what the command line makes of them."""

import pytest
from typer.testing import CliRunner

from app import cli, tables
from app.tables import rows_of, with_own_bits
from core.errors import UnreadableFile
from core.job.job import Job
from core.job.tables import Table, row_of


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setattr(tables, "own_folder", lambda: tmp_path)
    monkeypatch.setattr(cli, "own_folder", lambda: tmp_path)
    return tmp_path


@pytest.mark.usefixtures("mine")
@pytest.mark.parametrize("table", Table)
def test_every_row_of_ours_can_be_taken(table):
    for row in rows_of(table):
        assert row.is_in(row.taken(Job())), row.name


def test_the_makers_rows_come_beside_ours_and_take_their_place(mine):
    (mine / "bits.toml").write_text('["2 MM, one flute"]\ndiameter = "1.97 mm"\n["mine"]\nflutes = 3\n')
    rows = {row.name: row for row in rows_of(Table.BIT)}
    assert rows["mine"].taken(Job()).bit.flutes == 3
    assert "2 mm, one flute" not in rows
    assert rows["2 MM, one flute"].taken(Job()).text("bit.diameter") == "1.97 mm"


def test_tables_lists_them_and_says_where_ones_own_go(mine):
    said = CliRunner().invoke(cli.application, ["tables"])
    assert said.exit_code == 0
    assert "1/8 in, one flute" in said.output
    assert str(mine / "machines.toml") in said.output


def test_a_row_that_is_kept_is_found_again_and_everything_else_stays(mine):
    text = '# my bits\n["1 mm, worn"]\ndiameter = "0.96 mm" # measured in May\n'
    (mine / "bits.toml").write_text(text)
    job = Job().with_choice("bit.diameter", "1,97 mm").with_choice("bit.flutes", "2")
    tables.keep_row(Table.BIT, row_of(job, Table.BIT, 'my "good" one'))
    kept = {row.name: row for row in tables.own_rows(Table.BIT)}
    assert kept['my "good" one'].taken(Job()).bit == job.bit
    assert (mine / "bits.toml").read_text().startswith(text)


def test_a_row_is_changed_under_its_name_however_that_is_written(mine):
    for diameter in ("2 mm", "2.05 mm"):
        job = Job().with_choice("bit.diameter", diameter)
        tables.keep_row(Table.BIT, row_of(job, Table.BIT, "Mine" if diameter == "2 mm" else "mine"))
    (row,) = tables.own_rows(Table.BIT)
    assert row.taken(Job()).text("bit.diameter") == "2.05 mm"
    tables.drop_row(Table.BIT, "MINE")
    assert tables.own_rows(Table.BIT) == ()
    assert (mine / "bits.toml").exists()


def test_a_table_that_cannot_be_read_is_not_written_over(mine):
    (mine / "bits.toml").write_text('["broken"]\ndiameter = "no number"\n')
    with pytest.raises(UnreadableFile):
        tables.keep_row(Table.BIT, row_of(Job(), Table.BIT, "mine"))
    assert "no number" in (mine / "bits.toml").read_text()


@pytest.mark.parametrize("table", Table)
def test_any_job_makes_a_row_that_gives_it_back(mine, table):
    del mine
    job = Job().with_choice("stock.width", "12 in").with_choice("machine.travel_x", "410 mm")
    tables.keep_row(table, row_of(job, table, "mine"))
    (row,) = tables.own_rows(table)
    assert row.is_in(job)
    assert row.is_in(row.taken(Job()))


def test_a_row_kept_anew_keeps_its_line_its_place_its_comments_and_its_gauge(mine):
    text = (
        '# routers\n["mine"]\nabout = "in the cellar" # careful\ngauge = "0123"\n'
        'travel_x = "300 mm" # measured\n'
        'chords = "0.004 mm"\n["other"]\ntravel_x = "200 mm"\n'
    )
    (mine / "machines.toml").write_text(text)
    job = Job().with_choice("machine.travel_x", "410 mm")
    tables.keep_row(Table.MACHINE, row_of(job, Table.MACHINE, "Mine"))
    kept = (mine / "machines.toml").read_text()
    assert kept.index('["mine"]') < kept.index('["other"]')
    for said in ('about = "in the cellar" # careful', 'gauge = "0123"', '"410 mm" # measured', "# routers"):
        assert said in kept


def test_the_makers_own_bits_are_at_hand_for_a_new_picture(tmp_path):
    (tmp_path / "bits.toml").write_text('["thin"]\ndiameter = "0.8 mm"\n["mine"]\ndiameter = "3/32 in"\n')
    job = with_own_bits(Job(source="a.png"), tmp_path)
    widths = [round(bit.value, 5) for bit in job.value("cutting.bits")]
    assert widths == [3.175, 3.0, 2.38125, 2.0, 1.5, 1.0, 0.8]
    assert Job().with_choice("cutting.bits", job.text("cutting.bits")) == Job().with_value(
        "cutting.bits", job.value("cutting.bits")
    )


def test_bits_that_a_job_names_stay_and_no_own_table_adds_none(tmp_path):
    assert with_own_bits(Job(), tmp_path) == Job()
    (tmp_path / "bits.toml").write_text('["thin"]\ndiameter = "0.8 mm"\n')
    named = Job().with_choice("cutting.bits", "2 mm; 1 mm")
    assert with_own_bits(named, tmp_path) == named
