"""Mark patterns over many shapes and stocks: none can be laid wrong unnoticed, or a finding says so."""

import numpy as np
import pytest

from core.outline.loop import Loop
from core.outline.measure import distances
from core.outline.region import Region
from core.sheet.lay_out import lay_out
from core.sheet.rule import Clearances, FitRule
from core.sheet.wish import StockWish
from core.sheet.wrong_fit import worst_wrong_fit

TOLD = {"stock-too-small", "no-mark-pattern"}


def outline(rng):
    """A closed outline of lines and arcs, star-shaped, 8 to 180 mm either way."""
    count = int(rng.integers(5, 15))
    angles = np.sort(rng.uniform(0, 2 * np.pi / count * 0.8, count)) + 2 * np.pi / count * np.arange(count)
    radii = rng.uniform(0.25, 1.0, count)
    points = np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))
    points = (points - points.min(axis=0)) / np.ptp(points, axis=0) * rng.uniform(8, 180, 2)
    return (Region(Loop(points, rng.uniform(0, 0.1, count) * (rng.random(count) < 0.5))),)


def stock(rng):
    """As large as it must be, or the maker's own, of any thickness."""
    size = tuple(rng.uniform(60, 320, 2)) if rng.random() < 0.4 else (None, None)
    return StockWish(*size, float(rng.uniform(1, 8)), 0.1, 0.1, 0.1, is_clear=bool(rng.random() < 0.5))


def proven(seed):
    """Whether there were marks; every promise about them has been looked at."""
    rng = np.random.default_rng(seed)
    shape, wish, bit = outline(rng), stock(rng), float(rng.choice([1.0, 1.5, 2.0, 3.175]))
    layout = lay_out(shape, wish, FitRule(), bit_mm=bit, travel_mm=(2000, 2000))
    clearances = Clearances(FitRule(), bit, wish.thickness_mm)
    codes = {finding.code for finding in layout.findings}
    if not layout.marks:
        assert codes & TOLD
        return False
    assert worst_wrong_fit([mark.at for mark in layout.marks]) >= 5.0
    placed = [loop.moved(*layout.shape_at) for region in shape for loop in region.loops()]
    away = distances(placed, np.array([mark.at for mark in layout.marks]))
    needed = [clearances.to_part(is_key=mark.is_key) for mark in layout.marks]
    assert (away >= np.array(needed) - 1e-9).all()
    if "stock-too-small" not in codes:
        for mark in layout.marks:
            (x, y), size = mark.at, (layout.stock.width_mm, layout.stock.depth_mm)
            assert min(x, y, size[0] - x, size[1] - y) >= clearances.to_edge(is_key=mark.is_key) - 1e-9
    return not codes & TOLD


def test_no_pattern_of_a_dozen_can_be_laid_wrong_unnoticed():
    assert sum(map(proven, range(12))) >= 6


@pytest.mark.whole
def test_no_pattern_of_two_thousand_can_be_laid_wrong_unnoticed():
    assert sum(map(proven, range(2000))) >= 1200
