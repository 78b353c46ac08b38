"""Since last time: what changed, and what the earlier program would do to this sheet."""

import copy
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.build import build
from core.cancel import NEVER
from core.kit.also import Also
from core.kit.known import known_of, said_limits
from core.kit.make import make_kit
from core.kit.older_kit import report_in
from core.kit.since import said_since, since
from tests.support.pictures import badge, badge_kit, job


@pytest.fixture(scope="module")
def thick():
    return badge_kit(stock__thickness="3.02 mm").report


@pytest.fixture(scope="module")
def thin():
    return badge_kit(stock__thickness="2.86 mm").report


def test_a_thinner_sheet_takes_the_difference_off_the_earlier_tabs(thick, thin):
    """Tabs of 0.80 mm in 3.02; the same program in 2.86 leaves 0.80 - 0.16 = 0.64."""
    found = since(thick, thin)
    assert found.tabs_mm == pytest.approx((0.8, 0.64))
    changes, warning = said_since(found)
    assert changes.startswith("sheet was 3.02, now 2.86 mm")
    assert "tabs 0.64 mm tall, not 0.80" in warning


def test_a_much_thinner_sheet_has_no_tab_and_a_thicker_one_is_not_cut_through(thick):
    gone = since(thick, badge_kit(stock__thickness="2.2 mm").report)
    through = since(thick, badge_kit(stock__thickness="3.4 mm").report)
    assert "no tab at all" in said_since(gone)[1]
    assert (gone.is_through, through.is_through) == (True, False)
    assert "not cut this sheet through" in said_since(through)[1]


def test_zeroed_on_the_board_the_earlier_tabs_come_out_as_meant():
    board = {"stock__z_zero": "board"}
    earlier = badge_kit(stock__thickness="3.02 mm", **board).report
    found = since(earlier, badge_kit(stock__thickness="2.86 mm", **board).report)
    assert found.tabs_mm is None
    assert said_since(found)[1] == ""


def test_what_is_the_same_is_not_told(thick):
    assert since(thick, thick) is None
    assert since(None, thick) is None
    assert said_since(None) == ("", "")


def test_another_picture_is_not_compared(thick, thin):
    other = copy.deepcopy(thick)
    next(row for row in other["files"] if row["role"] == "source")["sha256"] = "0" * 64
    assert since(other, thin) is None


def test_other_choices_are_told_by_number(thick):
    found = since(
        thick, badge_kit(stock__thickness="3.02 mm", cutting__feed="350 mm/min", film__inset="1 mm").report
    )
    names = {one.name: (one.was, one.now) for one in found.changes}
    assert names["feed"] == (400.0, 350.0)
    assert any(name.endswith("inset") and values == (0.8, 1.0) for name, values in names.items())
    assert found.tabs_mm is None


JUNK = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=5) | st.just(10**400),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
)


@given(st.data())
def test_an_earlier_report_that_somebody_changed_does_no_harm(thick, thin, data):
    earlier = json.loads(json.dumps(thick))
    for _ in range(data.draw(st.integers(1, 4))):
        place = earlier
        while True:
            key = data.draw(st.sampled_from(sorted(place) if isinstance(place, dict) else range(len(place))))
            if isinstance(place[key], dict | list) and place[key] and data.draw(st.booleans()):
                place = place[key]
                continue
            place[key] = data.draw(JUNK)
            break
    found = since(earlier, thin)
    assert found is None or all(isinstance(text, str) for text in said_since(found))


def test_a_kit_made_over_an_earlier_one_says_what_changed(thick):
    kit = make_kit(job(stock__thickness="2.86 mm"), badge(), NEVER, lambda _stage: None, Also(earlier=thick))
    assert kit.report["since"]["changed"][0] == {"name": "sheet", "was": 3.02, "now": 2.86}
    assert kit.report["since"]["earlier_tabs_mm"] == [0.8, 0.64]
    assert badge_kit().report["since"] is None


def test_limits_are_said_when_they_are_sought():
    made = build(job(), badge())
    known = known_of(made, Also(with_limits=True), {}, NEVER)
    said = said_limits(known)
    assert f"{known.limits.smallest.height_mm:.1f} to {known.limits.largest.height_mm:.0f} mm tall" in said
    assert known.limits.largest.breaks.text in said
    assert "tall" not in said_limits(known_of(made, Also(), {}, NEVER))


def test_a_folder_without_a_report_has_none(tmp_path):
    assert report_in(tmp_path) is None
    (tmp_path / "report.json").write_text("[1]")
    assert report_in(tmp_path) is None
    (tmp_path / "report.json").write_text('{"report": 1}')
    assert report_in(tmp_path) == {"report": 1}
