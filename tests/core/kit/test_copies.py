"""A kit with several copies: the report speaks of one piece and of the sheet, and every copy is proven."""

import re

import pytest
import shapely

from core.findings import has_stop
from core.kit.check import check_files
from core.proof.copies import Motion, nearness_findings
from tests.support import damage as d
from tests.support.pictures import badge_kit

PART = "badge-30mm-part-Ztop.nc"
SVG = "badge-30mm-part.svg"


@pytest.fixture(scope="module")
def kit():
    return badge_kit(shape__height="30 mm", stock__copies="4", stock__nesting="tight")


def stops(files):
    return {finding.code for finding in check_files(files)[1] if finding.level.value == "stop"}


def test_the_report_speaks_of_one_piece_and_of_the_sheet(kit):
    one = badge_kit(shape__height="30 mm").report
    report = kit.report
    assert not has_stop(kit.findings)
    assert report["pieces"] == 4
    for key in ("height_mm", "width_mm", "outline"):
        assert report[key] == one[key]
    assert [film["pieces"] for film in report["films"]] == [film["pieces"] for film in one["films"]]
    assert len(report["program"]["tabs"]) == 4 * len(one["program"]["tabs"])
    assert len(report["marks"]) == 3
    assert report["used"]["parts_mm2"] == pytest.approx(4 * one["used"]["parts_mm2"])
    assert report["readback"]["height_error_mm"] < 0.005
    assert report["readback"]["edge_error_mm"]["max"] < 0.01


def test_every_copy_is_drawn_and_cut(kit):
    drawing = kit.files[SVG].decode()
    part = drawing.partition('<g id="part"')[2].partition("</g>")[0]
    assert part.count("<path") == 4 * badge_kit().files["badge-60mm-part.svg"].decode().partition(
        '<g id="part"'
    )[2].partition("</g>")[0].count("<path")
    program = kit.files[PART].decode()
    assert {f"copy {number}" for number in range(1, 5)} == set(re.findall(r"copy \d", program))


def test_a_kit_with_copies_that_nobody_touched_is_good(kit):
    assert stops(kit.files) == set()


def test_one_copy_that_was_moved_in_a_drawing_is_a_stop(kit):
    moved = dict(kit.files) | {SVG: d.in_group(kit.files[SVG], "as-cut", d.first_path_moved(0.05))}
    assert "copies-differ" in stops(moved)


def test_a_depth_that_was_changed_in_one_copy_is_a_stop(kit):
    text = kit.files[PART].decode()
    head, mark, tail = text.partition("(copy 3, edge, last lap")
    assert mark
    changed = tail.replace("Z-3.3", "Z-2.9", 1)
    assert changed != tail
    assert stops(dict(kit.files) | {PART: (head + mark + changed).encode()})


def test_a_copy_that_is_not_cut_at_all_is_a_stop(kit):
    text = kit.files[PART].decode()
    begin = text.index("(copy 3")
    end = min(found for name in ("(copy 1", "(copy 2", "(copy 4") if (found := text.find(name, begin)) > 0)
    assert stops(dict(kit.files) | {PART: (text[:begin] + text[end:]).encode()})


def test_a_program_in_inches_is_proven_copy_by_copy_too():
    made = badge_kit(shape__height="30 mm", stock__copies="3", machine__units="inch")
    assert not has_stop(made.findings)


@pytest.mark.parametrize(("apart", "told"), [(41.9, ["copies-too-near"]), (42.1, [])])
def test_copies_nearer_than_the_bit_are_a_stop(apart, told):
    ways = (Motion(1.0, (0.0, 0.0)), Motion(1.0, (apart, 0.0)))
    assert [one.code for one in nearness_findings(shapely.box(0, 0, 40, 20), ways, 2.0)] == told
