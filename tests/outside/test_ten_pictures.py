"""Ten pictures not made by us become ten kits, each read back; what cannot be routed says why.

Sources: icons, samples and DejaVu Sans Bold from the matplotlib wheel; skimage.data of scikit-image. The
command that makes and prints all ten is `python -m tests.outside.ten_pictures FOLDER`.
"""

import pytest

from tests.outside.ten_pictures import TEN, outcome_of

pytestmark = pytest.mark.outside

#: Quick ones of every kind; the others belong to the long campaign.
QUICK = ("help", "eight", "horse")
#: Pictures of more or finer parts than the default machine takes at 100 mm: films, but no program.
NOT_ROUTED = {"logo", "logo2", "chelsea"}


@pytest.mark.parametrize(
    "name", [name if name in QUICK else pytest.param(name, marks=pytest.mark.whole) for name in TEN]
)
def test_a_picture_not_made_by_us_becomes_a_kit_that_is_read_back(name):
    outcome = outcome_of(TEN[name]())
    assert outcome.sentence == ""
    assert outcome.broken_promises() == []
    assert bool(outcome.stops()) == (name in NOT_ROUTED)
    proof = outcome.kit.report["readback"]
    assert proof["height_error_mm"] <= 0.005
    assert proof["mark_error_mm"] <= 0.001
    assert max(film["max"] for film in proof["film_error_mm"].values()) <= 0.01
    assert proof["rules"]["broken"] == []
    if name not in NOT_ROUTED:
        assert proof["edge_error_mm"]["max"] <= 0.01
        assert proof["rules"]["checked"] > 1000
