"""Films that a hand made differ from the rule: the kit says so, and its proof allows that and no more."""

import json
from functools import cache
from io import BytesIO

import pytest
from PIL import Image, ImageDraw

from core.cancel import NEVER
from core.findings import has_stop
from core.job.job import Job, Source
from core.kit.check import check_files
from core.kit.make import make_kit
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


@cache
def lettered_png():
    """A plaque with a thin bar, a slit, a dot beside its field and a pinhole, on white; 6 px a mm of 60."""
    picture = Image.new("RGB", (2400, 2400), "#ffffff")
    draw = ImageDraw.Draw(picture)
    draw.rounded_rectangle((240, 480, 2160, 1919), 120, "#2c6e91")
    draw.rectangle((480, 680, 1119, 1720), "#e9c46a")  # a field
    draw.rectangle((1120, 1180, 1599, 1191), "#e9c46a")  # a thin bar from it to another field, 0.5 mm
    draw.rectangle((1600, 1000, 1920, 1400), "#e9c46a")
    draw.rectangle((760, 960, 771, 1440), "#2c6e91")  # a slit of 0.5 mm
    draw.rectangle((1200, 800, 1227, 827), "#e9c46a")  # a dot
    draw.ellipse((560, 1520, 591, 1551), "#2c6e91")  # a pinhole
    out = BytesIO()
    picture.resize((600, 600), Image.Resampling.BOX).save(out, "PNG")
    return out.getvalue()


@cache
def lettered_kit(**choices):
    """Its kit, 60 mm high, the blue ground bare."""
    made = Job(source="plaque.png").with_choice("shape.height", "60 mm")
    made = made.with_choice("shape.colours", "#2c6e91 bare; #e9c46a film sun")
    for key, text in choices.items():
        made = made.with_choice(key.replace("__", "."), text)
    return make_kit(made, Source("plaque.png", lettered_png()), NEVER, lambda _stage: None)


FINE = {"film__stroke": "0.8 mm", "film__gap": "0.8 mm", "film__most_moved": "0.3 mm"}
ISLANDS = {"film__small_pieces": "joined", "film__small_openings": "filled"}


@pytest.mark.parametrize("choices", [FINE, ISLANDS, FINE | ISLANDS, FINE | ISLANDS | BEHIND | ROUND])
def test_what_was_moved_joined_and_filled_is_proven_from_the_bytes(choices):
    kit = lettered_kit(**choices)
    assert not has_stop(kit.findings)
    assert all(error["max"] <= 0.01 for error in kit.report["readback"]["film_error_mm"].values())
    assert check_files(kit.files)[1] == ()


def test_what_is_too_fine_is_told_and_then_mended():
    plain = {one.code for one in lettered_kit().findings}
    assert {"thin-stroke", "thin-gap", "tiny-piece", "tiny-opening"} <= plain
    mended = {one.code for one in lettered_kit(**FINE, **ISLANDS).findings}
    assert not {"thin-stroke", "thin-gap", "tiny-piece", "tiny-opening"} & mended


def test_each_is_listed_with_its_reason():
    why = [one["why"] for one in lettered_kit(**FINE, **ISLANDS).report["readback"]["excepted"]]
    assert {"grown", "opened", "joined", "filled"} <= set(why)


@pytest.mark.parametrize(
    ("field", "value"),
    [("joined", []), ("filled", []), ("fine", {"stroke_mm": 0, "gap_mm": 0, "most_mm": 0, "moved": []})],
)
def test_what_was_done_and_is_not_said_is_a_stop(field, value):
    kit = lettered_kit(**FINE, **ISLANDS)

    def unsaid(report):
        report["films"][0][field] = value

    assert "film-differs" in changed(kit, unsaid)


def test_an_edge_that_moved_by_more_than_the_stated_bound_is_a_stop():
    kit = lettered_kit(**FINE)

    def narrower(report):
        report["films"][0]["fine"]["most_mm"] = 0.1

    assert "film-differs" in changed(kit, narrower)


def test_a_stroke_said_to_be_wider_than_it_is_is_a_stop():
    kit = lettered_kit(**FINE)

    def boasted(report):
        fine = report["films"][0]["fine"]
        fine["stroke_mm"] = fine["gap_mm"] = 1.2
        for one in fine["moved"]:
            one["to_mm"] = 1.2

    assert "film-not-moved" in changed(kit, boasted)


def test_a_bridge_said_to_be_wider_than_it_is_is_a_stop():
    kit = lettered_kit(**ISLANDS)

    def boasted(report):
        report["films"][0]["joined"][0]["width_mm"] = 1.2

    assert "film-differs" in changed(kit, boasted)


@cache
def row_png():
    """A yellow plaque with a blue field and, too near its lower edge, a row of rings and bars."""
    picture = Image.new("RGB", (2400, 2400), "#ffffff")
    draw = ImageDraw.Draw(picture)
    draw.rounded_rectangle((240, 480, 2160, 1919), 120, "#e9c46a")
    draw.rectangle((480, 680, 1919, 1300), "#2c6e91")
    for k in range(5):
        x = 600 + 240 * k
        draw.rectangle((x, 1680, x + 119, 1904), "#8a1c1c")
        if k % 2:
            draw.rectangle((x + 40, 1740, x + 79, 1840), "#e9c46a")
    out = BytesIO()
    picture.resize((600, 600), Image.Resampling.BOX).save(out, "PNG")
    return out.getvalue()


@cache
def row_kit(**choices):
    """Its kit, 60 mm high, every colour a film."""
    made = Job(source="row.png").with_choice("shape.height", "60 mm")
    made = made.with_choice("shape.colours", "#2c6e91 film blue; #e9c46a film sun; #8a1c1c film red")
    for key, text in choices.items():
        made = made.with_choice(key.replace("__", "."), text)
    return make_kit(made, Source("row.png", row_png()), NEVER, lambda _stage: None)


MOVED, SCALED = {"film__lettering": "moved"}, {"film__lettering": "scaled"}


@pytest.mark.parametrize("choices", [MOVED, SCALED, MOVED | BEHIND | ROUND, SCALED | FINE])
def test_lettering_kept_whole_is_proven_from_the_bytes(choices):
    kit = row_kit(**choices)
    assert not has_stop(kit.findings)
    assert "lettering-whole" in {one.code for one in kit.findings}
    assert "moved" in [one["why"] for one in kit.report["readback"]["excepted"]]
    assert check_files(kit.files)[1] == ()


def test_lettering_is_never_clipped_silently():
    (told,) = [one for one in row_kit().findings if one.code == "lettering-clipped"]
    assert told.at is not None
    assert row_kit().report["lettering"] == []


def test_a_row_that_was_moved_and_is_not_said_to_be_is_a_stop():
    assert "film-differs" in changed(row_kit(**MOVED), lambda report: report.update(lettering=[]))


@pytest.mark.parametrize(("field", "value"), [("shift_mm", [0.0, 0.0]), ("scale", 0.98), ("ground", "blue")])
def test_a_row_that_lies_elsewhere_than_said_is_a_stop(field, value):
    found = changed(row_kit(**MOVED), lambda report: report["lettering"][0].update({field: value}))
    assert "film-differs" in found
    assert ("row-clipped" in found) is (field == "shift_mm")
