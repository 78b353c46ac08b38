import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.outline.segments import Segments
from core.proof.sweeps import lengths_of, motion_of, places_at, sweeps_of
from tests.core.program.programs import read


def only(*lines):
    """The last move before the end of a program round these lines, and the program."""
    program = read("G0 X0 Y0", "G1 Z0 F600", *lines)
    return program, len(program) - 2


def test_a_quarter_circle_has_its_length_and_a_helix_climbs():
    program, row = only("G3 X-10 Y10 I-10 J0")
    assert lengths_of(program)[row] == pytest.approx(15.7079633, abs=5e-8)
    program, row = only("G3 X0 Y0 Z1 I-10 J0")
    assert lengths_of(program)[row] == pytest.approx(62.8398103, abs=5e-8)
    assert sweeps_of(program)[row] == pytest.approx(2 * np.pi)


def test_a_clockwise_arc_turns_the_other_way_round():
    program, row = only("G2 X-10 Y10 I-10 J0")
    assert sweeps_of(program)[row] == pytest.approx(-1.5 * np.pi)
    np.testing.assert_allclose(
        places_at(program, np.array([row]), np.array([2 / 3]))[0], [-20, 0, 0], atol=1e-12
    )


@given(st.floats(-3, 3).filter(lambda bend: abs(bend) > 0.01), st.floats(-50, 50), st.floats(1, 50))
def test_motion_has_the_same_lengths_and_ends_as_the_program(bend, x, y):
    chord = np.array([[0.0, 0.0]]), np.array([[round(x, 4), round(y, 4)]])
    i, j = Segments(*chord, np.array([bend])).centres()[0]
    code = "G3" if bend > 0 else "G2"
    program, _ = only(f"{code} X{x:.4f} Y{y:.4f} I{i:.9f} J{j:.9f}")
    motion = motion_of(program)
    assert len(motion.feeds) == np.count_nonzero(~np.isnan(program.starts).any(axis=1)) + 1
    flat = Segments(motion.starts[:, :2], motion.ends[:, :2], motion.bulges).lengths()
    known = lengths_of(program)[~np.isnan(program.starts).any(axis=1)]
    assert np.hypot(
        flat, np.diff([motion.starts[:, 2], motion.ends[:, 2]], axis=0)[0]
    ).sum() == pytest.approx(known.sum())
    np.testing.assert_allclose(motion.starts[1:], motion.ends[:-1], atol=1e-9)


def test_the_motion_of_a_whole_turn_is_two_half_turns():
    program, _ = only("G3 X0 Y0 I-10 J0")
    motion = motion_of(program)
    np.testing.assert_allclose(motion.bulges[-3:-1], [1, 1])
    np.testing.assert_allclose(motion.ends[-3], [-20, 0, 0], atol=1e-12)
