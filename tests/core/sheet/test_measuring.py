"""Whether the sheet was measured in enough places."""

from core.sheet.material import CAST_ACRYLIC, material_named
from core.sheet.measuring import measuring_findings


def test_one_place_is_too_few_and_three_are_enough():
    assert [found.code for found in measuring_findings(CAST_ACRYLIC, 3.0, 1)] == ["measure-the-sheet"]
    assert measuring_findings(CAST_ACRYLIC, 3.0, 3) == ()


def test_the_tolerance_of_a_cast_sheet_is_told():
    # ISO 7823-1, from memory: 0.4 + 0.1 t, so 0.7 mm at 3 mm
    assert "0.7 mm" in measuring_findings(CAST_ACRYLIC, 3.0, 1)[0].text
    assert "mm off" not in measuring_findings(material_named("MDF"), 3.0, 1)[0].text
