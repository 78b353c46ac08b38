"""The job sheet: everything on it can be read, whatever the job is."""

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from core.findings import Finding, Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.paper.cards import WRITE, Measure
from core.paper.flow import MARGIN, Columns, Piece
from core.paper.job_sheet import JobSheet, job_sheet_pages, job_sheet_pdf
from core.paper.lettering import SMALLEST_MM, width_mm
from core.paper.no_program import no_program_text
from core.paper.numbers import CutNumbers, Travel, box_words, cutting_numbers, said_time
from core.paper.order import FrameWork, Stage, WorkStep, corner_of, in_its_frame
from core.paper.pdf import A4, LETTER
from core.paper.recorder import Painted
from core.paper.setup_drawing import Clamp, SetUp, scale_for
from core.paper.steps import FilmSheet
from core.paper.surface import Anchor
from core.paper.told import told
from core.paper.trouble import SPENT, stop_lines
from core.paper.view import FilmLook, Look
from core.router.stop_if import Change, Number, StopIf, Trouble
from core.sheet.mark import Mark
from core.sheet.stock import Stock

CUT = CutNumbers(
    bit_mm=2.0, flutes=1, spindle_rpm=10000, feed_mm_min=400, plunge_mm_min=80, depth_per_pass_mm=0.7,
    passes=6, motion_time_s=290.4, z_zero="stock top", set_z_mm=0.1, touched_with="copy paper", safe_z_mm=5.0,
    bottom_z_mm=-3.32, skim_mm=0.3, thickness_mm=3.02, good_for_mm=(2.70, 3.15),
    travel=Travel(0.0, 151.2, 0.0, 133.4, 5.0, 3.3),
)  # fmt: skip
WORK = FrameWork(
    program="turtle-part-Ztop.nc", lap="turtle-lap-Ztop.nc", zero_words="stock's left near corner",
    z_zero="stock's bare top", set_z_mm=0.1, touched_with="copy paper", bit_words="2 mm, 1 flute",
    spindle="program", spindle_rpm=10000, thickness_mm=3.02, key_corner="upper left", hinge_side="left",
    tab_count=4, is_punched=False, is_behind=False,
)  # fmt: skip
STOPS = (
    StopIf(Trouble.MELTS, (
        Change(Number.SPEED, 10000.0, 8000.0, 0.05, 0.009), Change(Number.FEED, 400.0, 480.0, 0.048, 0.0089),
    )),
    StopIf(Trouble.CHIPS, (Change(Number.FEED, 400.0, 320.0, 0.032, 0.006),)),
    StopIf(Trouble.BENDS, (Change(Number.DEPTH, 0.7, 0.5, 0.04, 0.0052),)),
    StopIf(Trouble.LIFTS, (Change(Number.PLUNGE, 80.0, 55.0, 0.04, 0.0073),)),
    StopIf(Trouble.CHATTERS, ()),
)  # fmt: skip
MEASURES = (
    Measure("Sheet, in 3 to 5 places", "3.02 mm", "2.52 to 3.27", 5),
    Measure(
        "Key mark to the one at (119.5, 64.0), in the sheet and in the film",
        "138.84 mm",
        "138.46 to 139.22",
        2,
    ),
    Measure("Film teal, top to bottom", "116.40 mm", "116.07 to 116.73"),
)
STOP = Finding(
    Level.STOP, "bit-too-wide", "The opening is 1.6 mm wide.", "Take a bit of 1.5 mm.", (84.31, 66.0)
)
CAUTION = Finding(Level.CAUTION, "height-assumed", "No height was given.", "Give one.")
NOTE = Finding(Level.NOTE, "specks", "3 pieces are small.", "Drop them.", (1.0, 2.0))


