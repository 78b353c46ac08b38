"""The job sheet of real kits, judged by a PDF reader and renderer that is not ours.

Source of every judgement: pypdfium2 5 (Apache-2.0 or BSD), which renders the pages and reads their text.
"""

import json
import re
from functools import cache
from itertools import combinations
from math import hypot
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest

from core.cancel import NEVER
from core.errors import SamecutError
from core.job.job import Job, Source
from core.kit.also import Also
from core.kit.make import make_kit
from tests.campaigns.random_jobs import jobs
from tests.support.pdf_text import pages_of
from tests.support.pictures import badge, badge_kit, badge_png

pytestmark = pytest.mark.outside

DOTS = 600  # an inch
PIXEL = 25.4 / DOTS
#: mm: half of the first page, where the set-up drawing is; the signs of the legend are right of it.
LEFT_HALF = 115.0


def paper(kit, role):
    return kit.files[next(file["path"] for file in kit.report["files"] if file["role"] == role)]


@cache
def first_page(kit_of):
    page = pypdfium2.PdfDocument(paper(badge_kit(**dict(kit_of)), "job-sheet"))[0]
    return np.asarray(page.render(scale=DOTS / 72.0).to_pil().convert("RGB")).astype(int)


def marks_seen(picture):
    """Middles of the marks' crosses, mm from the page's upper left, y up: each a red thing of its own."""
    red = (picture[:, :, 0] - picture[:, :, 1:].max(axis=2) > 100)[:, : round(LEFT_HALF / PIXEL)]
    _, _, boxes, _ = cv2.connectedComponentsWithStats(red.astype(np.uint8))
    large = [box for box in boxes[1:].tolist() if box[2] * PIXEL > 2.0]
    return [((left + wide / 2.0) * PIXEL, -(top + high / 2.0) * PIXEL) for left, top, wide, high, _ in large]


def scale_said(kit):
    words = " ".join(pages_of(paper(kit, "job-sheet"))[0].words)
    paper_mm, stock_mm = re.search(r"Drawn ([\d.]+) : ([\d.]+)", words).groups()
    return float(paper_mm) / float(stock_mm)


@pytest.mark.parametrize("choices", [(), (("shape__height", "140 mm"),), (("files__paper", "Letter"),)])
def test_the_setup_drawing_has_the_scale_that_it_says(choices):
    """Every two marks lie as far apart as the report has them times the scale, to 0.1 mm on 100 mm."""
    kit = badge_kit(**dict(choices))
    scale, marks = scale_said(kit), [mark["at"] for mark in kit.report["marks"]]
    seen = marks_seen(first_page(choices))
    assert len(seen) == len(marks)
    x, y = np.mean(seen, axis=0) - scale * np.mean(marks, axis=0)
    for mark, place in zip(sorted(marks), sorted(seen), strict=True):
        assert place == pytest.approx((mark[0] * scale + x, mark[1] * scale + y), abs=PIXEL)
    for (one, other), (near, far) in zip(
        combinations(sorted(marks), 2), combinations(sorted(seen), 2), strict=True
    ):
        meant = hypot(one[0] - other[0], one[1] - other[1]) * scale
        apart = hypot(near[0] - far[0], near[1] - far[1])
        assert apart == pytest.approx(meant, abs=max(0.1 * meant / 100.0, PIXEL))


#: Numbers in the sheet's own sentences, which no Job changes.
SAID_ALWAYS = {
    "150": "mm from a moving bit to a hand (a university's rules: 6 in)",
    "5": "mm, the pins of the bench; the face of three to five places",
    "3": "places a sheet is measured in",
    "0.3": "mm by which a mark may be off before the sheet is thought to have moved (common practice)",
    "10": "mm between the ticks of the line to lay a ruler on",
    "0": "the work zero's X and Y, the cutter's own offset",
    "2": "the second page and mark",
    "1": "the drawing's scale, the first page and mark",
}
NUMBER = re.compile(r"(?<![\w.-])[-\u2212]?\d+(?:\.\d+)?")


