"""Whether film sticks to the sheet."""

import numpy as np
import pytest

from core.decal.film import Film
from core.decal.holds import heat_findings, holding_findings
from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.sheet.material import MATERIALS


@pytest.mark.parametrize(
    ("name", "codes"),
    [("clear cast acrylic", []), ("HDPE", ["film-will-not-hold"]), ("MDF", ["seal-the-face"])],
)
def test_what_vinyl_does_on_a_sheet_is_said_before_it_is_cut(name, codes):
    material = next(one for one in MATERIALS if one.name == name)
    assert [found.code for found in holding_findings(material, has_films=True)] == codes
    assert holding_findings(material, has_films=False) == ()


def test_film_must_never_be_heated_and_that_is_said_at_a_film():
    square = Region(Loop(np.array([[3.0, 4.0], [9.0, 4.0], [9.0, 9.0]]), np.zeros(3)))
    (note,) = heat_findings([Film("sea", "#103040", (square,), 1.0, 3.0)])
    assert (note.code, note.level, note.at) == ("film-no-heat", Level.NOTE, (3.0, 4.0))
    assert "PVC" in note.text
    assert heat_findings([]) == ()
