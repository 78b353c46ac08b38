"""Where the part is too narrow to live: necks and strokes, but no tips."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.boolean import union
from core.outline.loop import Loop
from core.outline.region import Region
from core.patches.thin import narrow_findings, narrow_places


def shape(*points) -> Region:
    return Region(Loop(np.array(points, dtype=float), np.zeros(len(points))))


def box(x, y, width, height) -> Region:
    return shape((x, y), (x + width, y), (x + width, y + height), (x, y + height))


@settings(max_examples=25, deadline=None)
@given(st.floats(0.3, 1.8), st.floats(2.5, 15.0))
def test_a_neck_is_found_with_its_width_and_its_place(width, length):
    part = union((box(0, 0, 10, 10), box(10 + length, 0, 10, 10)), (box(9, 5, length + 2, width),))
    ((found, (x, y)),) = narrow_places(part, 2.0)
    assert found == pytest.approx(width, abs=0.03)
    assert 10.0 <= x <= 10.0 + length
    assert y == pytest.approx(5.0 + width / 2.0, abs=0.05)


def test_a_neck_with_round_sides_is_as_wide_as_its_narrowest_place():
    waist = Loop(
        np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 12.0], [0.0, 12.0]]),
        np.array([-0.45, 0.0, -0.45, 0.0]),
    )
    sagitta = 0.45 * 20.0 / 2.0
    ((found, at),) = narrow_places((Region(waist),), 4.0)
    assert found == pytest.approx(12.0 - 2.0 * sagitta, abs=0.03)
    assert at == pytest.approx((10.0, 6.0), abs=0.1)


def test_a_stroke_that_ends_in_the_air_is_found_and_a_sharp_tip_is_not():
    stroke = union((box(0, 0, 10, 10),), (box(9, 4, 12, 1.2),))
    ((found, _),) = narrow_places(stroke, 2.0)
    assert found == pytest.approx(1.2, abs=0.03)
    assert narrow_places((shape((0, 0), (30, 4), (0, 8)),), 2.0) == []


def test_a_part_that_is_narrow_all_over_is_found():
    ((found, _),) = narrow_places((box(0, 0, 30, 1.5),), 2.0)
    assert found == pytest.approx(1.5, abs=0.03)


def test_what_is_as_wide_as_it_must_be_is_not_found():
    assert narrow_findings((box(0, 0, 30, 2.1), box(0, 10, 9, 9))) == ()


def test_the_narrowest_comes_first_and_many_are_counted():
    comb = (box(0, 0, 60, 10),)
    for tooth in range(14):
        comb = union(comb, (box(4.0 * tooth + 1.0, 9.0, 0.5 + 0.1 * tooth, 9.0),))
    told = narrow_findings(comb)
    assert [finding.code for finding in told] == ["part-thin"] * 12 + ["part-thin-more"]
    assert "0.50 mm" in told[0].text
    assert "2 more places" in told[-1].text
