"""Programs for every controller: whatever the dialect, the kit is proven from the bytes."""

import itertools

import pytest

from core.cancel import NEVER
from core.kit.make import check_kit, make_kit
from tests.support.pictures import badge, job


def kit(**choices):
    return make_kit(job(**choices), badge(), NEVER, lambda _stage: None)


def program(made, role="part-program"):
    path = next(file["path"] for file in made.report["files"] if file["role"] == role)
    return made.files[path]


def stops(findings):
    return [found.code for found in findings if found.level == "stop"]


@pytest.mark.parametrize(
    "choices",
    [
        {"machine__arcs": "no", "machine__units": "inch", "machine__ending": "M30"},
        {"machine__line_numbers": "yes", "machine__per_cent": "yes", "machine__line_ends": "CRLF"},
        {"machine__comments": "no", "machine__line_length": "60", "machine__decimals": "5"},
        {"machine__units": "inch", "machine__decimals": "4", "machine__dwell_unit": "ms"},
    ],
    ids=["inch chords", "numbered", "bare", "inch arcs"],
)
def test_a_kit_in_any_dialect_is_proven(choices):
    made = kit(**choices)
    assert stops(made.findings) == []
    assert made.report["readback"]["edge_error_mm"]["max"] <= 0.01
    assert made.report["readback"]["rules"]["broken"] == []


def test_each_dialect_choice_is_seen_in_the_bytes():
    plain = program(kit())
    asked = program(
        kit(
            machine__line_numbers="yes",
            machine__per_cent="yes",
            machine__line_ends="CRLF",
            machine__comments="no",
            machine__line_length="100",
        )
    )
    assert b"\r" not in plain
    assert b"(" in plain
    lines = asked.split(b"\r\n")
    assert lines[0] == b"%" == lines[-2]
    assert lines[1].startswith(b"N10 ")
    assert b"(" not in asked
    assert b"\n" not in asked.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 100


def test_the_air_cut_is_the_program_raised_and_is_proven_again():
    made = kit(cutting__air_cut="20 mm")
    assert stops(made.findings) == []
    air = program(made, "air-cut")
    assert b"air cut" in air.splitlines()[0]
    heights = [float(word[1:]) for word in air.decode().split() if word[0] == "Z" and word[1:2].isdigit()]
    assert min(heights) > 15.0
    path = next(file["path"] for file in made.report["files"] if file["role"] == "air-cut")
    sunk = {**made.files, path: program(made)}
    assert "air-differs" in stops(check_kit(sunk).findings)
    lost = {name: data for name, data in made.files.items() if name != path}
    assert stops(check_kit(lost).findings)


def test_an_air_cut_that_would_meet_the_stock_is_a_stop():
    made = kit(cutting__air_cut="3 mm")
    assert "air-cut-too-low" in stops(made.findings)
    assert made.report["program"] is None


def test_the_line_limit_holds_for_every_length():
    for limit, numbered in itertools.product(("60", "70", "256"), ("yes", "no")):
        made = program(kit(machine__line_length=limit, machine__line_numbers=numbered))
        assert max(map(len, made.splitlines())) <= int(limit)
