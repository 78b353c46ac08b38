"""Our own drawings in again: the same outline within a millionth of a mm, arcs still arcs."""

import numpy as np
import pytest

from core.drawing.drawing import Drawing, Layer, LayerOf
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.svg import write_svg
from core.outline.loop import Loop
from core.outline.measure import all_loops, distances
from tests.support.artwork import artwork, regions_mm

#: mm
AS_WRITTEN = 1e-6

OUTER = Loop(
    np.array([[10.0, 10.0], [60.0, 10.0], [70.0, 20.0], [70.0, 50.0], [30.0, 55.5], [10.0, 30.0]]),
    np.array([0.0, np.tan(np.pi / 8.0), 0.0, -0.2, 0.4142, 0.0]),
)
LOOPS = (OUTER, Loop.circle((45.0, 30.0), 7.25).reversed())


@pytest.mark.parametrize(
    ("write", "arcs"),
    [(write_dxf, 5), (write_dxf_r12, 5), (write_svg, 7)],  # an SVG has no arc of more than a third of a turn
)
def test_a_film_comes_back_as_it_was_written(write, arcs):
    layer = LayerOf(Layer.FILM, "shell", "#2a9d8f", LOOPS)
    art = artwork(write(Drawing("film", (0.0, 0.0, 100.0, 80.0), (layer,))))
    found = all_loops(regions_mm(art))
    assert len(found) == 2
    assert sum(int((loop.bulges != 0.0).sum()) for loop in found) == arcs
    x, y = np.array(found[0].bounds()[:2]) - OUTER.bounds()[:2]
    moved = tuple(loop.moved(-x, -y) for loop in found)
    for mine, theirs in ((LOOPS, moved), (moved, LOOPS)):
        for loop in mine:
            assert (
                distances(theirs, loop.segments().points_at(np.full(len(loop.bulges), 0.37))).max()
                < AS_WRITTEN
            )