def sheet_of(wide=160.0, deep=140.0, findings=(), words="turtle 118 mm", stages=None, films=1):
    part = (Region(Loop.circle((wide / 2, deep / 2), min(wide, deep) / 3)),)
    setup = SetUp(
        Stock(wide, deep, 3.02, 0.05, 0.1, 0.1, is_clear=True), (0.0, 0.0), part, part,
        (Mark((30.0, 120.0), 7.0, 6.0, is_key=True), Mark((130.0, 128.0), 5.0, 4.0, is_key=False)),
        ((40.0, 80.0),), "left", (Clamp((8.0, 70.0), (12.0, 30.0)),), (100.0, 30.0),
    )  # fmt: skip
    boxes = tuple(
        FilmSheet(f"film-{n}", "#1f7a6d", f"turtle-film-{n}.svg", (130.0, 154.0)) for n in range(films)
    )
    look = Look(part, part, (FilmLook("teal", "#1f7a6d", part),), is_clear=True)
    stages = in_its_frame(WORK) if stages is None else stages
    return JobSheet(
        words, words, look, setup, cutting_numbers(CUT), stages, boxes, tuple(findings),
        stop_if=stop_lines(STOPS, melts=True), measures=MEASURES,
    )  # fmt: skip


def boxes_of(page):
    """(n, 4) of every line of words, from the foot of its letters to their top, mm."""
    rows = []
    for writing in page.writings():
        wide, size = width_mm(writing.words, writing.letters), writing.letters.size_mm
        share = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[writing.letters.anchor]
        x, y = writing.at
        rows.append((x - share * wide, y - 0.2 * size, x + (1 - share) * wide, y + 0.75 * size))
    return np.array(rows)


def words_on(pages):
    return " ".join(writing.words for page in pages for writing in page.writings())


SENTENCES = st.text(st.characters(codec="latin-1", exclude_categories=("C",)), max_size=300)
FINDINGS = st.lists(
    st.builds(
        Finding, st.sampled_from(Level), st.just("x"), SENTENCES, SENTENCES, st.none() | st.just((1.0, 2.0))
    ),
    max_size=8,
)


#: A page is slow to make smaller: the first that fails is shown as it is.
AS_FOUND = (Phase.explicit, Phase.reuse, Phase.generate)


@settings(deadline=None, max_examples=15, phases=AS_FOUND)
@given(
    wide=st.floats(60, 1200), deep=st.floats(60, 1200), findings=FINDINGS, words=SENTENCES,
    paper=st.sampled_from([A4, LETTER]), films=st.integers(0, 9),
)  # fmt: skip
def test_no_words_are_cut_off_overlap_or_are_too_small(wide, deep, findings, words, paper, films):
    for page in job_sheet_pages(sheet_of(wide, deep, findings, words, films=films), paper):
        boxes = boxes_of(page)
        assert (boxes[:, :2] >= MARGIN - 1.5).all()
        assert (boxes[:, 2:] <= np.array([paper.width_mm, paper.height_mm]) - MARGIN + 1.5).all()
        assert all(writing.letters.size_mm >= SMALLEST_MM - 1e-9 for writing in page.writings())
        for i, (x0, y0, x1, y1) in enumerate(boxes):
            others = boxes[i + 1 :]
            meets = (others[:, 0] < x1) & (others[:, 2] > x0) & (others[:, 1] < y1) & (others[:, 3] > y0)
            assert not meets.any()


def test_the_sheet_has_the_same_bytes_every_time():
    assert job_sheet_pdf(sheet_of()) == job_sheet_pdf(sheet_of())


def test_every_number_stands_on_the_sheet():
    said = words_on(job_sheet_pages(sheet_of()))
    for number in cutting_numbers(CUT):
        assert number.value in said
    assert "130.00 × 154.00 mm (5.118 × 6.063 in)" in said  # noqa: RUF001 - the sign itself


def test_stops_stand_before_everything_else():
    pages = job_sheet_pages(sheet_of(findings=(NOTE, STOP, CAUTION)))
    said = words_on(pages)
    assert "There is no router program" in words_on(pages[:1])
    assert "There is no router program in this kit." in said
    assert said.index("1.6 mm") < said.index("Numbers")
    assert said.index("No height was given") < said.index("3 pieces are small")
    assert "(at (84.3, 66.0) mm)" in said


