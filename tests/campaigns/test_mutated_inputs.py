import os

import pytest

from tests.campaigns.mutated_inputs import campaign

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no processes to fork here")


def test_a_few_spoilt_inputs_get_one_sentence_each_and_no_file_elsewhere():
    assert campaign(seed=2, count=150).missed == []


@pytest.mark.whole
def test_ten_thousand_spoilt_inputs_get_one_sentence_each():
    assert campaign(seed=1, count=10_000).missed == []
