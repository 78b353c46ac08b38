"""The stair of a gauge in the program's bytes: as deep as claimed, all over, or a stop."""

import json

import pytest

from core.cancel import NEVER
from core.job.job import Job
from core.kit.gauge import gauge_job
from core.kit.make import check_kit, make_kit


@pytest.fixture(scope="module")
def kit():
    return make_kit(*gauge_job(Job()), NEVER, lambda _stage: None)


def program_of(kit):
    return next(file["path"] for file in kit.report["files"] if file["role"] == "part-program")


def codes(files):
    return {finding.code for finding in check_kit(files).findings if finding.level == "stop"}


def test_the_steps_are_cut_before_anything_is_freed_and_are_as_deep_as_said(kit):
    assert [step["depth_mm"] for step in kit.report["program"]["stair"]] == [0.5, 1.0, 1.5, 2.0]
    text = kit.files[program_of(kit)].decode()
    assert 0 < text.index("(step of 0.5 mm)") < text.index("(step of 2 mm)") < text.index("(opening")
    assert not codes(kit.files)


@pytest.mark.parametrize(("depth", "claimed"), [(1.0, 1.01), (2.0, 1.5)])
def test_a_step_of_another_depth_than_claimed_is_a_stop(kit, depth, claimed):
    report = json.loads(kit.files["report.json"])
    for step in report["program"]["stair"]:
        if step["depth_mm"] == depth:
            step["depth_mm"] = claimed
    assert "step-differs" in codes({**kit.files, "report.json": json.dumps(report).encode()})


def test_a_step_that_is_cut_shallower_somewhere_is_a_stop(kit):
    path = program_of(kit)
    lines = kit.files[path].decode().splitlines()
    first = lines.index("(step of 1.5 mm)")
    last = next(row for row in range(first + 1, len(lines)) if lines[row].startswith("("))
    changed = [line.replace("Z-1.5", "Z-1.45") for line in lines[first:last]]
    assert changed != lines[first:last]
    data = "\n".join([*lines[:first], *changed, *lines[last:]]).encode() + b"\n"
    assert "step-differs" in codes({**kit.files, path: data})


def test_the_gauges_picture_at_another_size_is_no_gauge():
    job, source = gauge_job(Job())
    made = make_kit(job.with_choice("shape.height", "60 mm"), source, NEVER, lambda _stage: None)
    assert made.report["program"]["stair"] == []
    assert "gauge-page" not in {file["role"] for file in made.report["files"]}
    assert not [one for one in made.findings if one.level == "stop"]
