"""Films behind clear stock stand back from the tabs: from each by a millimetre, and from nothing else."""

import json

import pytest
import shapely
from pypdfium2 import PdfDocument

from core.cancel import NEVER
from core.kit.make import check_kit, make_kit
from core.proof.layers import read_layers
from tests.support.pictures import badge, job

BEHIND = {"film.side": "behind"}
INSET, BACK, WITHIN = 0.8, 1.0, 0.01


@pytest.fixture(scope="module")
def kit():
    return make_kit(job(**BEHIND), badge(), NEVER, lambda _stage: None)


@pytest.fixture(scope="module")
def front():
    return make_kit(job(), badge(), NEVER, lambda _stage: None)


@pytest.fixture(scope="module")
def several():
    return make_kit(
        job(**BEHIND, **{"stock.copies": "3", "shape.height": "40 mm"}), badge(), NEVER, lambda _stage: None
    )


def films_of(made):
    """All films of a kit in the frame, united."""
    mirror = made.report["frame"]["mirror_x"]
    paths = [one for one in made.report["files"] if one["role"] == "film-drawing" and one["format"] == "svg"]
    return shapely.union_all(
        [read_layers(made.files[one["path"]], "svg", mirror).area(f"film-{one['film']}") for one in paths]
    )


def nearest_film(made):
    """How near film comes to the middle of each tab on the wall, mm."""
    films = films_of(made)
    return [films.distance(shapely.Point(tab["at"])) for tab in made.report["program"]["tabs"]]


def codes(files):
    return {finding.code for finding in check_kit(files).findings if finding.level == "stop"}


def changed(made, change):
    report = json.loads(made.files["report.json"])
    change(report)
    return {**made.files, "report.json": json.dumps(report).encode()}


def test_behind_no_film_comes_nearer_to_a_tab_than_the_inset_and_a_millimetre(kit, front):
    assert min(nearest_film(kit)) >= INSET + BACK - WITHIN
    assert min(nearest_film(front)) <= INSET + WITHIN
    assert front.report["reliefs"] == []


def test_each_copys_films_stand_back_from_its_own_tabs(several):
    assert len(several.report["program"]["tabs"]) == 3 * len(several.report["reliefs"]) > 0
    assert min(nearest_film(several)) >= INSET + BACK - WITHIN
    assert not codes(several.files)


def test_the_places_are_told_with_their_length_and_the_kit_is_proven(kit):
    told = [one for one in kit.report["readback"]["excepted"] if one["why"] == "relief"]
    assert 0 < len(told) <= len(kit.report["reliefs"]) == len(kit.report["program"]["tabs"])
    wall = kit.report["program"]["tabs"][0]["wall_mm"]
    assert all(one["size_mm"] >= wall for one in told)
    assert not codes(kit.files)


def test_a_tab_whose_film_does_not_stand_back_is_a_stop(kit):
    found = codes(changed(kit, lambda report: report["reliefs"].pop()))
    assert {"relief-missing", "film-differs"} <= found


def test_a_relief_too_small_is_a_stop(kit):
    def smaller(report):
        for one in report["reliefs"]:
            one["reach_mm"] -= 0.05

    assert {"relief-missing", "film-outside"} & codes(changed(kit, smaller))


def test_a_relief_that_takes_more_film_than_its_tab_needs_is_a_stop(kit):
    def wider(report):
        for one in report["reliefs"]:
            one["reach_mm"] += 0.5

    def longer(report):
        for one in report["reliefs"]:
            one["to"] = [2.0 * b - a for a, b in zip(one["at"], one["to"], strict=True)]

    assert "relief-missing" in codes(changed(kit, wider))
    assert "relief-missing" in codes(changed(kit, longer))


def test_a_relief_without_a_tab_is_a_stop(kit, front):
    relief = kit.report["reliefs"][0]
    assert "relief-without-tab" in codes(changed(front, lambda report: report.update(reliefs=[relief])))


@pytest.mark.parametrize("choices", [{"part.hold": "skin"}, {"stock.material": "opaque cast acrylic",
                                                              "film.side": "front"}])  # fmt: skip
def test_where_no_tab_lies_level_with_film_none_stands_back(choices):
    made = make_kit(job(**{**BEHIND, **choices}), badge(), NEVER, lambda _stage: None)
    assert made.report["reliefs"] == []


def test_the_order_of_work_says_that_the_film_stands_back(kit, front):
    def words(made):
        path = next(one["path"] for one in made.report["files"] if one["role"] == "job-sheet")
        pages = PdfDocument(made.files[path])
        return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)

    assert "where the film stands 1 mm back" in words(kit)
    assert "stands 1 mm back" not in words(front)


def test_a_kit_that_has_no_program_is_not_told_that_its_reliefs_have_no_tabs():
    """The stock is too small, which is a stop; films stood back from the tabs that there would be."""
    made = make_kit(job(**BEHIND, **{"stock.width": "60 mm"}), badge(), NEVER, lambda _stage: None)
    assert not any(one["role"] == "part-program" for one in made.report["files"])
    assert made.report["reliefs"]
    assert not codes(made.files) & {"relief-without-tab", "relief-missing"}
    report = json.loads(made.files["report.json"])
    report["reliefs"][0]["reach_mm"] += 0.5
    assert "relief-missing" in codes({**made.files, "report.json": json.dumps(report).encode()})
