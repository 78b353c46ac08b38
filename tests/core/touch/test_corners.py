"""Corners made sharp and round: exact lines and arcs, tangent where round, and one Chain for two patches."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.chain import Chain
from core.outline.faces import regions_of
from core.outline.outline import Face, Outline
from core.touch.corners import cornered, settled
from core.touch.edit import Corner
from tests.support.drawn import circle, polygon, rounded


def ring_chain(ring, left=1, right=0) -> Chain:
    return Chain(np.vstack((ring.points, ring.points[:1])), ring.bulges, left, right)


def outline(*rings) -> Outline:
    faces = (Face(0, (-1.0, -1.0)), *(Face(1, tuple(ring.points.mean(axis=0))) for ring in rings))
    chains = tuple(ring_chain(ring, at + 1) for at, ring in enumerate(rings))
    return Outline(chains, faces, (0.01,) * len(rings))


BOX = polygon((10.0, 20.0), (110.0, 20.0), (110.0, 80.0), (10.0, 80.0))


def area(made: Outline) -> float:
    return sum(region.area() for region in regions_of(made, frozenset(range(1, len(made.faces)))))


@pytest.mark.parametrize("at", [(10.4, 19.0), (109.0, 21.0), (111.0, 80.0), (10.0, 80.0)])
def test_a_round_corner_takes_from_a_square_one_what_an_arc_leaves(at):
    made = cornered(outline(BOX), [Corner(at, 12.0)], 1.0)
    assert made.findings == ()
    assert area(made.outline) == pytest.approx(6000.0 - 144.0 * (1.0 - np.pi / 4.0), abs=1e-9)
    (chain,) = made.outline.chains
    assert np.count_nonzero(chain.bulges) == 1
    assert float(chain.segments().radii()[chain.bulges != 0.0][0]) == pytest.approx(12.0, abs=1e-9)


def test_round_made_sharp_again_is_what_it_was():
    once = cornered(outline(BOX), [Corner((110.0, 80.0), 12.0), Corner((110.0, 80.0))], 1.0)
    assert once.findings == ()
    assert not once.outline.chains[0].bulges.any()
    assert area(once.outline) == pytest.approx(6000.0, abs=1e-9)


def test_a_round_corner_given_another_radius_is_round_with_that():
    twice = cornered(outline(BOX), [Corner((110.0, 80.0), 12.0), Corner((109.0, 79.0), 5.0)], 1.0)
    assert area(twice.outline) == pytest.approx(6000.0 - 25.0 * (1.0 - np.pi / 4.0), abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(-0.45, 0.45), min_size=4, max_size=4),
    st.integers(0, 3),
    st.floats(0.5, 6.0),
    st.integers(0, 3),
)
def test_a_fillet_is_tangent_to_lines_and_arcs_alike_and_has_its_radius(bulges, corner, radius, turn):
    points = np.roll(np.array([[0.0, 0.0], [100.0, 8.0], [95.0, 70.0], [-6.0, 60.0]]), turn, axis=0)
    shape = ring_chain(type(BOX)(points, np.array(bulges)))
    before = Outline((shape,), (Face(0, (-99.0, 0.0)), Face(1, (50.0, 35.0))), (0.01,))
    made = cornered(before, [Corner(tuple(points[corner]), radius)], 1.0)
    if made.findings:
        return
    (chain,) = made.outline.chains
    segments = chain.segments()
    new = int(np.argmin(np.abs(segments.radii() - radius)))
    assert segments.radii()[new] == pytest.approx(radius, abs=1e-7)
    unit = np.ones(len(segments))
    leaving, arriving = segments.headings_at(0.0 * unit), segments.headings_at(unit)
    for one, other in ((new - 1, new), (new, (new + 1) % len(segments))):
        turned = (leaving[other] - arriving[one] + np.pi) % (2.0 * np.pi) - np.pi
        assert abs(turned) < 1e-7
    kept = np.delete(segments.radii(), new)
    assert np.allclose(np.sort(kept), np.sort(shape.segments().radii()), rtol=1e-6)


def test_a_sharp_corner_is_where_both_sides_meet_though_one_is_an_arc():
    ring = rounded([[0, 0], [80, 0], [80, 50], [0, 50]], [0, 9, 0, 0])
    made = cornered(outline(ring), [Corner((79.0, 1.0))], 1.0)
    assert np.hypot(*(made.outline.chains[0].points - (80.0, 0.0)).T).min() < 1e-9


def test_both_patches_share_the_chain_still():
    seam = np.array([[50.0, 0.0], [60.0, 30.0], [50.0, 60.0]])
    left = np.array([[50.0, 60.0], [0.0, 60.0], [0.0, 0.0], [50.0, 0.0]])
    right = np.array([[50.0, 0.0], [100.0, 0.0], [100.0, 60.0], [50.0, 60.0]])
    chains = (
        Chain(seam, np.zeros(2), 1, 2),
        Chain(left, np.zeros(3), 1, 0),
        Chain(right, np.zeros(3), 2, 0),
    )
    faces = (Face(0, (-9.0, 0.0)), Face(1, (20.0, 30.0)), Face(2, (80.0, 30.0)))
    made = cornered(Outline(chains, faces, (0.01,) * 3), [Corner((60.0, 30.0), 4.0)], 1.0)
    assert made.findings == ()
    areas = [regions_of(made.outline, frozenset({face}))[0].area() for face in (1, 2)]
    assert sum(areas) == pytest.approx(6000.0, abs=1e-9)
    assert areas[0] < 3300.0
    shared = cornered(Outline(chains, faces, (0.01,) * 3), [Corner((50.0, 60.0), 4.0)], 1.0)
    assert [finding.code for finding in shared.findings] == ["corner-shared"]


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (Corner((60.0, 50.0), 5.0), "corner-not-found"),
        (Corner((110.0, 80.0)), "corner-idle"),
        (Corner((110.0, 80.0), 70.0), "corner-unmade"),
    ],
)
def test_what_cannot_be_made_is_told_with_its_place_and_nothing_is_changed(edit, code):
    before = outline(BOX)
    made = cornered(before, [edit], 1.0)
    (finding,) = made.findings
    assert (finding.code, finding.at, finding.level) == (code, edit.at, "caution")
    assert made.outline is before


def test_a_sharp_corner_that_would_run_into_another_patch_is_refused():
    tip = rounded([[0, 0], [100, 30], [0, 60]], [0, 8, 0])
    near = circle(98.0, 30.0, 3.0)
    made = cornered(outline(tip, near), [Corner((80.0, 30.0))], 1.0)
    assert [finding.code for finding in made.findings] == ["corner-unmade"]


def test_a_radius_in_mm_is_so_at_the_scale_that_the_rounded_shape_has():
    """Rounding the tip makes the shape lower in px, and so its scale larger."""
    tip = polygon((0.0, 0.0), (100.0, 0.0), (50.0, 120.0))

    def scale_of(made: Outline) -> float:
        chain = made.chains[0]
        reach = np.vstack((chain.points, chain.segments().turning_points()))
        return 60.0 / float(np.ptp(reach[:, 1]))

    made = settled(outline(tip), [Corner((50.0, 120.0), 6.0, is_mm=True)], scale_of).outline
    radii = made.chains[0].segments().radii()
    assert float(radii[np.isfinite(radii)][0]) * scale_of(made) == pytest.approx(6.0, abs=1e-6)
