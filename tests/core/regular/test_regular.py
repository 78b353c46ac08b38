"""Regular shapes, when asked: exactly regular afterwards, within the noise, and every change shown."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER
from core.outline.chain import Chain
from core.outline.faces import regions_of
from core.outline.outline import Face, Outline
from core.picture.colours import ColourWish, find_colours
from core.regular.edge import Edge
from core.regular.frame import Frame
from core.regular.mirror import best_axis, image_of
from core.regular.near import WITHIN
from core.regular.regular import regular
from core.regular.rule import Rule
from core.regular.told import told
from core.trace.planar import crossing
from core.trace.trace import trace
from tests.support.drawn import (
    BLACK_ON_WHITE,
    FOUR,
    Ring,
    circle,
    drawn,
    eight_bit,
    flag,
    jpeg,
    noisy,
    picture_of,
    polygon,
    rounded,
    shapes,
)

SPOILT = {"clean": eight_bit, "noisy": noisy(5), "jpeg": jpeg(60)}
SHAPES = {shape.name: shape for shape in shapes(300)}


@cache
def traced(name: str, spoil: str) -> Outline:
    seen = picture_of(SPOILT[spoil](drawn(SHAPES[name], BLACK_ON_WHITE)))
    return trace(seen, find_colours(seen, ColourWish()), NEVER)


def outline(*rings: Ring, doubt: float = 0.05) -> Outline:
    chains = tuple(
        Chain(np.vstack((ring.points, ring.points[:1])), ring.bulges, at + 1, 0)
        for at, ring in enumerate(rings)
    )
    faces = (Face(0, (-1.0, -1.0)), *(Face(1, tuple(ring.points.mean(axis=0))) for ring in rings))
    return Outline(chains, faces, (doubt,) * len(rings))


def shaken(ring: Ring, by: float, seed: int) -> Ring:
    """Every joint moved at random, by no more than that."""
    return Ring(ring.points + np.random.default_rng(seed).uniform(-by, by, ring.points.shape), ring.bulges)


def strays(before: Outline, after: Outline) -> float:
    return float(Edge(Frame.of(before)).strays(Frame.of(after)).max())


def made(result, rule: Rule) -> int:
    return sum(change.rule is rule and change.is_made for change in result.changes)


BOX = polygon((20.0, 30.0), (120.0, 30.0), (120.0, 90.0), (20.0, 90.0))


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 10_000))
def test_lines_that_are_nearly_level_and_upright_are_so_to_the_last_digits(seed):
    before = outline(shaken(BOX, 0.12, seed))
    result = regular(before, {Rule.LEVEL})
    chords = np.abs(result.outline.chains[0].segments().chords())
    assert made(result, Rule.LEVEL) == 4
    assert chords.min(axis=1).max() < 1e-9
    assert 0.0 < strays(before, result.outline) <= WITHIN * 0.1


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 10_000), st.floats(0.1, 1.4))
def test_corners_that_are_nearly_square_are_so_at_any_slant(seed, turn):
    before = outline(shaken(BOX.turned(turn), 0.12, seed))
    result = regular(before, {Rule.SQUARE})
    headings = result.outline.chains[0].segments().headings_at(np.zeros(4))
    assert made(result, Rule.SQUARE) == 4
    assert np.abs(np.cos(headings - np.roll(headings, 1))).max() < 1e-9


def test_what_is_farther_off_than_noise_is_left_and_said():
    leaning = outline(polygon((20.0, 30.0), (120.0, 32.0), (120.0, 90.0), (20.0, 90.0)), doubt=0.05)
    result = regular(leaning, {Rule.LEVEL})
    assert made(result, Rule.LEVEL) == 3
    (left,) = [change for change in result.changes if not change.is_made]
    assert left.px == pytest.approx(2.0)
    assert left.at == pytest.approx((70.0, 31.0))
    (finding,) = [one for one in told(result, 0.2) if one.code == "left-level"]
    assert "0.400 mm (2.000 px)" in finding.text


def test_what_would_move_an_edge_beyond_its_noise_is_left_though_its_lean_alone_is_noise():
    leaning = outline(polygon((20.0, 30.0), (120.0, 30.95), (120.0, 90.0), (20.0, 90.0)), doubt=0.05)
    result = regular(leaning, {Rule.LEVEL})
    assert made(result, Rule.LEVEL) == 3
    assert strays(leaning, result.outline) <= WITHIN * 0.1
    (finding,) = [one for one in told(result, 0.2) if one.code == "left-level"]
    assert "move other edges" in finding.text


def test_the_better_an_edge_is_known_the_less_is_taken_for_noise():
    leaning = polygon((20.0, 30.0), (120.0, 30.5), (120.0, 90.0), (20.0, 90.0))
    assert made(regular(outline(leaning, doubt=0.05), {Rule.LEVEL}), Rule.LEVEL) == 4
    assert made(regular(outline(leaning, doubt=0.002), {Rule.LEVEL}), Rule.LEVEL) == 3


def test_radii_and_centres_that_are_nearly_one_become_one():
    rings = (circle(100.1, 80.0, 60.02), circle(99.95, 80.1, 40.0).reversed(), circle(200.0, 80.0, 39.93))
    result = regular(outline(*rings), {Rule.RADII, Rule.CENTRES})
    segments = [chain.segments() for chain in result.outline.chains]
    centres = np.array([each.centres()[0] for each in segments])
    radii = np.array([each.radii()[0] for each in segments])
    assert np.abs(centres[0] - centres[1]).max() < 1e-9
    assert radii[1] == pytest.approx(radii[2], abs=1e-9)
    assert radii[0] == pytest.approx(60.02, abs=0.1)
    assert (made(result, Rule.RADII), made(result, Rule.CENTRES)) == (1, 1)


def test_a_circle_stays_one():
    rings = (circle(100.1, 80.0, 60.02), circle(99.95, 80.1, 40.0).reversed())
    for chain in regular(outline(*rings), {Rule.CENTRES}).outline.chains:
        segments = chain.segments()
        assert np.ptp(segments.radii()) < 1e-9
        assert np.hypot(*np.ptp(segments.centres(), axis=0)) < 1e-9


@pytest.mark.parametrize(
    ("name", "spoil"),
    [("washer", "jpeg"), ("star", "noisy"), ("rounded box", "jpeg"), ("lens", "clean"), ("gear", "clean")],
)
def test_halves_that_mirror_one_another_become_each_others_image(name, spoil):
    before = traced(name, spoil)
    result = regular(before, {Rule.MIRROR})
    assert made(result, Rule.MIRROR) == 1
    edge = Edge(Frame.of(result.outline))
    axis = best_axis(edge)
    assert edge.off(image_of(edge.places, axis)).max() < 1e-6
    doubt = max(2.0 * max(before.doubt), 0.02)
    assert strays(before, result.outline) <= WITHIN * doubt
    assert crossing(result.outline.chains) == crossing(before.chains)


@pytest.mark.parametrize("name", ["plate", "leaf"])
def test_what_has_no_mirror_symmetry_is_left_and_said(name):
    before = traced(name, "clean")
    result = regular(before, {Rule.MIRROR})
    assert result.outline is before
    assert [one.code for one in told(result, 0.1)] == ["left-mirror"]


def test_a_half_that_was_traced_in_more_pieces_than_the_other_is_evened():
    """The right side of a plate is told in two lines, the left in one."""
    points = [(20.0, 20.0), (120.0, 20.0), (110.0, 50.02), (100.0, 80.0), (40.0, 80.0)]
    result = regular(outline(polygon(*points)), {Rule.MIRROR})
    assert made(result, Rule.MIRROR) == 1
    assert len(result.outline.chains[0].bulges) == 4


def test_everything_at_once_on_a_gear():
    before = traced("gear", "noisy")
    result = regular(before, frozenset(Rule))
    assert made(result, Rule.MIRROR) == 1
    assert made(result, Rule.RADII) >= 8
    assert strays(before, result.outline) <= WITHIN * max(2.0 * max(before.doubt), 0.02)


def test_joints_that_are_smooth_stay_smooth():
    ring = rounded([[0, 0], [100, 0.1], [100, 60], [0, 60]], 10)
    result = regular(outline(ring), {Rule.LEVEL, Rule.RADII})
    assert made(result, Rule.LEVEL) == 4
    segments = result.outline.chains[0].segments()
    unit = np.ones(len(segments))
    turn = np.roll(segments.headings_at(0.0 * unit), -1) - segments.headings_at(unit)
    assert np.abs((turn + np.pi) % (2.0 * np.pi) - np.pi).max() < 1e-7


def test_patches_that_meet_still_share_their_chains():
    shape = flag(300)
    seen = picture_of(noisy(5)(drawn(shape, FOUR)))
    before = trace(seen, find_colours(seen, ColourWish()), NEVER)
    result = regular(before, {Rule.SQUARE, Rule.LEVEL})
    assert made(result, Rule.SQUARE) >= 2
    faces = range(1, len(before.faces))
    areas = [regions_of(result.outline, frozenset({face}))[0].area() for face in faces]
    assert regions_of(result.outline, frozenset(faces))[0].area() == pytest.approx(sum(areas), rel=1e-12)


def test_without_a_rule_the_outline_is_the_very_same():
    before = outline(BOX)
    assert regular(before, ()).outline is before


def test_the_size_of_a_change_is_told_in_mm_and_px():
    result = regular(outline(shaken(BOX, 0.12, 3)), {Rule.LEVEL})
    notes = told(result, 0.5)
    assert [note.code for note in notes] == ["made-level"] * 4
    worst = max(change.px for change in result.changes)
    assert any(f"{worst * 0.5:.3f} mm ({worst:.3f} px)" in note.text for note in notes)
    assert worst == pytest.approx(strays(outline(shaken(BOX, 0.12, 3)), result.outline))


def test_an_outline_in_crumbs_is_not_looked_at():
    many = outline(*(circle(5.0 * k, 0.0, 2.0) for k in range(301)))
    (finding,) = told(regular(many, {Rule.LEVEL}), 1.0)
    assert finding.code == "too-many-edges"
