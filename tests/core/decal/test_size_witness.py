"""The size witness: fifty millimetres, beside everything that is cut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.decal.film_piece import FilmStock, film_findings
from core.decal.sheet_box import sheet_box
from core.decal.size_witness import size_witness, witness_rows

MM = st.floats(0.0, 300.0)


@given(MM, MM, st.floats(5.0, 300.0), st.floats(5.0, 300.0))
def test_the_witness_stands_in_the_box_clear_of_its_content(x, y, wide, tall):
    shape = (x, y, x + wide, y + tall)
    low, high = witness_rows(shape)
    box = sheet_box((x, min(y, low), x + wide, max(y + tall, high)), (x, y)).loop.bounds()
    (start, end), *ticks = size_witness(shape, box).lines
    assert (end[0] - start[0], end[1] - start[1]) == (0.0, 50.0)
    assert [tick[0][1] - start[1] for tick in ticks] == [-1, 9, 19, 29, 39, 49]
    points = [point for line in size_witness(shape, box).lines for point in line]
    assert all(box[0] < px < x for px, _ in points)
    assert min(py for _, py in points) == low
    assert max(py for _, py in points) == high
    assert box[1] + 3.0 <= low
    assert high <= box[3] - 3.0
    if tall >= 54.0:  # then a box round the notes is the shape's height, whatever program measures it
        assert y <= low
        assert high <= y + tall


@pytest.mark.parametrize(
    ("stock", "told"),
    [
        (FilmStock(), ""),
        (FilmStock(150.0, 200.0, 10.0), ""),
        (FilmStock(149.0, None, 10.0), "Turn the drawing by a quarter"),
        (FilmStock(129.0, None, 10.0), "make fewer copies"),
        (FilmStock(149.0, None, 9.0), ""),
        (FilmStock(120.0, 400.0, 0.0), "Turn the drawing by a quarter"),
        (FilmStock(None, 90.0, 0.0), "make fewer copies"),
        (FilmStock(None, 110.0, 0.0), ""),
    ],
)
def test_film_that_is_too_small_is_told_with_what_helps(stock, told):
    findings = film_findings(stock, (130.0, 110.0), (-5.0, -7.0))
    assert [finding.code for finding in findings] == (["film-too-wide"] if told else [])
    assert all(told in finding.remedy and finding.at == (-5.0, -7.0) for finding in findings)
