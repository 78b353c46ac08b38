"""A second picture through the whole kit: its films inside the part, the proof, the Job made again."""

import tomllib
from dataclasses import replace
from functools import cache
from io import BytesIO

import pytest
from PIL import Image, ImageDraw

from core.build import Look, build, build_by
from core.cancel import NEVER
from core.errors import UnreadableFile
from core.findings import has_stop
from core.job.job import Source
from core.job.saved import read_job
from core.keep import Keeper
from core.kit.kit import KitNames
from core.kit.make import check_kit, job_name, make_kit, written_of
from core.outline.measure import contains
from core.shown import shown_of
from tests.support.pictures import TIMES, badge, job


@cache
def painted_over(size: int = 300, *, strange: bool = False) -> Source:
    """The badge with its disc painted over by a bar, without its step: or something else altogether."""
    picture = Image.new("RGB", (size * TIMES, size * TIMES), "#ffffff")
    draw = ImageDraw.Draw(picture)
    u = size * TIMES / 100.0
    if strange:
        draw.polygon([(10 * u, 20 * u), (90 * u, 30 * u), (50 * u, 60 * u), (30 * u, 90 * u)], "#2c6e91")
    else:
        draw.rounded_rectangle((18 * u, 12 * u, 82 * u, 88 * u), 9 * u, "#2c6e91")
        draw.rectangle((62 * u, 10 * u, 90 * u, 34 * u), "#ffffff")
        draw.rectangle((30 * u, 50 * u, 62 * u, 58 * u), "#d1495b")
    out = BytesIO()
    picture.resize((size, size), Image.Resampling.BOX).save(out, "PNG")
    return Source("painted.png", out.getvalue())


def with_second(**how) -> Source:
    return replace(badge(), face=painted_over(**how))


def two(**choices: str):
    return replace(job(**choices), face="painted.png")


@pytest.fixture(scope="module")
def kit():
    return make_kit(two(), with_second(), NEVER, lambda _stage: None)


@pytest.fixture(scope="module")
def first_made():
    """The Build of the first picture alone."""
    return build(job(), badge())


@pytest.fixture(scope="module")
def made():
    """The Build with a second picture."""
    return build(two(), with_second())


def codes(made):
    return {finding.code for finding in made.findings}


def test_the_films_are_those_of_the_second_picture(kit):
    assert {film["name"] for film in kit.report["films"]} == {"teal", "indianred"}
    assert kit.report["second"]["matched"] > 0.7


def test_the_part_is_that_of_the_first_picture_alone(kit, first_made):
    files = written_of(first_made, KitNames("badge", 60.0)).files()
    programs = {file.path: file.data for file in files if file.format == "rs274"}
    assert programs
    assert programs == {path: kit.files[path] for path in programs}


def test_every_film_is_proven_to_be_its_patch_inside_the_face(kit):
    assert max(edge["max"] for edge in kit.report["readback"]["film_error_mm"].values()) <= 0.01
    assert not any(finding.level == "stop" for finding in check_kit(kit.files).findings)


def test_the_kit_holds_both_pictures_and_its_job_makes_it_again(kit):
    sources = [file["path"] for file in kit.report["files"] if file["role"] == "source"]
    assert len(set(sources)) == 2
    saved = read_job(kit.files["badge-60mm.samecut"].decode(), "badge-60mm.samecut")
    picture, face = (kit.files[entry.path] for entry in (saved.picture, saved.face))
    again = build(saved.job, saved.source(picture, "it", face))
    files = written_of(again, KitNames(job_name(again.job, again.source), 60.0)).files()
    assert len(files) > 6
    assert {file.path: file.data for file in files} == {file.path: kit.files[file.path] for file in files}


def test_another_second_picture_under_a_saved_job_is_refused(kit):
    saved = read_job(kit.files["badge-60mm.samecut"].decode(), "it")
    assert tomllib.loads(kit.files["badge-60mm.samecut"].decode())["source"]["face_name"] == "painted.png"
    with pytest.raises(UnreadableFile, match="face_sha256"):
        saved.source(badge().data, "it", b"other")


def test_a_second_picture_of_another_size_gives_films_in_the_same_place(kit, made):
    large = build(two(), with_second(size=420), made)
    for one, other in zip(kit.report["films"], large.films.films, strict=True):
        assert other.area() == pytest.approx(one["area_mm2"], rel=0.02)  # drawn a quarter pixel larger


def test_a_stranger_stops_the_program_and_says_so(made):
    strange = build(two(), with_second(strange=True), made)
    assert "second-strange" in codes(strange)
    assert has_stop(strange.findings)


def test_pairs_of_points_lay_a_stranger_by_hand(made):
    pairs = "30,60 = 60,60; 270,90 = 240,60; 150,180 = 150,240"
    by_hand = build(two(film__pairs=pairs), with_second(strange=True), made)
    assert by_hand.laid.second.match.by_hand
    assert {"second-doubtful", "second-pairs-apart"} <= codes(by_hand)
    assert "second-strange" not in codes(by_hand)


def test_a_colour_of_the_second_picture_can_be_left_bare(made):
    bare = build(two(film__colours="#d1495b bare"), with_second(), made)
    assert [film.name for film in bare.films.films] == ["teal"]


def test_a_single_patch_of_the_second_picture_is_named_in_its_own_pixels(made):
    named = build(two(film__patches="140,162 film bar"), with_second(), made)
    assert "bar" in {film.name for film in named.films.films}


def test_no_film_leaves_the_face(made):
    for film in made.films.films:
        for region in film.regions:
            assert contains(made.as_cut, region.outer.points).all()


def test_a_copy_of_a_picture_that_is_levelled_and_cropped_is_levelled_and_cropped_with_it():
    how = {"picture__level": "4 deg", "picture__crop": "20,10; 290,292"}
    made = build(two(**how, film__patches="140,162 film bar"), with_second())
    assert made.laid.second.match.as_it_lies
    assert made.laid.second.size == (made.touched.picture.width, made.touched.picture.height)
    assert "bar" in {film.name for film in made.films.films}


def test_the_films_of_a_first_look_come_of_the_second_picture_too():
    job = two()
    keeper = Keeper(NEVER, job.woken_by)
    look = build_by(keeper, job, with_second(), Look.FIRST)
    assert {film.name for film in look.films.films} == {"teal", "indianred"}
    assert shown_of(look).film_patches is look.laid.second.patches


@pytest.mark.parametrize(
    ("key", "text", "stages"),
    [
        (
            "film.picture_ground",
            "#d1495b",
            {"second-colours", "second-trace", "match", "second-patches", "films"},
        ),
        ("film.match", "outline", {"match", "second-patches", "films"}),
        ("film.colours", "#d1495b bare", {"second-patches", "films"}),
        ("film.patches", "140,162 film bar", {"second-patches", "films"}),
    ],
)
def test_a_choice_about_the_second_picture_wakes_what_it_changes_and_no_more(made, key, text, stages):
    told: list[str] = []
    changed = two().with_choice(key, text)
    kept = build(changed, with_second(), made, tell=told.append)
    anew = build(changed, with_second())
    assert set(told) == stages
    assert kept.findings == anew.findings
    assert [film.area() for film in kept.films.films] == [film.area() for film in anew.films.films]


def test_what_is_kept_of_a_second_picture_follows_the_first_one_s_choices(made):
    changed = two(picture__crop="20,10; 290,292", shape__height="45 mm")
    kept, anew = build(changed, with_second(), made), build(changed, with_second())
    assert kept.findings == anew.findings
    assert [film.area() for film in kept.films.films] == [film.area() for film in anew.films.films]
