"""The kit's report: what was made, in the words and fields that scripts and other programs rely on."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from importlib.metadata import PackageNotFoundError, version
from math import degrees, isfinite
from typing import Any

from core.build import Build
from core.decal.film import Film
from core.decal.sheet_box import SheetBox
from core.decal.size_witness import LENGTH_MM
from core.findings import Finding
from core.job.resolve import (
    cutter_correction,
    film_stock_of,
    knife_of,
    laying_of,
    machine_of,
    router_correction,
    svg_unit_of,
    weed_heights_of,
)
from core.kit.bench import reported_bench
from core.kit.corrected import box_to_read, piece_to_load
from core.kit.drawings import waste_lines
from core.kit.kit import KitFile
from core.kit.nest_program import nest_entry
from core.kit.plots import plot_frame
from core.kit.programs import ProgramSet, setup_of, travel_of, window_of, z_shift_of, z_zero_of
from core.kit.true_size import page_shifts
from core.outline.region import bounds_of
from core.proof.edges import EdgeDistance
from core.proof.readback import Readback
from core.router.travel import air_travel
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.sight import GAP_MM
from core.sheet.zero import reported_zero

#: Decimals of a number in the report: a millionth of a millimetre says all that is known.
DECIMALS = 6

Json = dict[str, Any]


def made_by() -> str:
    """The program's name and version."""
    try:
        return f"samecut {version('samecut')}"
    except PackageNotFoundError:
        return "samecut"


def report_of(made: Build, programs: ProgramSet | None, box: SheetBox, files: Sequence[KitFile]) -> Json:
    """The report before its proof: everything that the proof is held against."""
    job, layout = made.job, made.layout
    machine = machine_of(job)
    return rounded(
        {
            "report": 1,
            "made_by": made_by(),
            "pieces": len(layout.copies),
            "copies": [{"at": list(copy.at), "turned": copy.is_turned} for copy in layout.copies],
            "used": used_of(made, box),
            "fit": {"way": job.fit.way, "forecast": _forecast(made), **_sight_error(made)},
            "height_mm": made.shape.size_mm[1],
            "width_mm": made.shape.size_mm[0],
            **_whole_part(made),
            "outline": _outline(made),
            "frame": {
                "work_zero": reported_zero(job.stock.zero_on, layout.zero_at),
                "zero_at": list(layout.zero_at),
                "found": _found(made),
                "z_zero": z_zero_of(job),
                "plot_shift": list(plot_frame(made, box).shift),
                "page_shift": [list(shift) for shift in page_shifts(made, box)],
                "mirror_x": layout.mirror_x if job.film.side == "behind" else None,
                "hinge": _hinge(layout),
            },
            "marks": [
                {
                    "at": list(mark.at),
                    "diameter_mm": mark.diameter_mm,
                    "key": mark.is_key,
                    "kind": mark.kind,
                    "seen": mark.seen,
                    "film_diameter_mm": mark.film_diameter_mm,
                    **sight_entry(mark),
                }
                for mark in layout.marks
            ],
            "correction": {
                "router": router_correction(job).reported(),
                "cutter": cutter_correction(job).reported(),
            },
            "stock": _stock(made),
            "machine": {
                "travel_mm": list(machine.travel_mm),
                "spindle": machine.spindle,
                "spin_up_s": machine.spin_up_s,
                "dwell_unit": job.machine.dwell_unit,
            },
            "clamps": [
                {
                    "at": list(clamp.at),
                    "size_mm": list(clamp.size_mm),
                    "height_mm": clamp.height_mm,
                    "round": clamp.is_round,
                }
                for clamp in layout.clamps
            ],
            "program": _program(made, programs) if programs else None,
            "bench": reported_bench(made, has_program=programs is not None),
            "nest": nest_entry(made) if programs else None,
            "second": _second(made),
            "tips": [
                {"at": list(tip.at), "inset_mm": tip.inset_mm, "reach_mm": tip.reach_mm}
                for tip in made.films.tips
            ],
            "lettering": [
                {
                    "film": row.film,
                    "glyphs": [{"at": list(at)} for at in row.glyphs],
                    "about": list(row.about),
                    "scale": row.scale,
                    "shift_mm": list(row.shift),
                    "ground": row.ground,
                }
                for row in made.films.rows
            ],
            "reliefs": [
                {
                    "from": list(one.wall[0]),
                    "at": list(one.wall[1]),
                    "to": list(one.wall[2]),
                    "reach_mm": one.reach_mm,
                }
                for one in made.films.reliefs
            ],
            "films": [_film(made, index, box) for index in range(len(made.films.films))],
            "files": [file.listed() for file in files],
        }
    )


