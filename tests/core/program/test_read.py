import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import UnreadableFile
from core.program.read.leniency import LENIENT, STRICT
from core.program.read.program import EventKind
from core.program.read.read import PLAIN_MOTION, read_program
from tests.core.program.programs import START, read, text_of

AT = "G0 X7 Y7"
FEED = "G1 Z-1 F100"


def refused(*lines, leniency=STRICT):
    with pytest.raises(UnreadableFile) as caught:
        read(*lines, leniency=leniency)
    return str(caught.value)


def test_moves_come_with_place_feed_spindle_and_line():
    program = read(AT, FEED, "X10 F400")
    np.testing.assert_array_equal(program.ends[1:4], [[7, 7, 5], [7, 7, -1], [10, 7, -1]])
    assert np.isnan(program.starts[0]).all()
    assert np.isnan(program.ends[0, :2]).all()
    np.testing.assert_array_equal(program.feeds[2:4], [100, 400])
    np.testing.assert_array_equal(program.rpm, [0, 10000, 10000, 10000, 10000])
    np.testing.assert_array_equal(program.lines, [7, 10, 11, 12, 13])
    assert [(e.kind, e.line, e.before_move, e.value) for e in program.events] == [
        (EventKind.SPINDLE, 8, 1, 10000.0),
        (EventKind.DWELL, 9, 1, 5.0),
        (EventKind.SPINDLE, 14, 5, 0.0),
    ]


def test_arrays_cannot_be_written_to():
    program = read(AT)
    for name in ("starts", "ends", "centres", "turns", "is_rapid", "feeds", "rpm", "lines"):
        assert not getattr(program, name).flags.writeable


def test_an_arc_keeps_its_centre_and_turn():
    program = read(AT, FEED, "G2 X10 Y16 I3 J4")
    np.testing.assert_array_equal(program.centres[3], [10, 11])
    assert program.turns[3] == -1


def test_an_inch_file_is_read_in_mm():
    data = text_of("G0 X1 Y1", "G1 Z-0.1 F10", "G2 X2 Y1 I0.5 J0").replace(b"G21", b"G20")
    program = read_program(data)
    np.testing.assert_allclose(program.ends[-2], [50.8, 25.4, -2.54])
    np.testing.assert_allclose(program.centres[-2], [38.1, 25.4])
    assert program.feeds[-2] == pytest.approx(254)
    assert program.unit == "inch"


def test_incremental_moves_add_up_and_need_a_known_start():
    program = read(AT, "G91", "G0 X1 Z2", "X1", "G90")
    np.testing.assert_array_equal(program.ends[3], [9, 7, 7])
    assert "incremental" in refused("G91", "G0 X1")


def test_feed_and_unit_on_one_line_leave_no_feed_since_feed_is_taken_first():
    data = b"G90\nG94\nG17\nG21 F600\nG0 Z5\nG0 X0 Y0\nG1 Z-1\nM2\n"
    with pytest.raises(UnreadableFile, match=r"Line 7 .*feed"):
        read_program(data)


def test_spindle_stops_before_and_program_ends_after_the_move_of_its_line():
    program = read(AT, FEED, "X8 M5", "X9 M3")
    np.testing.assert_array_equal(program.rpm[3:5], [0, 10000])
    last = read_program(b"G21\nG90\nG0 Z5\nG0 X1 Y2 M2\n")
    np.testing.assert_array_equal(last.ends[-1], [1, 2, 5])


@given(st.permutations(["G1", "X8", "Y9", "F300", "S5000", "(words)"]))
def test_words_may_stand_in_any_order(words):
    program = read(AT, " ".join(words))
    np.testing.assert_array_equal(program.ends[2], [8, 9, 5])
    assert (program.feeds[2], program.rpm[2]) == (300, 5000)


REFUSALS = {
    "two motions": "G0 G1 X1",
    "two of one plane group": "G17 G18",
    "a letter twice": "X1 X2",
    "an unknown letter": "U1",
    "an exponent": "G0 X1e-05",
    "an unknown G": "G5 X1",
    "an unknown M": "M99",
    "a G that is no code": "G1.05 X1",
    "a turning axis": "A90",
    "a number too late": "X1 N5",
    "an arc without end": "G2 I1 J1",
    "an arc with height only": "G2 Z1 I1 J1",
    "an arc without centre": "G2 X10 Y16",
    "a centre on a line": "G1 X9 I1",
    "an arc in another plane": "G18 G2 X8 Z1 I1 K1",
    "an arc of no radius": "G2 X7 Y7 I0 J0",
    "an R arc to its own start": "G2 X7 Y7 R5",
    "an R arc too short": "G2 X17 Y7 R4",
    "an R arc with a centre": "G2 X8 Y7 R4 I1",
    "a negative feed": "G1 X9 F-100",
    "a feed of nothing": "G1 X9 F0",
    "a negative speed": "S-1",
    "a dwell without length": "G4",
    "a negative dwell": "G4 P-1",
    "P alone": "P1",
    "a motion alone": "G1",
    "five M words": "M3 M7 M8 M48 M0",
    "motion cancelled": "G80 X1",
    "a cutter compensation": "G41 D1",
    "a home": "G28 X0",
    "a shift": "G92 X0",
    "machine coordinates": "G53 G0 X0",
    "inverse time": "G93",
    "a canned cycle": "G81 X1 Y1 Z-1 R1",
    "a probe": "G38.2 Z-1",
    "another work system": "G55",
    "a tool that is no number": "T1.5 M6",
    "a per cent sign": "%",
    "a huge number": "G0 X99999999999",
    "a long line": "(" + "a" * 300 + ")",
    "a wrong radius": "G2 X10 Y16 I3 J4.01",
}