def test_many_findings_of_one_kind_are_told_once_and_placed_each():
    corners = tuple(
        Finding(Level.NOTE, "rounded", f"Corner {n}.", "Accept.", (10.0 + n, 5.0)) for n in range(9)
    )
    said = words_on(job_sheet_pages(sheet_of(findings=(*corners, CAUTION))))
    assert ("Corner 1." in said, "Corner 2." in said) == (True, False)
    assert "7 more of this kind" in said
    assert all(f"({10 + n}.0, 5.0)" in said for n in range(9))


def test_the_text_of_no_program_tells_every_stop_and_no_other_finding():
    text = no_program_text("turtle", (CAUTION, STOP, NOTE)).decode()
    assert "1.6 mm" in text
    assert "Take a bit" in text
    assert "No height" not in text
    assert max(map(len, text.splitlines())) <= 78


def test_forty_stops_run_over_to_the_next_page():
    pages = job_sheet_pages(sheet_of(findings=(STOP,) * 40))
    assert words_on(pages).count("The opening is 1.6 mm wide.") == 40


def steps_of(work):
    return " ".join(step.words for stage in in_its_frame(work) for step in stage.steps)


def changed(**values):
    return FrameWork(**{**WORK.__dict__, **values})


def test_without_a_program_nothing_is_said_of_cutting_the_part():
    assert [stage.title for stage in in_its_frame(changed(program=""))] == ["Cut the film"]


@pytest.mark.parametrize(
    ("is_behind", "is_punched", "corner"),
    [
        (False, False, "upper right"),
        (True, False, "upper left"),
        (False, True, "upper left"),
        (True, True, "upper right"),
    ],
)
def test_the_key_hole_is_where_it_is_seen_in_the_hand(is_behind, is_punched, corner):
    said = steps_of(changed(is_behind=is_behind, is_punched=is_punched))
    assert f"is at the {corner}" in said


def test_marks_are_seen_in_the_way_that_was_chosen():
    assert "dot hangs in its hole" in steps_of(WORK)
    assert "Punch out the three rings" in steps_of(changed(is_punched=True))


def test_a_spindle_without_the_program_is_switched_by_hand():
    assert "by hand, at 10000 rpm" in steps_of(changed(spindle="knob"))
    assert "by hand" not in steps_of(WORK)


def test_the_key_is_named_by_its_corner():
    assert corner_of((30, 120), (80, 70)) == "upper left"
    assert corner_of((130, 20), (80, 70)) == "lower right"


@pytest.mark.parametrize(
    ("seconds", "said"), [(9.4, "9 s"), (290.4, "4 min 50 s"), (59.7, "1 min 00 s"), (3725, "1 h 02 min")]
)
def test_time_is_said_as_people_say_it(seconds, said):
    assert said_time(seconds) == said


def test_the_sheet_box_reads_in_both_units():
    assert box_words(130, 154) == "130.00 × 154.00 mm (5.118 × 6.063 in)"  # noqa: RUF001 - the sign itself


def test_the_scale_is_the_largest_that_fits():
    stock = Stock(160.0, 140.0, 3.0, 0.0, 0.1, 0.1, is_clear=True)
    assert scale_for(stock, (120.0, 120.0)).words == "1 : 2"
    assert scale_for(stock, (230.0, 230.0)).words == "1 : 1"


def test_a_part_on_a_skin_is_cut_free_by_hand_and_no_tab_is_spoken_of():
    words = steps_of(changed(skin_mm=0.5, tab_count=0))
    assert "a skin 0.5 mm thick holds the part" in words
    assert "Score the 0.5 mm skin" in words
    assert "must lie on the board" in words
    assert " tab" not in words


def placed(stages):
    return [
        {writing.words for writing in page.writings()} for page in job_sheet_pages(sheet_of(stages=stages))
    ]


def test_the_work_at_each_place_stands_on_a_page_of_its_own():
    """The router's page is taken to the router, the film's to the bench."""
    at_router = {stage.title for stage in in_its_frame(WORK) if stage.is_at_router}
    first, router, bench = placed(in_its_frame(WORK))
    assert at_router == {"Set up", "Cut the part"}
    assert "Numbers" in first
    assert at_router <= router
    assert {"Cut the film", "Bring them together"} <= bench


