"""The papers of a kit, filled from its Build."""

from collections.abc import Mapping
from dataclasses import replace
from math import isfinite

import numpy as np

from core.build import Build
from core.decal.fit_band import FitBand
from core.decal.relief import RELIEF_MM
from core.decal.sheet_box import SheetBox
from core.decal.size_witness import LENGTH_MM
from core.findings import Finding, Point
from core.job.resolve import (
    inset_of,
    knife_of,
    laying_of,
    router_correction,
)
from core.kit.bench import bench_of, measure_rows, set_z_of
from core.kit.corrected import box_to_read, corrected_words, piece_to_load
from core.kit.kit import FileRole, KitFile, KitNames
from core.kit.known import Known, said_limits
from core.kit.pictures import band_of, look_of, with_band
from core.kit.programs import ProgramSet, setup_of, travel_of, window_of, z_shift_of, z_zero_of
from core.kit.report import laid_as, made_by
from core.kit.since import said_since
from core.kit.true_size import paper_of
from core.kit.written import Written
from core.nest.nest import Nest
from core.outline.region import bounds_of, mapped
from core.paper.job_sheet import JobSheet, job_sheet_pdf
from core.paper.no_program import no_program_text
from core.paper.numbers import CutNumbers, Number, cutting_numbers
from core.paper.order import FrameWork, Stage, corner_of, in_its_frame
from core.paper.order_by_edge import EdgeWork, by_its_edge
from core.paper.order_in_nest import NestWork, in_a_nest
from core.paper.order_on_sheet import SheetWork, on_sheet_first
from core.paper.setup_drawing import Clamp, SetUp
from core.paper.steps import FilmSheet
from core.paper.trouble import stop_lines
from core.router.judged import Judged, judged
from core.router.setup import Setup
from core.sheet.placement import repeated
from core.sheet.sight import GAP_MM
from core.sheet.zero import zero_words

#: mm: copy paper (70 to 90 g/m2, 0.10 to 0.12 mm).
PAPER_MM = (0.08, 0.13)


def job_sheet_file(made: Build, written: Written, findings: tuple[Finding, ...], known: Known) -> KitFile:
    """The PDF for the bench."""
    names, programs = written.names, written.programs
    width, height = made.shape.size_mm
    band = band_of(made)
    count = len(made.layout.copies)
    pieces = f"{count} pieces, each " if count > 1 else ""
    summary = (
        f"{pieces}{height:g} mm tall, {width:.2f} mm wide{_on_more(made)}, "
        f"of {made.job.stock.material} {_thickness(made)} mm; "
        f"{len(made.films.films)} films{_giver(made)}, inset {inset_of(made.job):g} mm."
        f"{corrected_words(made.job)}{_band_words(band)}"
    )
    films = tuple(
        FilmSheet(
            film.name,
            film.colour,
            _drawing_of(film.name, written.drawings),
            box_to_read(made.job, written.box),
        )
        for film in made.films.films
    )
    bench = bench_of(made, has_program=programs is not None)
    sheet = JobSheet(
        title=names.base(),
        summary=summary,
        look=with_band(look_of(made), band),
        setup=_setup(made),
        board=_board(made),
        numbers=_numbers(made, programs) if programs else (),
        stages=stages_of(made, programs, written.box),
        films=films,
        findings=findings,
        made_by=made_by(),
        stop_if=stop_lines(bench.stop_ifs, melts=setup_of(made).cutting.material.melts),
        measures=measure_rows(bench.measures, made.job.fit.way),
        since=said_since(known.since),
        limits=said_limits(known),
    )
    return KitFile(
        FileRole.JOB_SHEET, "pdf", names.named("job-sheet", "pdf"), job_sheet_pdf(sheet, paper_of(made.job))
    )


def _band_words(band: FitBand | None) -> str:
    """What the band in the picture means; in few words, the sheet is full."""
    return "" if band is None else f" The band in the picture: edges of film {band.off_mm:.2f} mm off."


