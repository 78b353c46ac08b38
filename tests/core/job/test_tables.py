"""Rows of choices by name: bits, sheets, machines."""

import pytest

from core.errors import UnreadableFile, WrongCall
from core.job.job import Job
from core.job.tables import Table, read_rows, row_named

BITS = """
["my old bit"]
about = "worn"
diameter = "1.96 mm"
flutes = 2

["wide"]
diameter = "1/4 in"
"""


def rows():
    return read_rows(BITS, Table.BIT, "bits.toml")


def test_a_row_gives_the_job_its_values_as_they_were_typed():
    job = row_named(rows(), "My Old Bit", Table.BIT).taken(Job())
    assert job.text("bit.diameter") == "1.96 mm"
    assert job.bit.flutes == 2
    assert job.text("bit.flute_length") == Job().text("bit.flute_length")
    assert row_named(rows(), "my old bit", Table.BIT).is_in(job)
    assert not row_named(rows(), "wide", Table.BIT).is_in(job)


def test_a_name_that_is_not_there_names_the_nearest():
    with pytest.raises(WrongCall, match="my old bit"):
        row_named(rows(), "my new bit", Table.BIT)
    with pytest.raises(WrongCall, match="samecut tables"):
        row_named(rows(), "zzz", Table.BIT)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[x]\ndiamter = '2 mm'", "'x'.*bit.diamter"),
        ("[x]\ndiameter = '200 mm'", "'x'.*bit.diameter"),
        ("[x]\ndiameter = {a = 1}", "'x'.*bit.diameter"),
        ("[x]\nabout = 3", "about"),
        ("x = 1", "no row"),
        ("[x", "cannot be read"),
    ],
)
def test_a_wrong_table_is_one_sentence_with_its_row(text, words):
    with pytest.raises(UnreadableFile, match=words):
        read_rows(text, Table.BIT, "bits.toml")


def test_each_table_fills_one_group_of_choices():
    assert [(table.group, table.file_name) for table in Table] == [
        ("bit", "bits.toml"),
        ("stock", "sheets.toml"),
        ("machine", "machines.toml"),
        ("knife", "cutters.toml"),
    ]
