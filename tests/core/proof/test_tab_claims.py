import pytest

from core.findings import Level
from core.proof.tab_claims import tab_findings
from core.proof.tabs_left import TabLeft, Wall
from tests.core.proof.claimed import claims


def tab(at=(30.0, 10.0), neck=3.0, height=0.8, wall=5.0):
    """A tab between a part above and a frame below it."""
    x, y = at
    return TabLeft(neck, height, (Wall(at, wall), Wall((x, y - 2.0), neck + 2.0)), (x, y - 1.0))


def codes(found, **changes):
    findings = tab_findings("part.nc", found, claims(**changes))
    assert all(finding.level is Level.STOP and "part.nc" in finding.text for finding in findings)
    return [finding.code for finding in findings]


def test_a_tab_as_claimed_is_nothing_to_tell():
    assert codes([tab()]) == []
    assert codes([tab((30.15, 10.0), 3.019, 0.781, 5.09)]) == []


def test_claims_are_in_the_frame_and_the_program_counts_from_its_zero():
    assert codes([tab((18.0, 5.0))], frame__zero_at=[12.0, 5.0]) == []
    assert codes([tab()], frame__zero_at=[12.0, 5.0]) == ["tab-missing"]


@pytest.mark.parametrize(
    ("found", "said"),
    [
        ([], ["tab-missing", "tab-count"]),
        ([tab((30.3, 10.0))], ["tab-missing"]),
        ([tab(neck=2.97)], ["tab-differs"]),
        ([tab(neck=3.03)], ["tab-differs"]),
        ([tab(height=0.77)], ["tab-differs"]),
        ([tab(wall=4.85)], ["tab-differs"]),
        ([tab(wall=5.15)], ["tab-differs"]),
        ([tab(), tab((40.0, 10.0))], ["tab-count"]),
    ],
)
def test_a_tab_that_is_missing_too_many_or_of_another_size_is_a_stop(found, said):
    assert codes(found) == said


def test_without_a_claim_every_tab_is_one_too_many():
    assert codes([tab()], program__tabs=[]) == ["tab-count"]
    assert codes([], program__tabs=[]) == []