def _on_more(made: Build) -> str:
    """The size of the whole part, where a plate or bridges make it more than the drawn shape."""
    if made.shape.part is made.shape.drawn:
        return ""
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in made.shape.part)
    return f" as drawn (the whole part {x_max - x_min:.2f} mm wide, {y_max - y_min:.2f} mm tall)"


def no_program_file(names: KitNames, findings: tuple[Finding, ...]) -> KitFile:
    """Why there is no program."""
    return KitFile(FileRole.NO_PROGRAM, "txt", "NO-PROGRAM.txt", no_program_text(names.base(), findings))


def _giver(made: Build) -> str:
    """Where the films come from, where that is not the picture of the part."""
    return " from the second picture" if made.laid else ""


def _thickness(made: Build) -> str:
    return f"{made.layout.stock.thickness_mm:.2f}"


def _drawing_of(film: str, drawings: tuple[KitFile, ...]) -> str:
    return next((file.path for file in drawings if file.film == film), "")


def _setup(made: Build) -> SetUp:
    layout = made.layout
    return SetUp(
        stock=layout.stock,
        zero_at=layout.zero_at,
        part=made.every_part,
        as_cut=made.every_as_cut,
        marks=layout.marks_on_sheet,
        tabs=tuple(tab.at for tab in made.path.tabs),
        hinge_side=layout.hinge_side,
        piece=made.part,
        breaks=tuple((cut.start, cut.end) for cut in made.path.breaks),
        bit_mm=setup_of(made).bit.diameter_mm,
        clamps=tuple(Clamp(clamp.at, clamp.size_mm, is_round=clamp.is_round) for clamp in layout.clamps),
    )


def _board(made: Build) -> SetUp | None:
    """The nest board seen from above, counted from its own corner."""
    if made.nest is None:
        return None
    nested, layout = made.nest, made.layout
    (x, y), pocket = nested.board.at, repeated(nested.pocket, layout.copies)
    stock = replace(layout.stock, width_mm=nested.board.width_mm, depth_mm=nested.board.depth_mm)
    moved = mapped(pocket, lambda loop: loop.moved(-x, -y))
    marks = tuple(replace(mark, at=(mark.at[0] - x, mark.at[1] - y)) for mark in layout.marks)
    return SetUp(stock, (0.0, 0.0), moved, moved, marks, ())


def _touched_with(made: Build) -> str:
    touch = made.job.stock.touch.value
    if touch == 0.0:
        return "nothing between"
    return f"copy paper, {touch:g} mm" if PAPER_MM[0] <= touch <= PAPER_MM[1] else f"a gauge of {touch:g} mm"


def _numbers(made: Build, programs: ProgramSet) -> tuple[Number, ...]:
    setup, window, shift = setup_of(made), window_of(made), z_shift_of(made)
    cutting = setup.cutting
    numbers = cutting_numbers(
        CutNumbers(
            bit_mm=setup.bit.diameter_mm,
            flutes=setup.bit.flutes,
            spindle_rpm=cutting.spindle_rpm,
            feed_mm_min=cutting.feed_mm_min,
            plunge_mm_min=cutting.plunge_mm_min,
            depth_per_pass_mm=cutting.depth_per_pass_mm,
            passes=made.path.passes,
            motion_time_s=programs.seconds,
            z_zero=z_zero_of(made.job),
            set_z_mm=set_z_of(made.job, made.layout.stock.masking_top_mm),
            touched_with=_touched_with(made),
            safe_z_mm=made.path.safe_z_mm + shift,
            bottom_z_mm=made.path.bottom_z_mm + shift,
            skim_mm=cutting.skim_mm,
            thickness_mm=setup.layout.stock.thickness_mm,
            good_for_mm=(window.thinnest_mm, window.thickest_mm),
            travel=travel_of(made),
        )
    )
    return (*numbers, *limits_of(setup))


def limits_of(setup: Setup) -> tuple[Number, ...]:
    """What force, power and bending come to, with their limits and sources."""
    forces = [one for one in judged(setup.cutting, setup.bit) if one.unit in {"N", "W", "mm"}][2:]
    return tuple(Number(one.name.capitalize(), f"{one.value:.2g} {one.unit}", _limits(one)) for one in forces)


