import os

import pytest

from tests.campaigns.killed_writes import TRIALS, campaign

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no processes to fork here")


def test_a_few_killed_writers_leave_the_old_or_the_new_whole():
    assert campaign(seed=2, count=6 * len(TRIALS)).missed == []


@pytest.mark.whole
def test_five_hundred_killed_writers_leave_the_old_or_the_new_whole():
    assert campaign(seed=1, count=500).missed == []
