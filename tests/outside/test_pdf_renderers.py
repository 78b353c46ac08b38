"""Our PDF at true size, judged by two renderers that are not ours."""

import io
import math
import shutil
import subprocess

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from core.paper.pdf import A4, LETTER, write_pdf
from core.paper.recorder import Recorder
from core.paper.shapes import draw_box, draw_circle
from core.paper.surface import Fill, Letters

pytestmark = pytest.mark.outside

DOTS = 600  # an inch
PIXEL = 25.4 / DOTS


def page():
    recorder = Recorder()
    draw_circle(recorder, (80.0, 150.0), 50.0, Fill("#000000"), None)
    draw_box(recorder, (140.0, 20.0), (190.0, 40.0), Fill("#000000"))
    return recorder.recording()


def drawn_by_pdftocairo(data, folder):
    program = shutil.which("pdftocairo")
    assert program, "Install poppler-utils: apt-get install poppler-utils."
    (folder / "page.pdf").write_bytes(data)
    arguments = ["-png", "-r", str(DOTS), "-gray", "-singlefile", "page.pdf", "page"]
    subprocess.run([program, *arguments], cwd=folder, check=True)
    return np.asarray(Image.open(folder / "page.png").convert("L")) / 255.0


def test_pdftocairo_draws_100_mm_as_100_mm(tmp_path):
    """Source: poppler's pdftocairo (GPL), 600 dots an inch; measured there: 99.9989 mm of 100."""
    ink = 1.0 - drawn_by_pdftocairo(write_pdf([page()], A4, "size"), tmp_path)
    assert ink.shape == pytest.approx((297.0 / PIXEL, 210.0 / PIXEL), abs=1.0)
    disc, box = ink[:, : round(135 / PIXEL)], ink[:, round(135 / PIXEL) :]
    assert 2.0 * math.sqrt(disc.sum() / math.pi) * PIXEL == pytest.approx(100.0, abs=0.01)
    assert box.sum(axis=1).max() * PIXEL == pytest.approx(50.0, abs=0.01)
    assert box.sum(axis=0).max() * PIXEL == pytest.approx(20.0, abs=0.01)


def test_the_circle_stands_where_it_was_put(tmp_path):
    """Source: the same; its middle by the first moment of the ink."""
    ink = 1.0 - drawn_by_pdftocairo(write_pdf([page()], A4, "size"), tmp_path)
    disc = ink[:, : round(135 / PIXEL)]
    rows, columns = np.arange(disc.shape[0]) + 0.5, np.arange(disc.shape[1]) + 0.5
    x = (disc.sum(axis=0) @ columns) / disc.sum() * PIXEL
    y = 297.0 - (disc.sum(axis=1) @ rows) / disc.sum() * PIXEL
    assert (x, y) == pytest.approx((80.0, 150.0), abs=PIXEL)


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_pdfium_finds_the_page_as_large_as_the_paper(paper):
    """Source: pypdfium2 5 (Apache-2.0 or BSD), page size in points of 1/72 in (ISO 32000-1, 8.3.2)."""
    document = pypdfium2.PdfDocument(write_pdf([page(), page()], paper, "size"))
    try:
        assert len(document) == 2
        size = document[0].get_size()
        assert size == pytest.approx((paper.width_mm * 72 / 25.4, paper.height_mm * 72 / 25.4), abs=0.01)
    finally:
        document.close()


def test_the_face_is_embedded_and_words_can_be_read_back():
    """Source: poppler's pdffonts and pypdfium2's text."""
    recorder = Recorder()
    recorder.text("must read 130.00 mm", (20.0, 20.0), Letters(4.0))
    data = write_pdf([recorder.recording()], A4, "words")
    document = pypdfium2.PdfDocument(io.BytesIO(data))
    try:
        assert document[0].get_textpage().get_text_range().strip() == "must read 130.00 mm"
    finally:
        document.close()
    assert b"BitstreamVeraSans" in data
    assert b"/FontFile2" in data
