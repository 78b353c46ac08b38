"""The program's own tables and the maker's, and what the command line makes of them."""

import pytest
from typer.testing import CliRunner

from app import cli, tables
from app.tables import rows_of
from core.job.job import Job
from core.job.tables import Table


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