def test_a_head_never_stands_without_what_it_is_the_head_of():
    """A sheet so filled that the notes begin at the foot of a page, at every height of what is before."""
    notes = tuple(Finding(Level.NOTE, f"n{n}", f"Note {n}.", "Do.") for n in range(4))
    for filled in range(20):
        long = tuple(Finding(Level.CAUTION, f"c{n}", f"Caution {n}.", "Do.") for n in range(filled))
        pages = job_sheet_pages(sheet_of(findings=(*long, *notes), stages=()))
        said = [words_on([page]) for page in pages]
        (page,) = (number for number, words in enumerate(said) if "Worth knowing" in words)
        assert "Note 0." in said[page]


def test_columns_that_no_page_holds_run_over_and_lose_nothing():
    steps = tuple(WorkStep(f"Step {n} of many.") for n in range(150))
    stages = (Stage("Long", steps, is_at_router=True), Stage("After", (WorkStep("The end."),)))
    said = words_on(job_sheet_pages(sheet_of(stages=stages)))
    assert all(f"Step {n} of many." in said for n in range(150))
    assert said.index("Step 149 of many.") < said.index("The end.")


def test_plots_are_told_with_whoever_compensates_the_knife():
    def told(**values):
        steps = [step for stage in in_its_frame(changed(**values)) for step in stage.steps]
        return " ".join(step.words for step in steps if ".plt" in step.words)

    assert told() == ""
    assert "do not compensate" in told(has_plots=True)
    assert "0.25 mm: set the cutter's own offset to 0" in told(has_plots=True, knife_mm=0.25)


def test_the_stop_card_says_the_number_to_set_and_what_follows():
    said = words_on(job_sheet_pages(sheet_of()))
    for line in ("Stop if", "Spindle 8000 rpm, not 10000", "Feed 320 mm/min, not 400", "Chip 0.032 mm",
                 "Depth each pass 0.5 mm, not 0.7", "Plunge 55 mm/min, not 80", SPENT):  # fmt: skip
        assert line in said
    assert "if it cannot: feed 480" in said
    assert "smokes, burns" in " ".join(line.sign for line in stop_lines(STOPS, melts=False))


def test_what_is_measured_has_its_value_and_a_line_for_each_reading():
    pages = job_sheet_pages(sheet_of())
    (router,) = (page for page in pages if "Measure" in words_on([page]))
    assert {row.expected for row in MEASURES} <= {writing.words for writing in router.writings()}
    wide = [
        abs(item.steps[1].x - item.steps[0].x)
        for item in router.items
        if isinstance(item, Painted) and len(item.steps) == 2 and item.fill is None
    ]
    assert wide.count(pytest.approx(WRITE)) == sum(row.readings for row in MEASURES)


def test_without_a_router_there_is_still_something_to_measure():
    stages = (Stage("Cut the film", (WorkStep("Cut."),)),)
    assert "116.40 mm" in words_on(job_sheet_pages(sheet_of(stages=stages)))


def test_the_size_witness_and_the_film_to_load_are_told():
    said = steps_of(changed(witness_mm=50.0, film_piece_mm=(145.0, 157.0)))
    assert "is 50 mm long" in said
    assert "at least 145 by 157 mm" in said
    assert "layer notes" not in steps_of(WORK)


def test_a_sheet_that_must_be_brief_leaves_notes_out_that_its_numbers_and_steps_tell():
    chip = Finding(Level.NOTE, "chip-load", "Each tooth takes a chip.", "A starting value.")
    caution = Finding(Level.CAUTION, "chip-load", "Each tooth takes too much.", "Feed slower.")
    (both,) = told((chip, NOTE), Level.NOTE, "Notes", 180.0)
    assert isinstance(both, Columns)  # two kinds, one beside the other
    alone = list(told((chip, NOTE), Level.NOTE, "Notes", 180.0, is_brief=True))
    assert all(isinstance(piece, Piece) for piece in alone)
    assert list(told((chip,), Level.NOTE, "Notes", 180.0, is_brief=True)) == []
    assert list(told((caution,), Level.CAUTION, "Left open", 180.0, is_brief=True)) != []