def with_proof(report: Json, made: Build, readback: Readback, findings: Iterable[Finding]) -> Json:
    """The report with the figures of its read-back and all findings."""
    tips = [
        {"at": list(one.at), "why": str(one.why), "size_mm": one.size_mm}
        for one in made.films.excepted
        if one.why == "tip"  # all others are read back from the files
    ]
    proof = proof_entry(readback)
    proof["excepted"] = [*_rounded(tips), *proof["excepted"]]
    entries = [rounded(finding_entry(finding)) for finding in findings]
    return report | {"readback": proof, "findings": entries}


def proof_entry(readback: Readback) -> Json:
    """The figures of a read-back as the report lists them."""
    return rounded(
        {
            "height_error_mm": readback.height_error_mm,
            "edge_error_mm": _edge(readback.edge),
            "film_error_mm": {name: _edge(edge) for name, edge in readback.films.items()},
            "mark_error_mm": readback.mark_error_mm,
            "plot_error_mm": {name: _edge(edge) for name, edge in readback.plots.items()},
            "plot_mark_error_mm": readback.plot_mark_error_mm,
            "excepted": [
                {"at": list(one.at), "why": str(one.why), "size_mm": one.size_mm} for one in readback.excepted
            ],
            "rules": {"checked": readback.rules.checked, "broken": list(readback.rules.broken)},
        }
    )


def finding_entry(finding: Finding) -> Json:
    """A finding as the report lists it."""
    return {
        "level": str(finding.level),
        "code": finding.code,
        "at": None if finding.at is None else list(finding.at),
        "text": finding.text,
        "remedy": finding.remedy,
    }


def _whole_part(made: Build) -> Json:
    """Width and height of the part where there is more to it than the picture has."""
    if made.shape.part is made.shape.drawn:
        return {}
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in made.shape.part)
    return {"part_mm": [x_max - x_min, y_max - y_min]}


def used_of(made: Build, box: SheetBox) -> Json:
    """Stock and film used for all pieces, mm2: areas, and what lies on the parts and in the films of it.

    film_length_mm is what all films take of a roll, one after the other, with room for the rollers.
    """
    count, stock = len(made.layout.copies), made.layout.stock
    return {
        "stock_mm2": stock.width_mm * stock.depth_mm,
        "parts_mm2": count * sum(region.area() for region in made.as_cut),
        "film_sheets_mm2": len(made.films.films) * box.size_mm[0] * box.size_mm[1],
        "film_length_mm": len(made.films.films) * film_stock_of(made.job).piece_for(box.size_mm)[1],
        "films_mm2": count * sum(film.area() for film in made.films.films),
    }


def _found(made: Build) -> Json | None:
    """Where the program says that the sheet lies."""
    pose = made.found.pose
    return None if pose is None else {"shift_mm": list(pose.shift), "turn_deg": degrees(pose.turn)}


def _sight_error(made: Build) -> Json:
    """How far off sight edges lay a part at its worst place, where film and part are fitted by them."""
    return {"sight_error_mm": made.sighted.error_mm} if made.sighted else {}


def sight_entry(mark: Mark) -> Json:
    """Of a strip beside the part: how far from its edge as cut, and how large, since it is no circle."""
    if mark.strip is None:
        return {}
    area = abs(mark.strip.signed_area())
    return {"gap_mm": GAP_MM, "area_mm2": area}