def _limits(one: Judged) -> str:
    return f"at most {one.high:g} {one.unit}" if isfinite(one.high) else one.source


def stages_of(made: Build, programs: ProgramSet | None, box: SheetBox) -> tuple[Stage, ...]:
    """The order of work; without programs that of the films alone."""
    layout, setup, knife = made.layout, setup_of(made), knife_of(made.job)
    paths = {file.role: file.path for file in programs.files} if programs else {}
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in made.every_part)
    keys = [mark.at for mark in layout.marks if mark.is_key]
    corner = corner_of(keys[0], ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)) if keys else ""
    work = FrameWork(
        program=paths.get(FileRole.PART_PROGRAM, ""),
        lap=paths.get(FileRole.CLEARANCE_LAP, ""),
        air_cut=paths.get(FileRole.AIR_CUT, ""),
        zero_words=zero_words(made.job.stock.zero_on, layout.zero_at),
        z_zero=z_zero_of(made.job),
        set_z_mm=set_z_of(made.job, made.layout.stock.masking_top_mm),
        touched_with=_touched_with(made),
        bit_words=f"{setup.bit.called_mm:g} mm",
        spindle=setup.machine.spindle,
        spindle_rpm=setup.cutting.spindle_rpm,
        thickness_mm=layout.stock.thickness_mm,
        key_corner=corner,
        hinge_side=layout.hinge_side,
        tab_count=len(made.path.tabs),
        break_count=len(made.path.breaks),
        relief_mm=RELIEF_MM if made.films.reliefs else 0.0,
        break_left_mm=made.path.breaks[0].left_mm if made.path.breaks else 0.0,
        skin_mm=setup.tab_rule.skin_mm,
        board_error_mm=made.job.stock.board_error.value,
        is_punched=made.nest is not None or not layout.stock.is_clear,
        is_behind=made.job.film.side == "behind",
        has_films=bool(made.films.films),
        film_order=films_as_laid(made),
        overlap_mm=laying_of(made.job).overlap_mm,
        is_wood=not setup.cutting.material.melts,
        cracks=setup.cutting.material.cracks,
        has_plots=made.job.knife.plot,
        knife_mm=knife.offset_mm if knife.is_compensated else 0.0,
        film_piece_mm=piece_to_load(made.job, box),
        witness_mm=LENGTH_MM if made.job.knife.witness else 0.0,
    )
    if made.nest is not None:
        return in_a_nest(_nest_work(made, made.nest, replace(work, bores_marks=False), paths))
    if made.sighted is not None:
        beside = replace(work, bores_marks=False, has_strips=True, is_punched=False)
        return by_its_edge(EdgeWork(beside, GAP_MM, len(made.sighted.pieces[0].marks)))
    if made.job.fit.way != "sheet":
        return in_its_frame(work)
    x, y = layout.zero_at
    marks = tuple((mark.at[0] - x, mark.at[1] - y) for mark in layout.marks)
    return on_sheet_first(SheetWork(work, marks, expected_readings(made, marks)))


def _nest_work(made: Build, nested: Nest, work: FrameWork, paths: Mapping[FileRole, str]) -> NestWork:
    board = nested.board
    return NestWork(
        work,
        paths.get(FileRole.NEST_PROGRAM, ""),
        paths.get(FileRole.NEST_LAP, ""),
        (board.width_mm, board.depth_mm, board.thickness_mm),
        made.job.fit.board_material,
        made.job.fit.hole.value,
        nested.play_mm,
    )


def films_as_laid(made: Build) -> tuple[str, ...]:
    """The films' names, the one that goes on first in front."""
    films = made.films.films
    return tuple(films[place].name for place in sorted(range(len(films)), key=lambda i: laid_as(made, i)))


def expected_readings(made: Build, marks: tuple[Point, ...]) -> tuple[Point, ...]:
    """What the controller should show over each mark; nothing before the sheet was found."""
    if made.found.pose is None:
        return ()
    places = router_correction(made.job).of(made.found.pose.of(np.array(marks))).tolist()
    return tuple((float(x), float(y)) for x, y in places)
