import pytest

from tests.campaigns.nests import campaign


def test_a_few_parts_go_into_their_nests_and_are_held():
    figures = campaign(seed=1, count=4)
    assert (figures.missed, figures.false_alarms) == ([], [])
    assert figures.passed["held"] == 4


@pytest.mark.whole
def test_two_hundred_parts_go_into_their_nests_and_are_held():
    figures = campaign(seed=1, count=200)
    assert (figures.missed, figures.false_alarms) == ([], [])
