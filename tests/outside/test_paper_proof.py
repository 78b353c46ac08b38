"""The paper proof of a real kit at true size, judged by a renderer that is not ours."""

import numpy as np
import pypdfium2
import pytest

from core.cancel import NEVER
from core.kit.make import make_kit
from tests.support.pictures import badge, job

pytestmark = pytest.mark.outside

DOTS = 300  # an inch
PIXEL = 25.4 / DOTS


def page_of(kit):
    path = next(file["path"] for file in kit.report["files"] if file["role"] == "paper-proof")
    page = pypdfium2.PdfDocument(kit.files[path])[0]
    return np.asarray(page.render(scale=DOTS / 72.0).to_pil().convert("RGB")).astype(float)


def middle_of_ring(red, at, radius):
    """The middle of what is red near a place (mm from the page's lower left), mm."""
    high = red.shape[0]
    column, row = at[0] / PIXEL, high - at[1] / PIXEL
    reach = round((radius + 1.0) / PIXEL)
    top, left = round(row) - reach, round(column) - reach
    window = red[top : top + 2 * reach, left : left + 2 * reach]
    rows, columns = np.nonzero(window > 0.5)
    x = (left + (columns.min() + columns.max() + 1) / 2.0) * PIXEL
    y = (high - top - (rows.min() + rows.max() + 1) / 2.0) * PIXEL
    return x, y


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_marks_lie_on_the_page_where_the_report_puts_them(paper):
    """Source: pypdfium2 (a PDF renderer of another house), 300 dots an inch; 0.1 mm on 100 mm asked."""
    kit = make_kit(job(files__paper=paper), badge(), NEVER, lambda _stage: None)
    page = page_of(kit)
    red = (page[:, :, 0] - page[:, :, 1:].max(axis=2)) / 120.0
    shift = kit.report["frame"]["page_shift"][0]
    for mark in kit.report["marks"]:
        at = (mark["at"][0] + shift[0], mark["at"][1] + shift[1])
        found = middle_of_ring(red, at, mark["diameter_mm"] / 2.0)
        assert found == pytest.approx(at, abs=0.1)


def ends_of_ruler(dark):
    """Middles of the first and the last tick, mm: dark (n,) along a line that only long ticks reach."""
    at = np.nonzero(dark)[0]
    ticks = np.split(at, np.nonzero(np.diff(at) > 1)[0] + 1)
    assert len(ticks) == 11
    return (ticks[-1].mean() - ticks[0].mean()) * PIXEL


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_both_rulers_measure_100_mm(paper):
    """Source: the same; the middles of the first and the last of the long ticks."""
    kit = make_kit(job(files__paper=paper), badge(), NEVER, lambda _stage: None)
    dark = page_of(kit).max(axis=2) < 128
    below, beside = round(11.2 / PIXEL), round(11.2 / PIXEL)  # 2.8 mm from either ruler, past the ticks of 5
    along = ends_of_ruler(dark[-below, : round(118.5 / PIXEL)])
    up = ends_of_ruler(dark[-round(118.5 / PIXEL) :, beside])
    assert (along, up) == pytest.approx((100.0, 100.0), abs=0.1)
