"""The maker's table keeps all that is in it when one row is brought up to date."""

import tomllib

import pytest

from core.errors import UnreadableFile
from core.gauge.kept import with_row

TABLE = """# mine
["the old one"]
about = "in the cellar"   # careful
travel_x = "300 mm"

[other]
nut = "20 mm"
"""


def test_a_row_gets_its_values_and_everything_else_stays():
    text = with_row(TABLE, "machines.toml", "The Old One", {"scale_x": "100.1 %"})
    assert "# mine" in text
    assert "# careful" in text
    held = tomllib.loads(text)
    assert held["the old one"] == {"about": "in the cellar", "travel_x": "300 mm", "scale_x": "100.1 %"}
    assert held["other"] == {"nut": "20 mm"}
    assert with_row(text, "machines.toml", "the old one", {"scale_x": "100.1 %"}) == text


def test_a_new_row_comes_last():
    held = tomllib.loads(with_row("", "machines.toml", "new", {"skew": "0.1 deg"}))
    assert held == {"new": {"skew": "0.1 deg"}}


@pytest.mark.parametrize("text", ["new = 3", "= 3"])
def test_what_is_no_table_is_refused(text):
    with pytest.raises(UnreadableFile):
        with_row(text, "machines.toml", "new", {})
