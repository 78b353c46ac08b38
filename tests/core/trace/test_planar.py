"""Whatever the labels, the Outline is a partition: nothing crosses, faces lie where their chains say."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER
from core.outline.chain import Chain
from core.picture.colours import Colours
from core.trace.cracks import CrackChain
from core.trace.joints import NO_CURVES
from core.trace.pieces import Run
from core.trace.planar import made_planar
from core.trace.trace import trace
from tests.support.drawn import picture_of

PALETTE = np.array([[255, 255, 255], [20, 20, 20], [200, 40, 50], [30, 90, 200]]) / 255

#: px; chains are flattened this finely before they are looked at.
FLAT = 0.01


def lines_of(outline):
    return [
        shapely.LineString(np.vstack((chain.segments().corners(FLAT), chain.points[-1])))
        for chain in outline.chains
    ]


def random_labels(kind, seed):
    rng = np.random.default_rng(seed)
    height, width = (int(side) for side in rng.integers(1, 30, 2))
    if kind == "grains":
        return rng.integers(0, 4, (height, width))
    if kind == "tiles":
        small = rng.integers(0, 3, (height // 5 + 1, width // 5 + 1))
        return np.kron(small, np.ones((5, 5), dtype=int))
    rows, columns = np.mgrid[:height, :width]
    waves = rng.uniform(-0.6, 0.6, (4, 2))
    fields = [np.sin(wave[0] * rows + wave[1] * columns + 2.0 * at) for at, wave in enumerate(waves)]
    return np.argmax(fields, axis=0)


@settings(max_examples=25, deadline=None)
@given(kind=st.sampled_from(["grains", "tiles", "waves"]), seed=st.integers(0, 10_000))
def test_chains_of_any_labels_meet_at_their_ends_alone(kind, seed):
    labels = random_labels(kind, seed).astype(np.uint8)
    outline = trace(picture_of(PALETTE[labels]), Colours(PALETTE, labels, 0), NEVER)
    lines = lines_of(outline)
    assert all(line.is_simple for line in lines)
    for index, one in enumerate(lines):
        for other in lines[index + 1 :]:
            ends = {one.coords[0], one.coords[-1]} & {other.coords[0], other.coords[-1]}
            shared = shapely.intersection(one, other)
            assert shapely.difference(shared, shapely.MultiPoint(sorted(ends))).is_empty


@settings(max_examples=20, deadline=None)
@given(kind=st.sampled_from(["grains", "tiles", "waves"]), seed=st.integers(0, 10_000))
def test_faces_lie_on_the_sides_their_chains_name(kind, seed):
    labels = random_labels(kind, seed).astype(np.uint8)
    outline = trace(picture_of(PALETTE[labels]), Colours(PALETTE, labels, 0), NEVER)
    pieces = list(shapely.polygonize(lines_of(outline)).geoms)
    assert len(pieces) == len(outline.faces) - 1
    area = np.zeros(len(outline.faces))
    for chain in outline.chains:
        x, y = np.vstack((chain.segments().corners(FLAT), chain.points[-1])).T
        swept = float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2.0
        area[chain.left] += swept
        area[chain.right] -= swept
    assert (area[1:] > 0.0).all()
    assert area[0] == pytest.approx(-sum(area[1:]), abs=1e-6)


@pytest.mark.parametrize("size", [(1, 1), (1, 7), (5, 5)])
@pytest.mark.parametrize("colour", [0, 1])
def test_a_picture_of_one_colour_is_ground_alone_or_one_face_with_the_border_as_its_edge(size, colour):
    labels = np.full(size, colour, dtype=np.uint8)
    outline = trace(picture_of(PALETTE[labels]), Colours(PALETTE, labels, 0), NEVER)
    assert [face.colour for face in outline.faces] in ([[0]] if colour == 0 else [[0, 1], [0]])
    assert len(outline.chains) == len(outline.faces) - 1


def ring_of(size, middle, left, right):
    """A square ring as it was fitted, and the run of cracks that it was fitted to."""
    half = size / 2.0
    corners = np.array([[-half, -half], [half, -half], [half, half], [-half, half], [-half, -half]]) + middle
    cracks = shapely.get_coordinates(shapely.segmentize(shapely.LineString(corners), 1.0))
    chain = CrackChain(np.arange(len(cracks) - 1), left, right, is_ring=True, tail=-1, head=-1)
    return Chain(corners, np.zeros(4), left, right), Run(chain, cracks, None, None, NO_CURVES)


def test_a_ring_that_has_run_away_is_drawn_along_its_cracks_and_what_it_crossed_stays_as_it_was():
    outer, outer_run = ring_of(40.0, (50.0, 50.0), 1, 0)
    inner, inner_run = ring_of(4.0, (33.0, 50.0), 2, 1)
    lost = Chain(inner.points[[0, 1, 0]], np.array([14.0, 0.1]), 2, 1)
    kept, drawn = made_planar(((outer, 0.1), (lost, 0.1)), (outer_run, inner_run))
    assert kept[0] is outer
    assert len(drawn[0].bulges) == 16
    assert shapely.Polygon(drawn[0].points).area == pytest.approx(16.0, abs=1.0)


def test_rings_that_stay_with_their_cracks_are_left_alone():
    outer, outer_run = ring_of(40.0, (50.0, 50.0), 1, 0)
    inner, inner_run = ring_of(4.0, (33.0, 50.0), 2, 1)
    fitted = ((outer, 0.1), (inner, 0.1))
    assert made_planar(fitted, (outer_run, inner_run)) == fitted
