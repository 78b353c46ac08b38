import numpy as np
import pytest
import shapely

from core.proof.near import nearest_among


@pytest.mark.parametrize("reach", [0.01, 0.5, 30.0])
def test_what_lies_within_reach_is_found_at_its_true_distance_and_nothing_else(reach):
    random = np.random.default_rng(3)
    points, starts = random.uniform(-5, 5, (2, 400, 2))
    ends = starts + random.normal(0, 1, starts.shape) * random.choice([0, 0.01, 2], (400, 1))
    lines = shapely.MultiLineString(np.stack((starts, ends), axis=1).tolist())
    true = shapely.distance(shapely.points(points), lines)
    found = nearest_among(points, starts, ends, reach)
    assert (np.isfinite(found) == (true < reach)).all()
    assert np.allclose(found[true < reach], true[true < reach], atol=1e-12)
