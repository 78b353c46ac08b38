"""What every test shares: one seed, no screen, and the long campaigns on request."""

import os

import pytest
from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before Qt is imported: it aborts without a screen
settings.register_profile("samecut", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("samecut")


def pytest_addoption(parser):
    parser.addoption("--whole", action="store_true", help="run the long campaigns whole")


def pytest_collection_modifyitems(config, items):
    if config.getoption("--whole"):
        return
    skip = pytest.mark.skip(reason="a whole campaign: bash packaging/test --whole")
    for item in items:
        if "whole" in item.keywords:
            item.add_marker(skip)


@pytest.fixture
def whole(request) -> bool:
    """Whether long campaigns run whole."""
    return request.config.getoption("--whole")
