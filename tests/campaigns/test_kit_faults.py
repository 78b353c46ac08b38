import pytest

from tests.campaigns.kit_faults import campaign, oracle, stops_of, true_fault


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
