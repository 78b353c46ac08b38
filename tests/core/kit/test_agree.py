"""The residual calculator: what any number of readings over a kit's marks come to."""

import numpy as np
import pytest

from core.errors import BadValue, UnreadableFile
from core.kit.agree import ReadAt, agreed, agreement_lines, reading_of
from core.sheet.pose import Pose
from tests.support.pictures import badge_kit

POSE = Pose(0.03, (12.0, -7.5))


def places(kit):
    zero = np.array(kit.report["frame"]["zero_at"])
    return np.array([mark["at"] for mark in kit.report["marks"]]) - zero


def read(kit, scale=1.0):
    return [ReadAt((float(x), float(y))) for x, y in POSE.of(scale * places(kit))]


@pytest.mark.parametrize("count", [2, 3])
def test_exact_readings_give_the_pose_and_leave_nothing(count):
    kit = badge_kit()
    found = agreed(kit.files, read(kit)[:count])
    assert (found.pose.turn, *found.pose.shift) == pytest.approx((POSE.turn, *POSE.shift), abs=1e-9)
    assert found.scale == pytest.approx(1.0)
    assert max(found.misses_mm) < 1e-9
    assert found.edge_mm < 1e-9


def test_a_scale_that_is_off_is_told_and_left_at_the_edge():
    kit = badge_kit()
    found = agreed(kit.files, read(kit, scale=1.004))
    assert found.scale == pytest.approx(1.004)
    assert 0.1 < found.edge_mm < 0.4


def test_any_number_of_places_may_be_read():
    kit = badge_kit()
    rng = np.random.default_rng(5)
    meant = rng.uniform(0.0, 100.0, (24, 2))
    seen = POSE.of(meant) + rng.normal(0.0, 0.1, meant.shape)
    readings = [
        ReadAt(tuple(one), tuple(other)) for one, other in zip(seen.tolist(), meant.tolist(), strict=True)
    ]
    found = agreed(kit.files, readings)
    assert found.pose.turn == pytest.approx(POSE.turn, abs=2e-3)
    assert len(found.misses_mm) == 24


def test_a_routers_correction_is_undone_first():
    kit = badge_kit(machine__scale_x="101 %")
    seen = POSE.of(places(kit)) * np.array([1.01, 1.0])
    found = agreed(kit.files, [ReadAt((float(x), float(y))) for x, y in seen])
    assert found.scale == pytest.approx(1.0, abs=1e-9)


def test_readings_are_typed_as_the_controller_shows_them():
    assert reading_of("12.35, 140.02") == ReadAt((12.35, 140.02))
    assert reading_of("12.35,140.02 = 10,138") == ReadAt((12.35, 140.02), (10.0, 138.0))
    with pytest.raises(BadValue):
        reading_of("here")


@pytest.mark.parametrize("count", [0, 1, 4])
def test_too_few_or_too_many_are_refused(count):
    kit = badge_kit()
    readings = [*read(kit), ReadAt((0.0, 0.0))][:count] if count < 4 else [*read(kit), ReadAt((0.0, 0.0))]
    with pytest.raises(BadValue):
        agreed(kit.files, readings)


def test_what_is_no_kit_is_refused():
    with pytest.raises(UnreadableFile):
        agreed({"a.nc": b"G21"}, [ReadAt((0.0, 0.0)), ReadAt((1.0, 0.0))])
    with pytest.raises(UnreadableFile):
        agreed({"report.json": b"{}"}, [ReadAt((0.0, 0.0)), ReadAt((1.0, 0.0))])


def test_it_is_told_in_words():
    kit = badge_kit()
    lines = agreement_lines(agreed(kit.files, read(kit)))
    assert lines[0].startswith("best turn 1.7189°, shift 12.000, -7.500 mm")
