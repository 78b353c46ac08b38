import zlib

import pytest

from core.kit.says import report_digest, says_digest
from tests.support.pictures import badge_kit

JOB = b'format = 1\n[shape]\nheight = "60 mm"\n'


def files_of(kind):
    entry = next(file for file in badge_kit().report["files"] if file["format"] == kind)
    return badge_kit().files[entry["path"]]


@pytest.mark.parametrize(
    ("kind", "one", "other"),
    [
        ("toml", JOB, b'# mine\r\n[shape]\r\nheight="60 mm"\r\n\r\n' + b""),
        ("txt", b"no program\n", b"no   program"),
    ],
)
def test_white_space_and_remarks_say_nothing(kind, one, other):
    other = b"format = 1\n" + other if kind == "toml" else other
    assert says_digest(one, kind) == says_digest(other, kind)


def test_another_value_says_something_else():
    assert says_digest(JOB, "toml") != says_digest(JOB.replace(b"60", b"61"), "toml")
    assert says_digest(b"a", "webp") != says_digest(b"b", "webp")


@pytest.mark.parametrize(
    ("other", "is_same"),
    [
        (b"IN;SP1;PU0,0;PD40,0;PD40,40;PU;", True),
        (b"in; sp1;\r\npu 0 0; pd 40 0 40 40; pu;\n", True),
        (b"IN;SP1;PU0,0;PD40,0,40,41;PU;", False),
        (b"IN;SP2;PU0,0;PD40,0,40,40;PU;", False),
        (b"IN;SP1;PU0,0;PD40,0;PU40,40;PU;", False),
        (b"IN;SP1;PU0,0;PD40,0;PU;PU40,0;PD40,40;PU;", False),
    ],
)
def test_a_plot_says_where_the_lowered_pen_goes(other, is_same):
    plot = b"IN;SP1;PU0,0;PD40,0,40,40;PU;"
    assert (says_digest(plot, "hpgl") == says_digest(other, "hpgl")) is is_same


@pytest.mark.parametrize("kind", ["pdf", "png", "toml", "hpgl"])
def test_half_a_file_is_none(kind):
    data = files_of(kind)
    assert says_digest(data, kind) is not None
    assert says_digest(data[: len(data) // 2] + b"=", kind) is None


def chunk(name, held):
    return len(held).to_bytes(4, "big") + name + held + zlib.crc32(name + held).to_bytes(4, "big")


def test_a_remark_in_a_picture_is_not_seen_and_its_size_on_paper_is():
    data = files_of("png")
    with_text = data.replace(data[33:], chunk(b"tEXt", b"by\0Ada") + data[33:])
    with_size = data.replace(data[33:], chunk(b"pHYs", bytes(9)) + data[33:])
    assert says_digest(with_text, "png") == says_digest(data, "png")
    assert says_digest(with_size, "png") != says_digest(data, "png")


def test_a_number_of_a_page_is_seen_and_the_place_of_an_object_is_not():
    data = files_of("pdf")
    moved = data.replace(b"startxref\n", b"startxref\n1")
    assert says_digest(moved, "pdf") == says_digest(data, "pdf")
    larger = data.replace(b"/MediaBox [ 0 0 ", b"/MediaBox [ 0 1 ")
    assert larger != data
    assert says_digest(larger, "pdf") != says_digest(data, "pdf")


def test_a_report_says_the_same_in_any_order_and_with_whole_numbers_as_whole():
    one = {"height_mm": 60.0, "marks": [], "seconds": {"all": 1.0}}
    other = {"seconds": {}, "marks": [], "height_mm": 60}
    assert report_digest(one) == report_digest(other)
    assert report_digest(one) != report_digest({**one, "height_mm": 60.01})
