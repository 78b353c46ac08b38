"""Break cuts in the program's bytes: as claimed, or a stop that says what is wrong."""

import json
import re

import pytest

from core.cancel import NEVER
from core.kit.make import check_kit, make_kit
from tests.campaigns.router_jobs import router_job, trial
from tests.support.pictures import badge, job


@pytest.fixture(scope="module")
def kit():
    return make_kit(job(), badge(), NEVER, lambda _stage: None)


@pytest.fixture(scope="module")
def several():
    return make_kit(
        job(**{"stock.copies": "4", "shape.height": "30 mm"}), badge(), NEVER, lambda _stage: None
    )


def program_of(kit):
    return next(file["path"] for file in kit.report["files"] if file["role"] == "part-program")


def codes(files):
    return {finding.code for finding in check_kit(files).findings if finding.level == "stop"}


def with_report(kit, change):
    report = json.loads(kit.files["report.json"])
    change(report)
    return {**kit.files, "report.json": json.dumps(report).encode()}


def with_lines(kit, change):
    path = program_of(kit)
    lines = kit.files[path].decode().splitlines()
    changed = change(lines)
    assert changed != lines
    return {**kit.files, path: "\n".join(changed).encode() + b"\n"}


def block(lines):
    """First and last line of the break cuts."""
    first = lines.index("(break cut)")
    return first, next(row for row in range(first + 1, len(lines)) if lines[row].startswith("("))


def deepest(lines, z):
    """The break cuts' lowest level moved to z."""
    first, last = block(lines)
    return [
        *lines[:first],
        *(re.sub(r"Z-2(?=\s|$)", f"Z{z}", line) for line in lines[first:last]),
        *lines[last:],
    ]


def test_they_are_claimed_and_proven_one_piece_or_several(kit, several):
    assert [cut["left_mm"] for cut in kit.report["program"]["breaks"]] == [1.0, 1.0]
    assert len(several.report["program"]["breaks"]) > 2
    assert not codes(kit.files)
    assert not codes(several.files)


@pytest.mark.parametrize("which", ["kit", "several"])
@pytest.mark.parametrize(("z", "code"), [("-3.3", "break-too-deep"), ("-2.05", "break-too-deep"),
                                          ("-1.95", "break-too-shallow")])  # fmt: skip
def test_one_that_goes_through_or_is_of_another_depth_is_a_stop(which, z, code, request):
    made = request.getfixturevalue(which)
    assert code in codes(with_lines(made, lambda lines: deepest(lines, z)))


def test_one_that_goes_through_is_called_so(kit):
    found = check_kit(with_lines(kit, lambda lines: deepest(lines, "-3.3"))).findings
    assert any("goes through where 1 mm" in one.text for one in found if one.code == "break-too-deep")


def test_one_that_the_program_lacks_is_a_stop(kit):
    def without(lines):
        first, last = block(lines)
        return [*lines[:first], *lines[last:]]

    assert "break-too-shallow" in codes(with_lines(kit, without))


def test_one_that_leaves_less_than_holds_the_frame_is_a_stop_though_it_is_claimed(kit):
    def claim_less(report):
        for cut in report["program"]["breaks"]:
            cut["left_mm"] = 0.4

    files = with_report(kit, claim_less)
    files[program_of(kit)] = with_lines(kit, lambda lines: deepest(lines, "-2.6"))[program_of(kit)]
    assert "break-too-deep" in codes(files)


@pytest.mark.parametrize(
    ("left", "z", "code"), [(0.8, "-2.2", "break-too-deep"), (1.5, "-1.5", "break-too-shallow")]
)
def test_one_that_leaves_less_or_more_than_one_should_is_a_stop_though_it_is_claimed(kit, left, z, code):
    def claim(report):
        for cut in report["program"]["breaks"]:
            cut["left_mm"] = left

    files = with_report(kit, claim)
    files[program_of(kit)] = with_lines(kit, lambda lines: deepest(lines, z))[program_of(kit)]
    assert code in codes(files)


def test_one_that_is_cut_when_the_part_is_free_already_is_a_stop(kit):
    def late(lines):
        first, last = block(lines)
        end = next(row for row in range(len(lines) - 1, 0, -1) if lines[row].startswith("G0 Z"))
        return [*lines[:first], *lines[last : end + 1], *lines[first:last], *lines[end:]]

    assert "break-out-of-order" in codes(with_lines(kit, late))


def test_one_that_is_cut_before_the_marks_is_a_stop(kit):
    def early(lines):
        first, last = block(lines)
        mark = next(row for row, line in enumerate(lines) if line == "(mark)")
        return [*lines[:mark], "F80", *lines[first:last], "G0 Z5.1", *lines[mark:first], *lines[last:]]

    assert "break-out-of-order" in codes(with_lines(kit, early))


def test_one_that_is_cut_but_not_claimed_is_a_stop(kit, several):
    for made in (kit, several):
        files = with_report(made, lambda report: report["program"].update(breaks=[]))
        assert "runs-off-the-sheet" in codes(files)


def _moved_end(report):
    cut = report["program"]["breaks"][0]
    middle = [(a + b) / 2 for a, b in zip(cut["from"], cut["to"], strict=True)]
    cut["to"] = middle


def _mark_on_it(report):
    cut = report["program"]["breaks"][0]
    report["marks"][1]["at"] = [(a + b) / 2 for a, b in zip(cut["from"], cut["to"], strict=True)]


def _tab_on_it(report):
    report["program"]["tabs"][0]["at"] = report["program"]["breaks"][0]["from"]


def _hinge_on_it(report):
    x, y = report["program"]["breaks"][0]["to"]
    wide, deep = report["stock"]["width_mm"], report["stock"]["depth_mm"]
    sides = {"left": x, "right": wide - x, "near": y, "far": deep - y}
    report["frame"]["hinge"] = {"side": min(sides, key=sides.get), "width_mm": 8.0}


def _begins_nowhere(report):
    cut = report["program"]["breaks"][0]
    cut["from"] = [(a + 2 * b) / 3 for a, b in zip(cut["from"], cut["to"], strict=True)]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (_moved_end, "break-ends-nowhere"),
        (_begins_nowhere, "break-begins-nowhere"),
        (_mark_on_it, "break-crosses-mark"),
        (_tab_on_it, "break-crosses-tab"),
        (_hinge_on_it, "break-crosses-hinge"),
    ],
)
def test_one_that_lies_where_it_must_not_is_a_stop(kit, change, code):
    assert code in codes(with_report(kit, change))


def test_tabs_as_high_as_the_bottom_that_is_left_are_still_told_from_it():
    made = make_kit(job(**{"part.tab_height": "1.2 mm"}), badge(), NEVER, lambda _stage: None)
    assert len(made.report["program"]["breaks"]) == 2
    assert not codes(made.files)


def test_the_parts_own_passes_where_a_cut_begins_are_none_of_it():
    assert trial(router_job(11, 14)) == ("", "program")
