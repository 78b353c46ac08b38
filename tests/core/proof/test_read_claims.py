import json

import pytest

from core.errors import UnreadableFile
from core.proof.read_claims import claims_of
from core.proof.report_fields import report_values
from tests.core.proof.claimed import claims, report


def test_a_report_says_what_it_claims():
    said = claims()
    assert (said.height_mm, said.width_mm, said.mirror_x) == (20.0, 40.0, None)
    assert [mark.at for mark in said.marks] == [(5.0, 5.0), (55.0, 5.0), (5.0, 35.0)]
    assert said.program.tabs[0].neck_mm == 3.0
    assert said.machine.travel_mm == (300.0, 200.0, 50.0)


def test_the_stocks_top_is_at_0_or_above_the_board_what_lies_on_it():
    assert claims().top_z_mm == 0.0
    assert claims(frame__z_zero="spoil board").top_z_mm == pytest.approx(3.2)


def test_files_are_found_by_their_role_and_film():
    assert [file.path for file in claims().files_of("film-drawing")] == ["sky.svg"]
    assert [file.path for file in claims().files_of("film-drawing", "sky")] == ["sky.svg"]
    assert claims().files_of("film-drawing", "sea") == ()
    assert claims().files_of("part-program") == ()


def test_a_kit_without_a_program_claims_none():
    assert claims(program=None).program is None
    assert claims(frame__mirror_x=30.5).mirror_x == 30.5


def paths_to_everything(values, path=()):
    """The way to every field that the proof needs."""
    for key, value in values.items() if isinstance(values, dict) else enumerate(values):
        yield (*path, key)
        if isinstance(value, (dict, list)):
            yield from paths_to_everything(value, (*path, key))


MAY_BE_MISSING = {("frame", "mirror_x"), ("program",), ("files", 1, "film")}


@pytest.mark.parametrize("way", list(paths_to_everything(report())), ids=str)
def test_a_field_that_is_missing_or_of_another_kind_is_named(way):
    for wrong in (True, float("nan"), {}, [[]]):
        values = report()
        inner = values
        for key in way[:-1]:
            inner = inner[key]
        inner[way[-1]] = wrong
        with pytest.raises(UnreadableFile) as refused:
            claims_of(values)
        last = next(key for key in reversed(way) if isinstance(key, str))
        assert last in str(refused.value) or "another version" in str(refused.value)
        if isinstance(inner, dict) and way not in MAY_BE_MISSING:
            del inner[way[-1]]
            with pytest.raises(UnreadableFile):
                claims_of(values)


@pytest.mark.parametrize("data", [b"", b"[1]", b"null", b"{", b"\xff\xfe", b"[" * 100_000, b"1e999"])
def test_what_is_no_report_is_one_sentence(data):
    with pytest.raises(UnreadableFile, match=r"report\.json"):
        claims_of(report_values(data))


def test_a_report_of_another_version_is_refused():
    with pytest.raises(UnreadableFile, match="another version"):
        claims_of(report_values(json.dumps(report(report=2)).encode()))


def test_a_word_that_nobody_knows_makes_the_report_unreadable():
    rim = {"how": "eaten", "widest_mm": 3.0, "runs": []}
    with pytest.raises(UnreadableFile, match="how is not one of moved, thinned, dropped"):
        claims(films=[{"name": "sky", "inset_mm": 1.0, "sheet_box_mm": [50.0, 30.0], "rim": rim}])
