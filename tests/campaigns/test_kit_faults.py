import numpy as np
import pytest

from tests.campaigns.kit_faults import campaign, stops_of, true_fault
from tests.campaigns.kit_oracle import oracle
from tests.campaigns.readings import STEP, farthest, moved_by


def test_the_sound_kit_is_let_pass_by_the_proof_and_by_the_oracle():
    assert all(oracle(fault).is_same for fault in true_fault())
    assert stops_of(next(iter(true_fault()))) == []


def test_every_fault_of_a_small_sample_that_harms_is_stopped_by_name_and_no_dress():
    tally = campaign(seed=2, count=26)
    assert tally.missed == []
    assert tally.false_alarms == []
    assert sum(tally.caught.values()) > 8


@pytest.mark.whole
def test_every_fault_of_the_long_campaign_that_harms_is_stopped_by_name():
    tally = campaign(seed=1, count=5000)
    assert tally.missed == []
    assert tally.false_alarms == []


def test_the_oracle_measures_to_the_line_between_its_points():
    """Points half a step further along say 0.007 mm, not how far it is to the nearest point."""
    level = np.column_stack((np.arange(0, 5, STEP), np.zeros(250)))
    moved = np.add(level, (STEP / 2, 0.007))
    assert farthest(moved[:-1], [level]) == pytest.approx(0.007, abs=1e-9)
    assert moved_by([level], [moved]) == pytest.approx(np.hypot(STEP / 2, 0.007), abs=1e-9)  # at the ends
    apart = [np.array([[-1.0, 0.0], [0.0, 0.0]]), np.array([[0.1, 0.0], [1.0, 0.0]])]
    assert farthest(np.array([[0.05, 0.0]]), apart) == pytest.approx(0.05)  # no line from one to the other
