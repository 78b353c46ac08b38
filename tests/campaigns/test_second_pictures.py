import pytest

from tests.campaigns.second_pictures import campaign


def test_a_few_copies_are_laid_and_as_many_strangers_refused():
    figures = campaign(seed=1, count=2)
    assert (figures.missed, figures.false_alarms) == ([], [])


@pytest.mark.whole
def test_fifty_copies_are_laid_and_fifty_strangers_refused():
    figures = campaign(seed=1, count=50)
    assert (figures.missed, figures.false_alarms) == ([], [])
    assert max(figures.seconds) < 1.0