def _forecast(made: Build) -> Json | None:
    """How well film and part are expected to meet, and the inset that follows."""
    fit = made.fit
    if fit is None:
        return None
    return {"median_mm": fit.median_mm, "claim_mm": fit.claim_mm, "inset_mm": fit.inset_mm}


def _hinge(layout: Layout) -> Json | None:
    """The strip kept free for the tape hinge; null where there is none."""
    return {"side": layout.hinge_side, "width_mm": layout.hinge_mm} if layout.hinge_side else None


def _outline(made: Build) -> Json:
    loops = [loop for region in made.shape.part for loop in region.loops()]
    curved = sum(int((loop.bulges != 0.0).sum()) for loop in loops)
    return {
        "regions": len(made.shape.part),
        "openings": sum(len(region.openings) for region in made.shape.part),
        "lines": sum(len(loop.bulges) for loop in loops) - curved,
        "arcs": curved,
        "area_mm2": sum(region.area() for region in made.shape.part),
        "edge_doubt_mm": max(made.shape.outline.doubt, default=0.0),
    }


def _stock(made: Build) -> Json:
    stock, window = made.layout.stock, window_of(made)
    return {
        "width_mm": stock.width_mm,
        "depth_mm": stock.depth_mm,
        "thickness_mm": stock.thickness_mm,
        "thickness_spread_mm": stock.thickness_spread_mm,
        "masking_top_mm": stock.masking_top_mm,
        "masking_bottom_mm": stock.masking_bottom_mm,
        "corner_mm": [0.0, 0.0],
        "good_for_mm": [window.thinnest_mm, window.thickest_mm],
        "board_mm": made.job.stock.board.value,
        "board_error_mm": made.job.stock.board_error.value,
    }


def _program(made: Build, programs: ProgramSet) -> Json:
    setup, path, shift = setup_of(made), made.path, z_shift_of(made)
    return {
        "bit_mm": setup.bit.called_mm,
        "above_tip": [
            {"above_mm": drum.above_tip_mm, "diameter_mm": drum.diameter_mm} for drum in setup.drums()
        ],
        "safe_z_mm": path.safe_z_mm + shift,
        "bottom_z_mm": path.bottom_z_mm + shift,
        "passes": path.passes,
        "depth_per_pass_mm": setup.cutting.depth_per_pass_mm,
        "tabs": [
            {"at": list(tab.at), "neck_mm": tab.neck_mm, "wall_mm": tab.wall_mm, "height_mm": tab.height_mm}
            | {"why": tab.why}
            for tab in path.tabs
        ],
        "skin": _skin(made),
        "air_travel_mm": _air_travel(made),
        "breaks": [
            {"from": list(cut.start), "to": list(cut.end), "left_mm": cut.left_mm} for cut in path.breaks
        ],
        "stair": [{"at": list(step.at), "depth_mm": step.depth_mm} for step in path.stair],
        "cut_length_mm": path.cut_length_mm,
        "motion_time_s": programs.seconds,
        "feed_mm_min": setup.cutting.feed_mm_min,
        "plunge_mm_min": setup.cutting.plunge_mm_min,
        "spindle_rpm": setup.cutting.spindle_rpm,
        "air_cut_mm": made.job.cutting.air_cut.value,
        "travel_mm": asdict(travel_of(made)),
    }


def _air_travel(made: Build) -> Json:
    """Across in the air, and the least that any order of the same cuts could do with."""
    travel = air_travel(made.path.toolpath)
    return {"travelled": travel.travelled_mm, "least": travel.least_mm}


def _skin(made: Build) -> Json | None:
    """What holds the part instead of tabs; null where tabs do."""
    setup = setup_of(made)
    if not setup.has_skin:
        return None
    return {"thickness_mm": setup.tab_rule.skin_mm, "openings_through": made.path.openings_through}


