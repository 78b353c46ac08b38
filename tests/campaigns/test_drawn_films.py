import pytest

from tests.campaigns.drawn_films import campaign
from tests.support.open_drawings import NotToBeHad, drawings


@pytest.fixture(autouse=True)
def _there_are_drawings():
    try:
        drawings()
    except NotToBeHad as why:
        pytest.skip(str(why))


def test_a_few_open_drawings_become_films_that_share_their_edges_to_the_last_digit():
    figures = campaign(seed=1, count=4)
    assert (figures.missed, figures.refused) == ([], [])
    assert figures.pairs >= 2


@pytest.mark.whole
def test_three_hundred_open_drawings_become_films():
    figures = campaign(seed=1, count=300)
    assert figures.missed == []
