"""Whatever the picture, blurred, grainy or furred: no crossings, and the same bytes on every machine."""

import hashlib
import os
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER
from core.outline.chain import Chain
from core.trace.planar import crossing
from core.trace.trace import trace
from tests.support.drawn import BLACK_ON_WHITE, colours_of, drawn, noisy, picture_of, shapes
from tests.support.rough import fur, hills


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_no_chain_of_a_soft_or_grainy_picture_crosses_itself_or_another(seed):
    assert crossing(trace(*hills(seed), NEVER).chains) == set()


def test_an_edge_of_fur_is_drawn_without_crossings_and_mostly_by_pieces_longer_than_a_pixel():
    outline = trace(*fur(), NEVER)
    assert crossing(outline.chains) == set()
    lengths = np.concatenate([chain.segments().lengths() for chain in outline.chains])
    assert float(np.median(lengths)) > 1.5


def test_chains_that_touch_but_for_their_nodes_are_told_apart_from_those_that_meet():
    across = Chain(np.array([[0.0, 0.0], [2.0, 0.0]]), np.zeros(1), 0, 1)
    onto = Chain(np.array([[1.0, 1.0], [1.0, 0.0]]), np.zeros(1), 0, 1)
    on_from = Chain(np.array([[2.0, 0.0], [3.0, 1.0]]), np.zeros(1), 0, 1)
    loop = Chain(np.array([[2.0, 0.0], [3.0, -2.0], [4.0, -1.0], [2.0, 0.0]]), np.zeros(3), 0, 1)
    assert crossing((across, on_from, loop)) == set()
    assert crossing((across, onto, on_from)) == {0, 1}


def fingerprint():
    """Of every number in the outlines of a noisy shape of many arcs and of a crowded random picture."""
    pixels = noisy(5)(drawn(shapes(300)[5], BLACK_ON_WHITE))
    found = hashlib.sha256()
    for case in ((picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE)), hills(7, 70)):
        for chain in trace(*case, NEVER).chains:
            found.update(chain.points.tobytes() + chain.bulges.tobytes())
    return found.hexdigest()


@pytest.mark.parametrize("cores", ["1", "2"])
def test_the_same_picture_gives_the_same_bytes_with_one_core_and_with_two(cores):
    limit = {"OPENBLAS_NUM_THREADS": cores, "OMP_NUM_THREADS": cores, "PYTHONHASHSEED": cores}
    code = (
        "import importlib.util as u, sys; sys.path.insert(0, '.');"
        f"import cv2; cv2.setNumThreads({cores});"
        f"s = u.spec_from_file_location('any_picture', {__file__!r}); m = u.module_from_spec(s);"
        "s.loader.exec_module(m); print(m.fingerprint())"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], env=os.environ | limit, capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == fingerprint()
