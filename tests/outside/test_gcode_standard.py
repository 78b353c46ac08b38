"""The program reader and writer against the values that NISTIR 6556 and plain geometry give.

T. R. Kramer, F. M. Proctor, E. Messina, "The NIST RS274/NGC Interpreter - Version 3", NISTIR 6556, 2000.
"""

import numpy as np
import pytest

from core.errors import UnreadableFile
from core.program.read.leniency import LENIENT
from core.program.read.read import read_program
from core.proof.sweeps import lengths_of, sweeps_of

pytestmark = pytest.mark.outside

BEFORE = "G21\nG90\nG94\nG17\nG0 Z9\n"


def last(lines, leniency=None):
    """The program of these lines and its last move."""
    data = f"{BEFORE}{lines}\nM2\n".encode()
    program = read_program(data, leniency=leniency) if leniency else read_program(data)
    return program, len(program) - 1


def test_the_standards_own_arc_has_its_centre_radius_sweep_and_length():
    """NISTIR 6556 3.5.3.2: from (7, 7), G17 G2 X10 Y16 I3 J4: centre (10, 11), radius 5."""
    program, row = last("G0 X7 Y7\nG17 G2 X10 Y16 I3 J4 Z9 F600")
    np.testing.assert_array_equal(program.centres[row], [10, 11])
    assert np.hypot(*(program.ends[row, :2] - program.centres[row])) == pytest.approx(5)
    assert np.degrees(sweeps_of(program)[row]) == pytest.approx(-143.1301024, abs=1e-7)
    assert lengths_of(program)[row] == pytest.approx(12.4904577, abs=1e-7)


def test_white_space_inside_numbers_is_read_as_the_standard_says():
    """NISTIR 6556 3.3: "g0x +0. 12 34y 7" is "g0 x+0.1234 y7"."""
    program, row = last("G0X +0. 12 34Y 7")
    np.testing.assert_array_equal(program.ends[row, :2], [0.1234, 7])


def test_radii_may_differ_by_0_002_mm_and_no_more():
    """NISTIR 6556 3.5.3.2; rounding to three decimals can break it (r 22.0473952 and 22.0448859)."""
    case = "G0 X64.341 Y78.915\nG3 X44.323 Y39.690 I-9.033 J-20.112 F600"
    with pytest.raises(UnreadableFile, match=r"22\.0474 mm at its start but 22\.0449 mm"):
        last(case)
    last(case, LENIENT)


@pytest.mark.parametrize(("unit", "within", "beyond"), [("G21", 0.0019, 0.0021), ("G20", 0.00019, 0.00021)])
def test_the_mismatch_rule_is_0_002_mm_or_0_0002_inch(unit, within, beyond):
    """NISTIR 6556 3.5.3.2, both units."""
    lines = f"G0 Z9\nG0 X0 Y0\nG3 X2 Y0 I{1 + within / 2:.6f} J0 F60"
    read_program(f"{unit}\nG90\n{lines}\nM2\n".encode())
    with pytest.raises(UnreadableFile, match="radius"):
        read_program(
            f"{unit}\nG90\n{lines}\nM2\n".replace(f"{1 + within / 2:.6f}", f"{1 + beyond / 2:.6f}").encode()
        )


def test_a_quarter_circle_of_10_mm_takes_its_time():
    """Geometry: length 15.7079633 mm, at F600 1.5707963 s."""
    program, row = last("G0 X10 Y0\nG3 X0 Y10 I-10 J0 F600")
    assert lengths_of(program)[row] == pytest.approx(15.7079633, abs=1e-7)
    assert lengths_of(program)[row] / program.feeds[row] * 60 == pytest.approx(1.5707963, abs=1e-7)


def test_one_turn_of_a_helix_has_its_length():
    """Geometry: radius 10, one turn, 1 mm up: 62.8398103 mm (feed along the helix, NISTIR 6556 2.1.2.6)."""
    program, row = last("G0 X10 Y0\nG3 X10 Y0 Z10 I-10 J0 F600")
    assert lengths_of(program)[row] == pytest.approx(62.8398103, abs=1e-7)


def test_an_arc_by_radius_turns_less_or_more_than_half_by_its_sign():
    """NISTIR 6556 3.5.3.1: a positive R is an arc of 180 degrees or less, a negative one of more."""
    short, row = last("G0 X0 Y0\nG2 X10 Y10 R10 F600")
    assert np.degrees(sweeps_of(short)[row]) == pytest.approx(-90)
    np.testing.assert_allclose(short.centres[row], [10, 0], atol=1e-12)
    long, row = last("G0 X0 Y0\nG2 X10 Y10 R-10 F600")
    assert np.degrees(sweeps_of(long)[row]) == pytest.approx(-270)
    np.testing.assert_allclose(long.centres[row], [0, 10], atol=1e-12)


def test_feed_is_taken_before_the_unit_of_its_line():
    """NISTIR 6556 Table 8: F is step 3, G20 and G21 step 12."""
    with pytest.raises(UnreadableFile, match="feed"):
        read_program(b"G90\nG21 F600\nG0 Z5\nG0 X0 Y0\nG1 X1\nM2\n")


def test_the_longest_line_is_256_characters():
    """NISTIR 6556 3.3."""
    last("(" + "a" * 254 + ")")
    with pytest.raises(UnreadableFile, match="256"):
        last("(" + "a" * 255 + ")")
