import pytest

from tests.campaigns.router_jobs import campaign


def test_some_router_jobs_at_random_are_proven_or_stopped_with_a_reason():
    tally = campaign(seed=1, count=14)
    assert tally.missed == []
    assert tally.caught["program"] >= 10  # a planner that stops everything proves nothing


@pytest.mark.whole
def test_two_thousand_router_jobs_are_proven_or_stopped_with_a_reason():
    assert campaign(seed=1, count=2000).missed == []
