"""The clearances come to the numbers of the bench."""

import pytest

from core.sheet.rule import Clearances, FitRule


@pytest.mark.parametrize(("bit", "hole", "key"), [(2.0, 8.5, 9.5), (3.175, 9.675, 10.675)])  # derived values
def test_marks_keep_a_wall_of_four_beyond_the_slot_in_thin_sheet(bit, hole, key):
    clearances = Clearances(FitRule(), bit, 3.0)
    assert (clearances.to_part(is_key=False), clearances.to_part(is_key=True)) == pytest.approx((hole, key))


def test_thick_sheet_asks_for_thicker_walls():
    clearances = Clearances(FitRule(), 2.0, 6.0)
    assert clearances.to_part(is_key=False) == pytest.approx(2.5 + 2.0 + 7.8)
    assert clearances.to_edge(is_key=False) == pytest.approx(2.5 + 12.0)


def test_clear_stock_takes_dots_that_hang_in_the_holes_and_opaque_stock_rings():
    rule = FitRule()
    clear = [rule.film_diameter(is_key=key, is_clear=True) for key in (False, True)]
    opaque = [rule.film_diameter(is_key=key, is_clear=False) for key in (False, True)]
    assert (clear, opaque) == ([4.0, 6.0], [5.0, 5.0])
