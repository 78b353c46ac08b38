import pytest

from tests.core.proof.program_faults import HARMFUL, campaign, harm, sample, verdict


def test_the_sound_program_is_let_pass_by_the_proof_and_by_the_oracle():
    assert verdict(sample().data, sample()) == ""
    assert harm(sample().data, sample()) == ""


def test_an_edge_moved_by_hand_is_harm_to_the_oracle_and_stopped_by_the_proof():
    whole = sample().data.decode()
    lap = whole.index("last lap")
    edge = whole.index("\nG1 ", lap)
    moved = f"{whole[:edge]}\nG1 X30 Y40{whole[edge:]}".encode()
    assert harm(moved, sample()).startswith("edge moved")
    assert verdict(moved, sample()) != ""


def test_every_fault_of_a_small_sample_that_harms_is_stopped_and_no_harmless_one():
    tally = campaign(seed=3, count=3 * len(HARMFUL))
    assert tally.missed == ()
    assert tally.false_alarms == ()
    assert sum(tally.caught.values()) > len(HARMFUL)


@pytest.mark.whole
def test_every_fault_of_the_long_campaign_that_harms_is_stopped():
    tally = campaign(seed=1, count=5000)
    assert tally.missed == ()
    assert tally.false_alarms == ()
