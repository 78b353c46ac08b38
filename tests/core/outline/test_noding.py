"""Segments cut into pieces that meet at their ends only."""

import numpy as np
import pytest

from core.outline.crossing import SNAP
from core.outline.curve import joined, part_between
from core.outline.noding import flat_lines, noded
from core.outline.segments import Segments
from tests.support.shapes import any_shape, turned


def rows(*each):
    starts, ends, bulges = zip(*each, strict=True)
    return Segments(np.array(starts, dtype=float), np.array(ends, dtype=float), np.array(bulges, dtype=float))


def test_a_cross_is_cut_into_four_that_meet_in_one_place():
    pieces = noded(rows(((0, 0), (4, 4), 0), ((0, 4), (4, 0), 0)))
    assert len(pieces.segments) == 4
    tips = np.vstack((pieces.segments.starts, pieces.segments.ends)).tolist()
    assert tips.count([2.0, 2.0]) == 4


def test_the_part_that_two_segments_share_is_one_piece_that_knows_both():
    pieces = noded(rows(((0, 0), (6, 0), 0), ((9, 0), (3, 0), 0)))
    assert len(pieces.segments) == 3
    shared = pieces.owners[pieces.sources == 1][-1]
    assert sorted(pieces.sources[pieces.owners == shared].tolist()) == [0, 1]
    assert sorted(pieces.is_against[pieces.owners == shared].tolist()) == [False, True]


def test_arcs_of_one_circle_share_a_piece_though_rounding_tells_them_apart():
    at = np.array([0.3, 1.0, 1.9, 2.7])
    rim = 7.0 * np.column_stack((np.cos(at), np.sin(at)))
    pieces = noded(rows((rim[0], rim[2], np.tan(0.4)), (rim[3], rim[1], -np.tan(1.7 / 4.0))))
    assert len(pieces.segments) == 3


def test_a_bow_and_its_string_stay_two_pieces():
    assert len(noded(rows(((0, 0), (6, 0), 0), ((0, 0), (6, 0), 1e-3))).segments) == 2


def test_ends_within_the_snap_become_one_of_them_to_the_last_bit():
    pieces = noded(rows(((0, 0), (3, 0), 0), ((3, 0.5 * SNAP), (6, 1), 0)))
    np.testing.assert_array_equal(pieces.segments.starts[1], pieces.segments.ends[0])
    assert pieces.segments.ends[0].tolist() in ([3.0, 0.0], [3.0, 0.5 * SNAP])


@pytest.mark.parametrize("seed", range(6))
def test_the_pieces_of_a_segment_run_from_its_start_to_its_end_and_are_as_long(seed):
    first, second = (any_shape(seed)[0].outer, turned(any_shape(seed)[0].outer, 1.0, 2.0, 1.0))
    segments = joined([first.segments(), second.segments()])
    pieces = noded(segments)
    lengths = pieces.segments.lengths()
    for source in range(len(segments)):
        cuts = pieces.rows_of(source)
        assert pieces.firsts[cuts[0]] == 0.0
        assert pieces.lasts[cuts[-1]] == 1.0
        owned = sum(lengths[pieces.owners[cut]] for cut in cuts)
        assert owned == pytest.approx(segments.lengths()[source], abs=1e-6)


def test_a_segment_run_backwards_is_flattened_to_the_same_bits():
    rng = np.random.default_rng(0)
    starts, ends = rng.uniform(-9, 9, (200, 2)), rng.uniform(-9, 9, (200, 2))
    segments = Segments(starts, ends, rng.normal(0.0, 0.7, 200))
    back = Segments(ends, starts, -segments.bulges)
    for there, again in zip(flat_lines(segments, 1e-3), flat_lines(back, 1e-3), strict=True):
        np.testing.assert_array_equal(there, again[::-1])


def test_halves_of_halves_are_quarters():
    arc = rows(((0, 0), (6, 0), 0.8))
    quarter = part_between(arc, np.array([0.25]), np.array([0.5]))
    assert np.arctan(quarter)[0] == pytest.approx(np.arctan(0.8) / 4.0)
