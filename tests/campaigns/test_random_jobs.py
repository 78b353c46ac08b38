import pytest

from tests.campaigns.random_jobs import campaign


def test_a_few_random_jobs_give_kits_that_prove():
    assert campaign(seed=3, count=3).missed == []


@pytest.mark.whole
def test_two_hundred_random_jobs_give_kits_that_prove():
    assert campaign(seed=1, count=200).missed == []
