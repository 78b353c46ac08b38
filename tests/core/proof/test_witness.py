"""The size witness and the length of an SVG's bare number, as the proof reads them."""

import pytest

from core.proof.layers import Layers, Page
from core.proof.sizes import box_findings, misread_gap
from core.proof.witness import unit_findings, witness_findings
from tests.core.proof.claimed import box, claims, layers, line


def film(**values):
    said = {"name": "sky", "inset_mm": 1.0, "sheet_box_mm": [50.0, 30.0]}
    return claims(films=[said | values]).films[0]


def notes(length=50.0, ticks=range(0, 51, 10), lean=0.0):
    slanted = [line((1.0, y - 1.0), (3.0, y + 1.0)) for y in ticks]
    levels = [line((0, 10), (60, 10)), line((0, 30), (60, 30))]
    return layers(notes=[*levels, line((2.0, 0.0), (2.0 + lean, length)), *slanted])


@pytest.mark.parametrize(
    ("drawn", "told"),
    [
        (notes(), []),
        (notes(length=50.006), ["witness-differs"]),
        (notes(lean=0.01), ["witness-differs"]),
        (notes(ticks=range(0, 41, 10)), ["witness-differs"]),
        (notes(ticks=(0, 10, 20, 30, 40, 50.01)), ["witness-differs"]),
        (layers(), ["witness-differs"]),
    ],
)
def test_a_witness_that_is_not_fifty_mm_is_a_stop(drawn, told):
    assert [one.code for one in witness_findings("sky.svg", drawn, film(witness_mm=50.0))] == told
    assert witness_findings("sky.svg", drawn, film()) == ()


@pytest.mark.parametrize(
    ("unit", "stated", "is_told"), [(1.0, 1.0, 0), (25.4 / 90, 25.4 / 90, 0), (1.0, 25.4 / 90, 1)]
)
def test_a_bare_number_is_as_long_as_stated(unit, stated, is_told):
    page = Layers({}, page=Page((0, 0, 60, 40), (60.0, 40.0), unit_mm=unit))
    told = [one.code for one in unit_findings("sky.svg", page, film(svg_unit_mm=stated))]
    assert told == ["unit-differs"] * is_told
    assert unit_findings("sky.dxf", layers(), film(svg_unit_mm=stated)) == ()


def test_a_sheet_box_that_reads_alike_at_two_densities_is_a_stop():
    assert misread_gap((130.0, 154.0)) == pytest.approx(130.0 / 16.0)  # 96 read as 90
    small = film(sheet_box_mm=[7.0, 30.0])
    assert [one.code for one in box_findings("sky.svg", layers(weeding=[box(0, 0, 7, 30)]), small)] == [
        "sheet-box-ambiguous"
    ]