@pytest.mark.parametrize("lines", REFUSALS.values(), ids=REFUSALS)
@pytest.mark.parametrize("leniency", [STRICT, LENIENT], ids=["strict", "lenient"])
def test_what_cannot_be_followed_is_refused_with_its_line(lines, leniency):
    if leniency is LENIENT and lines in ("G1", "%", REFUSALS["a long line"]):
        return
    assert refused(AT, "F100", lines, leniency=leniency).startswith(f"Line {len(START) + 3} of the program: ")


def test_a_cut_before_any_feed_is_refused():
    assert "feed" in refused(AT, "G1 X1")
    assert np.isnan(read(AT, "G1 X1", leniency=LENIENT).feeds[2])


def test_coordinates_before_any_motion_code_are_refused():
    with pytest.raises(UnreadableFile, match="Line 1 "):
        read_program(b"X1\nM2\n")


class TestFrame:
    def test_per_cent_signs_may_stand_round_a_program(self):
        framed = read_program(b"%\nG21\nG0 Z5\n%\nanything at all (\n")
        assert framed.ending.line == 4
        assert read_program(b"\n  %\nG21\nM30\n%\n").ending.line == 4

    @pytest.mark.parametrize(
        ("data", "line"),
        [
            (b"G21\nG0 Z5\n", 2),  # cut short
            (b"%\nG21\nM2\n", 3),  # the first per cent sign is never answered
            (b"G21\nM2\nG0 Z5\n", 3),
            (b"G21\n%\n", 2),
        ],
    )
    def test_an_end_that_is_missing_or_not_the_end_is_refused(self, data, line):
        with pytest.raises(UnreadableFile, match=f"^Line {line} "):
            read_program(data)
        read_program(data, leniency=LENIENT)

    @pytest.mark.parametrize("data", [b"", b" \r\n\t\n"])
    def test_an_empty_file_is_said_to_be_empty(self, data):
        with pytest.raises(UnreadableFile, match="empty"):
            read_program(data)

    @pytest.mark.parametrize("data", [b"\x7fELF\x02\x01\x01\x00", b"\x89PNG\r\n\x1a\n", bytes(range(256))])
    def test_a_binary_named_as_a_program_is_told(self, data):
        with pytest.raises(UnreadableFile, match="no router program"):
            read_program(data)

    @pytest.mark.parametrize("newline", [b"\n", b"\r\n", b"\r"])
    def test_every_end_of_line_is_read_alike(self, newline):
        program = read_program(text_of(AT, FEED, "(a comment)", "x 8").replace(b"\n", newline))
        np.testing.assert_array_equal(program.lines[-2:], [13, 14])
        assert program.longest_line == 11


class TestLenient:
    def test_what_small_controllers_take_is_read(self):
        program = read("G91.1", AT, "G1 F300 ; feed", "X8 ; go", leniency=LENIENT)
        np.testing.assert_array_equal(program.ends[2], [8, 7, 5])
        assert [remark.text for remark in program.remarks] == ["feed", "go"]

    def test_radii_may_differ_as_much_as_small_controllers_let_them(self):
        assert "radius" in refused(AT, FEED, "G2 X10 Y16.003 I3 J4")
        read(AT, FEED, "G2 X10 Y16.003 I3 J4", leniency=LENIENT)
        assert "radius" in refused(AT, FEED, "G2 X10 Y16.03 I3 J4", leniency=LENIENT)


def _plain_lines():
    number = st.integers(-99999, 99999).map(lambda n: f"{n / 1000:.3f}")
    words = st.tuples(st.sampled_from(["", "G0", "G1", "G01"]), number, number, number)
    return words.map(lambda w: f"{w[0]} X{w[1]} Y{w[2]} Z{w[3]}".strip())


@given(st.lists(_plain_lines(), min_size=1, max_size=8))
def test_the_quick_way_and_the_careful_way_read_the_same(lines):
    careful = [line + " (slow)" for line in lines]
    assert all(PLAIN_MOTION.fullmatch(line.encode()) for line in lines)
    assert not any(PLAIN_MOTION.fullmatch(line.encode()) for line in careful)
    one, other = read("F100", *lines), read("F100", *careful)
    for name in ("ends", "is_rapid", "feeds", "turns", "lines"):
        np.testing.assert_array_equal(getattr(one, name), getattr(other, name))


def said(data, leniency):
    """The sentence that the reader has for these bytes; "." where it reads them."""
    try:
        read_program(data, leniency=leniency)
    except UnreadableFile as error:
        return str(error)
    return "."


@given(st.binary(max_size=80), st.sampled_from([STRICT, LENIENT]))
def test_any_bytes_give_a_program_or_one_sentence(data, leniency):
    assert said(data, leniency).endswith(".")


@given(st.text("GMXYZIJRFSPNT0123456789.-+ ()%;/\n", max_size=60), st.sampled_from([STRICT, LENIENT]))
def test_any_soup_of_words_gives_a_program_or_one_sentence(text, leniency):
    data = b"G21\nG90\nG0 X1 Y1 Z1\n" + text.encode() + b"\nM2\n"
    assert said(data, leniency).endswith(".")
