"""A pocket is cleared wholly, to its floor and no lower, whatever its shape and the bit."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from core.nest.clearing import cleared
from core.outline.loop import Loop
from core.outline.offset import grown, shrunk
from core.outline.region import Region
from core.router.bit import Bit
from core.router.link import linked
from core.router.setup import Setup
from tests.core.router.sheet_after import CUTTING, MACHINE, TABS, removed, sheet, solid
from tests.support.shapes import is_simple, rectangle, rough, rounded

DEPTH = 2.0


def floored(bit):
    made = sheet(thickness=DEPTH)
    return Setup(made, bit, replace(CUTTING, skim_mm=0.0, has_last_lap=False), TABS, MACHINE)


def shapes():
    yield rectangle(30.0, 20.0)
    yield rounded(40.0, 12.0, 3.0)
    yield Loop.circle((0.0, 0.0), 3.0)
    for seed in range(8):
        rng = np.random.default_rng(seed)
        loop = rough(rng, 7, 25.0)
        while not is_simple(loop):
            loop = rough(rng, 7, 25.0)
        yield loop


@pytest.mark.parametrize("width", [1.0, 3.175])
@pytest.mark.parametrize("outer", list(shapes()))
def test_nothing_of_a_pocket_is_left_and_nothing_beyond_it_is_taken(outer, width):
    bit = Bit(width, 1, 6.0)
    setup = floored(bit)
    for centre in shrunk((Region(outer),), bit.radius_mm):
        strands = cleared("pocket", Region(centre.outer), setup)
        path = linked(strands, setup)
        gone = removed(path, -DEPTH, bit.radius_mm)
        wanted = solid(grown((Region(centre.outer),), bit.radius_mm))
        assert shapely.difference(wanted.buffer(-0.002), gone).area < 1e-4
        assert shapely.difference(gone, wanted.buffer(0.005)).area < 1e-4
        assert path.ends[:, 2].min() == pytest.approx(-DEPTH)
