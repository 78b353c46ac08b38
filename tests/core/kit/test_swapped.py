"""Files that were swapped, between two kits or within one: every kind of pair, each named by `check`."""

from itertools import combinations, product

import pytest

from core.findings import Level
from core.kit.check import check_files
from tests.campaigns.kit_faults import SISTERS, of_another_kit
from tests.campaigns.kit_oracle import REPORT, Fault, format_of, oracle
from tests.support.pictures import badge_kit

NAMES = sorted(badge_kit().files)
#: Programs are read by no other's library here; that their bytes differ is enough.
PROGRAMS = [name for name in NAMES if name != REPORT and format_of(name) == "rs274"]


def named(files, level):
    return [finding.text for finding in check_files(files)[1] if finding.level is level]


def check_other(name, sister):
    """One file in place of its like in a sister kit."""
    files = of_another_kit(name, SISTERS[sister])
    if files[name] == badge_kit().files[name]:
        assert check_files(files)[1] == ()
        return
    stops = named(files, Level.STOP)
    if name in PROGRAMS or oracle(Fault("", name, files)).harm:
        assert any(name in text for text in stops), (name, sister)
    else:
        assert any(name in text for text in named(files, Level.CAUTION)), (name, sister)


@pytest.mark.parametrize("at", range(len(NAMES)), ids=NAMES)
def test_a_file_of_a_sister_kit_is_named_whatever_it_is_for(at):
    check_other(NAMES[at], at % len(SISTERS))


@pytest.mark.whole
def test_every_file_of_every_sister_kit_is_named():
    for name, sister in product(NAMES, range(len(SISTERS))):
        check_other(name, sister)


def check_pair(one, other):
    """Two files of one kit, each in the other's place."""
    files = dict(badge_kit().files)
    files[one], files[other] = files[other], files[one]
    said = " ".join(named(files, Level.STOP))
    assert (one in said, other in said) == (True, True)


FILES = badge_kit().files
PAIRS = [
    (one, other)
    for one, other in combinations(NAMES, 2)
    if REPORT not in (one, other) and FILES[one] != FILES[other]
]


@pytest.mark.parametrize(("one", "other"), PAIRS[::17])
def test_two_files_that_have_changed_places_are_both_named(one, other):
    check_pair(one, other)


@pytest.mark.whole
def test_any_two_files_that_have_changed_places_are_both_named():
    for one, other in PAIRS:
        check_pair(one, other)


@pytest.mark.parametrize("sister", range(len(SISTERS)))
def test_a_kit_with_half_of_its_files_from_a_sister_names_each_that_is_another(sister):
    """As when two kits of one job were copied into one folder."""
    mixed = dict(badge_kit().files)
    for name in NAMES[::2]:
        if name != REPORT:
            mixed |= {name: of_another_kit(name, SISTERS[sister])[name]}
    said = " ".join(finding.text for finding in check_files(mixed)[1])
    changed = [name for name in NAMES if mixed[name] != badge_kit().files[name]]
    assert [name for name in changed if name not in said] == []
    assert named(mixed, Level.STOP)
