"""The widest bit of the table that does a place, by real geometry."""

import tomllib
from importlib.resources import files

import numpy as np
import pytest

from core.outline.loop import Loop
from core.outline.region import Region
from core.router.bit import Bit
from core.router.narrower import USUAL_BITS_MM, Solid
from core.router.reach import as_cut
from core.units import LENGTH, parsed
from tests.support.shapes import polygon, rectangle


def slotted(width):
    """A plate with a slit of this width from its far side down, closed by a half circle."""
    half = width / 2.0
    points = [
        (0, 0),
        (40, 0),
        (40, 30),
        (20 + half, 30),
        (20 + half, 10),
        (20 - half, 10),
        (20 - half, 30),
        (0, 30),
    ]
    return (Region(Loop(np.array(points, float), np.array([0, 0, 0, 0, -1.0, 0, 0, 0]))),)


@pytest.mark.parametrize(
    ("width", "does"), [(1.2, 1.0), (1.55, 1.5), (1.95, 1.5), (2.4, 2.0), (3.1, 3.0), (0.8, None)]
)
def test_a_slit_is_done_by_the_widest_bit_that_fits_into_it(width, does):
    found = Solid.of(slotted(width)).narrower((20.0, 10.0 - width / 2.0), 6.0)
    assert found.does_mm == does


def test_a_rounded_inside_corner_is_done_by_a_bit_of_no_more_than_its_radius():
    bay = Loop(
        np.array(
            [(0, 0), (40, 0), (40, 30), (30, 30), (30, 11.2), (28.8, 10), (10, 10), (10, 30), (0, 30)], float
        ),
        np.array([0, 0, 0, 0, -np.tan(np.pi / 8), 0, 0, 0, 0]),
    )
    deepest = (30 - 1.2 * (1 - np.sqrt(0.5)), 10 + 1.2 * (1 - np.sqrt(0.5)))
    assert Solid.of((Region(bay),)).narrower(deepest, 6.0).does_mm == 2.0


def test_a_sharp_inside_corner_is_done_by_none_and_the_narrowest_leaves_least():
    notch = polygon((0, 0), (40, 0), (40, 30), (30, 30), (30, 10), (10, 10), (10, 30), (0, 30))
    found = Solid.of((Region(notch),)).narrower((30.0, 10.0), 3.175)
    assert found.does_mm is None
    assert found.leaves_mm == pytest.approx(0.5 * (np.sqrt(2) - 1), abs=5e-3)  # r (1 / sin 45 - 1)
    assert found.narrowest_mm == 1.0


def test_no_bit_is_narrower_than_the_narrowest():
    assert Solid.of((Region(rectangle(10, 10)),)).narrower((0.0, 0.0), 1.0) is None


def test_the_finding_names_the_bit_that_would_do_it():
    (slit,) = [one for one in as_cut(slotted(1.6), Bit(2.0, 1, 6.0)).findings if one.code == "bit-too-wide"]
    assert "1.5 mm bit does it" in slit.remedy


def test_the_bits_are_those_of_the_table_that_comes_along():
    rows = tomllib.loads((files("assets.tables") / "bits.toml").read_text()).values()
    widths = {parsed(row["diameter"], LENGTH).value for row in rows}
    assert set(USUAL_BITS_MM) == widths


def test_the_widest_of_the_bits_at_hand_is_named():
    def remedy(*bits):
        found = as_cut(slotted(2.6), Bit(3.0, 1, 6.0), bits).findings
        return next(one.remedy for one in found if one.code == "bit-too-wide")

    assert "2 mm bit does it" in remedy(2.0, 1.0)
    assert "2.5 mm bit does it" in remedy(1.0, 2.5, 2.0)
    assert "2.38125 mm bit does it" in remedy(2.38125)
