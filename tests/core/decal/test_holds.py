"""Whether film sticks to the sheet."""

import pytest

from core.decal.holds import holding_findings
from core.sheet.material import MATERIALS


@pytest.mark.parametrize(
    ("name", "codes"),
    [("clear cast acrylic", []), ("HDPE", ["film-will-not-hold"]), ("MDF", ["seal-the-face"])],
)
def test_what_vinyl_does_on_a_sheet_is_said_before_it_is_cut(name, codes):
    material = next(one for one in MATERIALS if one.name == name)
    assert [found.code for found in holding_findings(material, has_films=True)] == codes
    assert holding_findings(material, has_films=False) == ()