def _second(made: Build) -> Json | None:
    """How the second picture lies on the first; null without one."""
    if made.laid is None:
        return None
    match, px_mm = made.laid.second.match, made.shape.scale
    other = match.runner_up
    return {
        "scale": match.pose.scale,
        "turn_deg": match.pose.turn_deg,
        "shift_px": list(match.pose.shift),
        "by_hand": match.by_hand,
        "matched": match.matched,
        "rms_mm": match.rms * px_mm if match.matched else None,
        "growth_mm": match.growth * px_mm,
        "stretch": match.stretch,
        "runner_up": None
        if other is None
        else {"matched": other.matched, "mirrored": other.pose.is_mirrored},
    }


def _film(made: Build, index: int, box: SheetBox) -> Json:
    film, knife = made.films.films[index], knife_of(made.job)
    return {
        "name": film.name,
        "knife": {
            "offset_mm": knife.offset_mm,
            "compensated": knife.is_compensated,
            "overcut_mm": knife.overcut_mm,
        },
        "colour": film.colour,
        "pieces": film.pieces,
        "area_mm2": film.area(),
        "inset_mm": film.inset_mm,
        "overlap_mm": laying_of(made.job).overlap_mm,
        "laid": laid_as(made, index),
        "smallest_width_mm": film.smallest_width_mm,
        "sheet_box_mm": list(box.size_mm),
        "corner_mm": made.job.film.corner_radius.value,
        "made_of": made.job.film.made_of,
        "stencil": _stencil(film),
        "rim": {
            "how": str(made.films.rim.how),
            "widest_mm": made.films.rim.widest_mm,
            "runs": [
                {"start": list(run.start), "end": list(run.end), "width_mm": run.width_mm} for run in film.rim
            ],
        },
        "dropped": [{"at": list(one.at), "area_mm2": one.area_mm2} for one in film.dropped],
        "joined": [
            {"from": list(one.start), "to": list(one.end), "width_mm": one.width_mm}
            for one in film.done.bridges
        ],
        "filled": [{"at": list(one.at), "area_mm2": one.area_mm2} for one in film.done.filled],
        "fine": {
            "stroke_mm": made.job.film.stroke.value,
            "gap_mm": made.job.film.gap.value,
            "most_mm": made.job.film.most_moved.value,
            "moved": [
                {"at": list(one.at), "why": one.why, "from_mm": one.from_mm, "to_mm": one.to_mm}
                for one in film.done.moved
            ],
        },
        "read_box_mm": list(box_to_read(made.job, box)),
        "film_piece_mm": list(piece_to_load(made.job, box)),
        "weed_lines": len(waste_lines(film, made.layout, box, weed_heights_of(made.job, box))),
        "witness_mm": LENGTH_MM if made.job.knife.witness else 0.0,
        "svg_unit_mm": svg_unit_of(made.job),
    }


def _stencil(film: Film) -> Json | None:
    """Of a film that is a negative: its bridges, and islands that none hold; null for any other."""
    if film.stencil is None:
        return None
    return {
        "bridge_mm": film.stencil.bridge_mm,
        "bridges": [
            {"from": list(one.start), "to": list(one.end), "width_mm": one.width_mm}
            for one in film.stencil.bridges
        ],
        "loose": [{"at": list(at)} for at in film.stencil.loose],
    }


def laid_as(made: Build, index: int) -> int:
    """Which film of all goes on first (1) and which after it: behind clear stock the upper one does."""
    return len(made.films.films) - index if made.job.film.side == "behind" else index + 1


def _edge(edge: EdgeDistance | None) -> Json | None:
    if edge is None:
        return None
    return {"rms": edge.rms_mm, "max": edge.max_mm, "at": None if edge.at is None else list(edge.at)}


def rounded(values: Json) -> Json:
    """An object of the report with its numbers to DECIMALS."""
    return {key: _rounded(item) for key, item in values.items()}


def _rounded(value: Any) -> Any:
    """Numbers to DECIMALS, so that the last bit of a sum shows in no report; never -0.

    What is farther off than can be told, which a finding says in words, is null: JSON has no infinity.
    """
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0 if isfinite(value) else None
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list) else value
