from dataclasses import replace

import pytest

from tests.campaigns.router_jobs import campaign, router_job, trial

#: Jobs (seed, number) that the proof once stopped, by what it said.
STOPPED_ONCE = {
    "a lead cut into the tab beside it": (1, 69),
    "another slot cut into the tab": (2, 138),
    "short arcs written as lines made the wall too long": (3, 166),
    "a tip cut off the frame was left to fly": (1, 188),
    "no allowance left a core in an opening": (3, 83),
    "a last lap reached farther towards a tab than its passes": (3, 156),
    "chords cut into a sharp tip": (1, 139),
    "a tip of one degree was looked at through chords": (4, 45),
    "short chords of a gentle ramp were taken for level": (10, 167),
    "the height of a tab on a bend was looked at beside it": (5, 133),
    "a lead cut through a strip of waste thinner than itself": (1, 187),
    "a lift ended in an inside corner": (1, 521),
    "a shallow hollow was left out of a closing": (1, 784),
    "a lead cut through a strip that no allowance widened": (1, 1630),
    "a speck at a tip misled the offset of the part": (1, 1239),
    "a run in rounds was swept with a false opening": (1, 1223),
    "a plunge beside a tab at the feed of a ramp": (7, 59),
}


def test_some_router_jobs_at_random_are_proven_or_stopped_with_a_reason():
    tally = campaign(seed=1, count=14)
    assert tally.missed == []
    assert tally.caught["program"] >= 10  # a planner that stops everything proves nothing


@pytest.mark.parametrize(("seed", "number"), STOPPED_ONCE.values(), ids=STOPPED_ONCE)
def test_what_the_proof_once_stopped_is_a_program(seed, number):
    assert trial(router_job(seed, number)) == ("", "program")


def test_a_bit_of_a_fifth_of_a_millimetre_has_leads_that_it_can_cut():
    job = router_job(77, 21)
    job = replace(
        job,
        bit=replace(job.bit, diameter_mm=0.2, flute_length_mm=3.0),
        wish=replace(job.wish, thickness_mm=1.0),
        tab_rule=replace(job.tab_rule, height_mm=0.5, skin_mm=0.0),
        cutting=replace(job.cutting, depth_per_pass_mm=0.25, allowance_mm=0.02),
    )
    assert trial(job) == ("", "program")


def test_an_allowance_wider_than_a_lap_may_take_is_left_out_and_no_lead_leaves_the_slot():
    job = router_job(77, 29)
    cutting = replace(job.cutting, has_last_lap=True, allowance_mm=0.26)
    assert trial(replace(job, cutting=cutting)) == ("", "program")


@pytest.mark.whole
def test_two_thousand_router_jobs_are_proven_or_stopped_with_a_reason():
    assert campaign(seed=1, count=2000).missed == []
