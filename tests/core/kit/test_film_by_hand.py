"""Films that a hand made differ from the rule: the kit says so, and its proof allows that and no more."""

import json

import pytest

from core.findings import has_stop
from core.kit.check import check_files
from core.kit.report_bytes import report_bytes
from tests.support.pictures import badge_kit

DROPPED = {"film__dropped": "138,174"}
TIP = {"film__tips": "186,36 0.2 mm"}


def film_of(kit, name):
    return next(film for film in kit.report["films"] if film["name"] == name)


BEHIND = {"film__overlap": "0 mm", "film__side": "behind"}
ROUND = {"film__corner_radius": "0.7 mm"}


@pytest.mark.parametrize(
    "choices",
    [DROPPED, TIP, ROUND, DROPPED | TIP | ROUND | BEHIND],
)
def test_the_kit_is_proven_with_what_was_asked(choices):
    kit = badge_kit(**choices)
    assert not has_stop(kit.findings)
    assert all(error["max"] <= 0.01 for error in kit.report["readback"]["film_error_mm"].values())
    assert check_files(kit.files)[1] == ()


def test_a_film_whose_only_piece_is_left_out_is_gone():
    kit, whole = badge_kit(**DROPPED), badge_kit()
    assert len(kit.report["films"]) == len(whole.report["films"]) - 1


def test_a_tip_of_its_own_is_listed_with_inset_and_reach():
    (tip,) = badge_kit(**TIP).report["tips"]
    assert tip["inset_mm"] == 0.2
    assert 0.8 < tip["reach_mm"] < 3.0


def changed(kit, change):
    """What check finds when the report claims something else."""
    report = json.loads(kit.files["report.json"])
    change(report)
    found = check_files(dict(kit.files) | {"report.json": report_bytes(report)})[1]
    return {finding.code for finding in found} - {"report-changed"}


def test_a_tip_that_is_not_stated_is_film_out_of_the_face():
    assert {"film-outside", "film-differs"} <= changed(badge_kit(**TIP), lambda report: report.pop("tips"))


def test_a_claim_of_a_piece_that_is_not_there_changes_nothing_of_the_film():
    kit = badge_kit(stock__copies="1", film__smallest_piece="1 mm2")
    name = kit.report["films"][1]["name"]
    piece = {"at": [1.0, 1.0], "area_mm2": 5.0}
    assert changed(kit, lambda report: report["films"][1]["dropped"].append(piece)) == set()  # no such piece
    assert film_of(kit, name)["dropped"] == []


def test_each_rounded_corner_is_listed_and_unsaid_it_is_a_stop():
    kit, plain = badge_kit(**ROUND), badge_kit()
    rounded = [one for one in kit.report["readback"]["excepted"] if one["why"] == "rounded"]
    bit = [one for one in plain.report["readback"]["excepted"] if one["why"] == "rounded"]
    assert len(rounded) > len(bit)

    def unsaid(report):
        for film in report["films"]:
            film["corner_mm"] = 0.0

    assert "film-differs" in changed(kit, unsaid)