def numbers_in(values):
    """Every number of a report, and those in its sentences and names."""
    if isinstance(values, dict):
        for name, one in values.items():
            yield from numbers_in(one)
            if name.startswith("scale"):
                yield 100.0 * one  # said in per cent
    elif isinstance(values, list):
        yield float(len(values))
        for one in values:
            yield from numbers_in(one)
    elif isinstance(values, str):
        yield from (float(one.replace("\u2212", "-")) for one in NUMBER.findall(values))
    elif isinstance(values, int | float) and not isinstance(values, bool):
        yield float(values)
        yield values / 25.4  # the sheet says some lengths in inches too


def is_reported(said, reported):
    """Whether a number of the sheet is one of the report to the digits that are said."""
    digits = len(said.partition(".")[2])
    value = float(said.replace("\u2212", "-"))
    return bool((np.abs(reported - value) <= 0.5001 * 10.0**-digits).any())


def unreported(kit):
    reported = np.array(list(numbers_in(json.loads(kit.files["report.json"]))))
    seconds = kit.report["program"]["motion_time_s"] if kit.report["program"] else 0.0
    clock = {str(int(round(seconds) // 60)), f"{round(seconds) % 60:02d}", str(round(seconds) % 60)}
    pages = pages_of(paper(kit, "job-sheet"))
    pages_said = {str(number) for number in range(1, len(pages) + 1)}
    words = " ".join(word for page in pages for word in page.words).replace(kit.report["made_by"], "")
    return {
        said
        for said in NUMBER.findall(words)
        if not is_reported(said, reported) and said not in clock | pages_said | set(SAID_ALWAYS)
    }


@pytest.mark.parametrize(
    "choices",
    [
        {},
        {"stock__thickness": "2.86 mm; 2.91 mm", "stock__z_zero": "board", "stock__touch": "0.1 mm"},
        {"stock__material": "plywood", "bit__diameter": "3.175 mm", "bit__flute_length": "12 mm"},
        {"film__side": "behind", "stock__copies": "4", "knife__scale_x": "100.2 %"},
        {"fit__way": "sheet"},
    ],
)
def test_every_number_on_the_sheet_is_the_report_s(choices):
    assert unreported(badge_kit(**choices)) == set()


def test_a_number_that_is_not_the_report_s_would_be_seen():
    kit = badge_kit()
    report = json.loads(kit.files["report.json"])
    report["bench"]["chip_mm"] = report["bench"]["stop_if"] = 0.0
    wrong = type(kit)({**kit.files, "report.json": json.dumps(report).encode()}, report, kit.findings)
    assert "8000" in unreported(wrong)


@pytest.mark.parametrize(
    ("label", "path", "said"),
    [
        ("Spindle", ("program", "spindle_rpm"), "{:.0f} rpm"),
        ("Feed", ("program", "feed_mm_min"), "{:.0f} mm/min"),
        ("Plunge", ("program", "plunge_mm_min"), "{:.0f} mm/min"),
        ("Depth each pass", ("program", "depth_per_pass_mm"), "{:.2f} mm"),
        ("Sheet as measured", ("stock", "thickness_mm"), "{:.2f} mm"),
        ("Set Z to", ("bench", "set_z_mm"), "{:.2f} mm"),
    ],
)
def test_a_named_number_is_the_report_s_of_that_name(label, path, said):
    """The value stands right under its name, by where the reader finds both."""
    kit = badge_kit()
    value = kit.report
    for name in path:
        value = value[name]
    page = pages_of(paper(kit, "job-sheet"))[0]
    name = next(box for word, box in zip(page.words, page.boxes, strict=True) if word == label)
    below = [
        word
        for word, box in zip(page.words, page.boxes, strict=True)
        if abs(box[0] - name[0]) < 1.0 and 0.0 < name[1] - box[3] < 3.0
    ]
    assert below == [said.format(value)]


@pytest.mark.parametrize("paper_name", ["A4", "Letter"])
@pytest.mark.parametrize(
    "choices",
    [
        {},
        {"film__side": "behind"},
        {"stock__copies": "4"},
        {"fit__way": "sheet"},
        {"stock__material": "plywood"},
    ],
)
def test_the_sheet_of_an_ordinary_job_has_three_pages_at_most(choices, paper_name):
    assert len(pages_of(paper(badge_kit(files__paper=paper_name, **choices), "job-sheet"))) <= 3


@pytest.mark.parametrize("paper_name", ["A4", "Letter"])
def test_the_sheet_of_the_demo_has_three_pages(paper_name):
    demo = Path(__file__).parents[2] / "assets" / "demo" / "turtle.png"
    asked = Job(source=demo.name).with_choice("shape.height", "118 mm").with_choice("files.paper", paper_name)
    kit = make_kit(asked, Source(demo.name, demo.read_bytes()), NEVER, lambda _stage: None)
    assert len(pages_of(paper(kit, "job-sheet"))) == 3


def wrong_with(data):
    """Words that are cut off, too small or on other words, as the reader finds them."""
    for number, page in enumerate(pages_of(data), 1):
        wide, high = page.size_mm
        for word, (x0, y0, x1, y1) in zip(page.words, page.boxes, strict=True):
            if x0 < 5.0 or y0 < 3.0 or x1 > wide - 5.0 or y1 > high - 3.0:
                yield f"page {number}: '{word}' is cut off"
        if min(page.points, default=9.0) < 9.0 - 1e-3:
            yield f"page {number}: {min(page.points):.2f} points"
        yield from (f"page {number}: '{one}' lies on '{other}'" for one, other in overlapping(page))


def overlapping(page):
    boxes = np.array(page.boxes).reshape(-1, 4)
    for i, (x0, y0, x1, y1) in enumerate(boxes):
        others = boxes[i + 1 :]
        across = np.minimum(others[:, 2], x1) - np.maximum(others[:, 0], x0)
        up = np.minimum(others[:, 3], y1) - np.maximum(others[:, 1], y0)
        for j in np.nonzero((across > 0.1) & (up > 0.1))[0]:
            yield page.words[i], page.words[i + 1 + j]


def of_random_jobs(count):
    """Papers of random Jobs, made over an earlier kit so that all boxes are there."""
    earlier = badge_kit().report
    made = 0
    for one in jobs(7, count):
        source = badge() if made % 2 else type(badge())("turtle.png", badge_png(120))
        try:
            kit = make_kit(one, source, NEVER, lambda _stage: None, Also(earlier=earlier))
        except SamecutError:
            continue
        made += 1
        yield one, [kit.files[file["path"]] for file in kit.report["files"] if file["format"] == "pdf"]


def judge(count, at_least):
    papers = 0
    for one, pdfs in of_random_jobs(count):
        papers += len(pdfs)
        wrong = [said for data in pdfs for said in wrong_with(data)]
        assert not wrong, (wrong[:4], one)
    assert papers >= at_least


def test_words_of_some_random_jobs_can_be_read():
    judge(4, 4)


@pytest.mark.whole
def test_words_of_fifty_random_jobs_can_be_read():
    judge(50, 60)


@pytest.mark.parametrize("choices", [{}, {"stock__z_zero": "board"}, {"cutting__skim": "0.15 mm"}])
def test_job_sheet_program_and_report_tell_one_window_of_sheets(choices):
    kit = badge_kit(**choices)
    thinnest, thickest = kit.report["stock"]["good_for_mm"]
    told = re.compile(r"good for ([\d.]+) to ([\d.]+)", re.IGNORECASE)
    words = " ".join(word for page in pages_of(paper(kit, "job-sheet")) for word in page.words)
    for text in (words, paper(kit, "part-program").decode("ascii")):
        windows = [tuple(map(float, pair)) for pair in told.findall(text)]
        assert windows
        assert all(window == pytest.approx((thinnest, thickest), abs=0.0051) for window in windows)


@pytest.mark.parametrize(("z_zero", "surface"), [("top", "stock top"), ("board", "spoil board")])
def test_the_first_message_of_a_program_tells_the_surface_of_its_zero(z_zero, surface):
    for role in ("part-program", "clearance-lap"):
        text = paper(badge_kit(stock__z_zero=z_zero), role).decode("ascii")
        assert re.search(r"\(MSG,([^)]*)\)", text)[1] == f"Z0 is the {surface}"
