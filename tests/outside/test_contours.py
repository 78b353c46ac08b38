"""The peer for positions: scikit-image's find_contours, the level half-way between two flat colours.

W. E. Lorensen and H. E. Cline, "Marching cubes", SIGGRAPH 1987, in two dimensions as scikit-image (BSD-3)
has it. On a soft edge it passes within a few hundredths of a px of the true one; on a sharp one, between
pixel centres, up to 0.09 px off, and on a bend of radius R it is shifted by blur^2 / (2 R).
"""

import numpy as np
import pytest
import shapely

from core.cancel import NEVER
from core.trace.trace import first_outline, trace
from tests.support import drawn as d
from tests.support.score import nearest, segments_of

pytestmark = pytest.mark.outside

#: px round corners that is left out: a level set rounds them off, we do not.
CORNER_REACH = 6.0
#: px; the peer's own error on a straight soft edge, and on a sharp one.
SOFT, SHARP = 0.05, 0.12

CASES = [(name, sigma) for name in ("washer", "star", "plate", "lens") for sigma in (0.0, 1.0)]
SHAPES = {shape.name: shape for shape in d.shapes(300)}


def peer(pixels):
    """(n, 2) px, y up: points of the level half-way."""
    from skimage.measure import find_contours  # noqa: PLC0415 - slow to import, needed only here

    level = d.BLACK_ON_WHITE[:, 0].mean()
    found = np.vstack(find_contours(pixels[..., 0], level))
    return np.column_stack((found[:, 1] + 0.5, pixels.shape[0] - 0.5 - found[:, 0]))


@pytest.mark.parametrize("by", [trace, first_outline])
@pytest.mark.parametrize(("name", "sigma"), CASES)
def test_a_level_set_runs_along_our_outline_and_no_nearer_to_the_truth(name, sigma, by):
    shape = SHAPES[name]
    pixels = (d.blurred(sigma) if sigma else d.eight_bit)(d.drawn(shape, d.BLACK_ON_WHITE))
    outline = by(d.picture_of(pixels), d.colours_of(pixels, d.BLACK_ON_WHITE), NEVER)
    truth = shape.truth()
    points = peer(pixels)
    corners = shapely.MultiPoint(np.vstack((truth.starts, truth.ends)))
    clear = shapely.distance(shapely.points(points), corners) > CORNER_REACH
    off = nearest(points[clear], segments_of(outline)).distance
    radii = truth.radii()[truth.bulges != 0.0]
    shift = (sigma**2 + 1.0 / 12.0) / (2.0 * radii.min()) if radii.size else 0.0
    assert off.max() < shift + (SOFT if sigma else SHARP)
    if by is first_outline:
        return  # not yet nearer than its peer everywhere
    ours = np.vstack([chain.segments().midpoints() for chain in outline.chains])
    assert np.abs(nearest(ours, truth).distance).max() < nearest(points[clear], truth).distance.max()
