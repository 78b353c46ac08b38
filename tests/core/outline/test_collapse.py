"""Crumbs between nearly equal crossings are taken out; what has an end of its own keeps it."""

import numpy as np

from core.outline.collapse import collapsed
from core.outline.loop import Loop
from core.outline.measure import segments_of
from core.outline.noding import noded

HAIR = 1e-3
CORNERS = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])


def test_a_line_that_passes_a_corner_by_less_than_a_hair_goes_through_it():
    square = Loop(CORNERS, np.zeros(4))
    across = Loop(np.array([[-5.0, 15.0 - 1e-5], [15.0, -5.0 - 1e-5], [20.0, 20.0]]), np.zeros(3))
    sources = segments_of((square, across))
    exact = noded(sources)
    assert exact.segments.chord_lengths().min() < HAIR
    pieces = collapsed(exact, sources, HAIR)
    assert pieces.segments.chord_lengths().min() > HAIR
    ends = {tuple(point) for point in pieces.segments.starts.tolist()}
    assert {tuple(corner) for corner in CORNERS.tolist()} <= ends


def test_a_source_that_is_left_whole_runs_from_its_start_to_its_end():
    dented = Loop(np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 1e-5], [10.0, 10.0]]), np.zeros(4))
    sources = segments_of((dented,))
    pieces = collapsed(noded(sources), sources, HAIR)
    assert len(pieces.segments) == 3
    assert pieces.firsts.tolist() == [0.0] * 3
    assert pieces.lasts.tolist() == [1.0] * 3


def test_two_edges_nearer_than_a_hair_become_one():
    low = Loop(np.array([[0.0, 0.0], [10.0, 0.0], [5.0, -5.0]]), np.zeros(3))
    high = Loop(np.array([[10.0, 0.0], [0.0, 0.0], [5.0, 5.0]]), np.array([1e-5, 0.0, 0.0]))
    sources = segments_of((low, high))
    assert len(noded(sources).segments) == 6
    pieces = collapsed(noded(sources), sources, HAIR)
    assert len(pieces.segments) == 5
    shared = np.flatnonzero(np.bincount(pieces.owners) == 2)[0]
    assert pieces.is_against[pieces.owners == shared].tolist() == [False, True]
