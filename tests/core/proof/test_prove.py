import pytest

from core.findings import Level
from core.proof.prove import prove
from core.proof.strange import strange_findings
from tests.core.program.programs import text_of
from tests.core.proof.claimed import MARKS, box_path, circle_path, claims, layers, line, svg
from tests.core.proof.test_programs import GOOD, LAP

BOX = "M4 -2L54 -2L54 -27L49 -32L4 -32Z"
LEVELS = ["M0 -10L60 -10", "M0 -30L60 -30"]


def part_svg(**changes):
    groups = {
        "part": [box_path(10, 10, 50, 30)],
        "as_cut": [box_path(10, 10, 50, 30)],
        "patch_sky": [box_path(10, 10, 30, 30)],
        "marks": [circle_path(at, 3.5) for at in MARKS],
        "notes": LEVELS,
    }
    return svg(**groups | changes)


def film_svg(turn="", **changes):
    groups = {
        "film_sky": [box_path(11, 11, 30, 29)],
        "marks": [circle_path(at, 3.0) for at in MARKS],
        "weeding": [BOX],
        "notes": LEVELS,
    }
    return svg(turn, **groups | changes)


FILES = {
    "part.svg": part_svg(),
    "sky.svg": film_svg(),
    "part.nc": text_of(*GOOD),
    "lap.nc": text_of(*LAP).replace(b"S10000 M3\n", b""),
}
LISTED = [
    {"role": "part-drawing", "format": "svg", "path": "part.svg", "sha256": ""},
    {"role": "film-drawing", "format": "svg", "path": "sky.svg", "sha256": "", "film": "sky"},
    {"role": "part-program", "format": "rs274", "path": "part.nc", "sha256": ""},
    {"role": "clearance-lap", "format": "rs274", "path": "lap.nc", "sha256": ""},
]


def proven(files=FILES, listed=LISTED, **changes):
    return prove(files, claims(files=listed, **changes))


def codes(readback):
    assert all(finding.level is Level.STOP for finding in readback.findings)
    return {finding.code for finding in readback.findings}


def test_a_kit_that_agrees_has_its_figures_and_no_findings():
    readback = proven()
    assert codes(readback) == set()
    assert readback.height_error_mm <= 1e-6
    assert readback.edge.max_mm <= 0.01
    assert readback.films["sky"].max_mm <= 0.01
    assert readback.mark_error_mm <= 0.001
    assert readback.rules.checked > 100


def test_a_film_for_the_back_is_judged_after_its_mirror_is_undone():
    files = FILES | {"sky.svg": film_svg("matrix(-1 0 0 1 60 0)")}
    assert codes(proven(files, frame__mirror_x=30.0)) == set()
    assert {"film-differs", "marks-differ"} <= codes(proven(files))


def test_a_kit_with_a_stop_has_no_program_and_is_judged_by_its_drawings():
    files = {name: FILES[name] for name in ("part.svg", "sky.svg")}
    readback = proven(files, LISTED[:2], program=None)
    assert codes(readback) == set()
    assert readback.edge is None


def test_a_program_that_the_report_says_is_not_there_is_a_stop():
    assert codes(proven(program=None)) == {"program-unclaimed"}


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("part.svg", None, {"no-part-drawing", "file-missing"}),
        ("part.svg", b"no drawing", {"no-part-drawing", "file-unreadable"}),
        ("sky.svg", None, {"no-film-drawing", "file-missing"}),
        ("sky.svg", b"", {"no-film-drawing", "file-unreadable"}),
        ("part.nc", None, {"file-unreadable"}),
        ("part.nc", b"G21\nX1 X2\n", {"file-unreadable"}),
        ("lap.nc", None, {"file-unreadable"}),
        ("lap.nc", text_of(*LAP), {"spindle-on"}),
        ("part.svg", part_svg(as_cut=[box_path(10, 10, 50.02, 30)]), {"drawing-differs"}),
        ("part.svg", part_svg(patch_sky=[]), {"layer-missing", "film-differs"}),
        ("part.svg", part_svg(notes=[]), {"size-differs"}),
        ("part.svg", part_svg(notes=[LEVELS[0], "M0 -30L60 -29.9"]), {"size-differs"}),
        ("part.svg", part_svg(more=[box_path(1, 1, 2, 2)]), {"layer-strange"}),
        ("sky.svg", film_svg(film_sky=[box_path(11, 11, 30.02, 29)]), {"film-differs"}),
        ("sky.svg", film_svg(film_sky=[box_path(10.9, 11, 30, 29)]), {"film-differs", "film-outside"}),
        ("sky.svg", film_svg(notes=LEVELS[:1]), {"size-differs"}),
        ("sky.svg", film_svg(weeding=[]), {"sheet-box-missing"}),
        ("sky.svg", film_svg(marks=[]), {"marks-differ"}),
        ("sky.svg", film_svg(film_sea=[box_path(1, 1, 2, 2)]), {"layer-strange"}),
    ],
)
def test_what_is_wrong_with_a_file_is_a_stop_that_names_it(name, data, said):
    files = {other: old for other, old in FILES.items() if other != name}
    readback = proven(files if data is None else files | {name: data})
    assert codes(readback) == said
    assert any(name in finding.text for finding in readback.findings)


def test_two_programs_or_none_where_one_is_claimed_is_a_stop():
    assert codes(proven(listed=LISTED[:3])) == {"program-missing"}
    assert codes(proven(listed=[*LISTED, LISTED[2]])) == {"program-missing"}


def test_the_worst_of_several_drawings_of_a_film_is_told():
    more = {"role": "film-drawing", "format": "svg", "path": "sky2.svg", "sha256": "", "film": "sky"}
    files = FILES | {"sky2.svg": film_svg(film_sky=[box_path(11, 11, 30.5, 29)])}
    readback = proven(files, [*LISTED, more])
    assert readback.films["sky"].max_mm == pytest.approx(0.5)
    assert all("sky2.svg" in finding.text for finding in readback.findings)


def test_shapes_on_no_layer_are_strange_and_notes_may_hold_anything():
    assert strange_findings("a.svg", layers(notes=[line((0, 0), (1, 1))]), ("notes",)) == ()
    (stop,) = strange_findings("a.svg", layers(**{"": [line((0, 0), (1, 1))]}), ("notes",))
    assert (stop.code, "on no layer" in stop.text) == ("layer-strange", True)


def test_two_drawings_of_one_film_that_weed_differently_differ():
    """Nothing but the other drawing says where a weed line stands."""
    twice = [*LISTED, {**LISTED[1], "path": "sky-2.svg"}]
    weeded = {name: film_svg(weeding=[BOX, "M5 -8L8 -8"]) for name in ("sky.svg", "sky-2.svg")}
    assert "drawings-differ" not in codes(proven(FILES | weeded, twice))
    other = weeded | {"sky-2.svg": film_svg(weeding=[BOX.replace("27", "26"), "M5 -8L8 -8"])}
    assert "drawings-differ" in codes(proven(FILES | other, twice))


@pytest.mark.parametrize(
    "body", ['<text x="3" y="-3">12</text>', '<use href="#as-cut"/>', '<image width="9"/>']
)
def test_what_is_neither_line_nor_arc_is_a_stop_on_any_layer_that_is_cut(body):
    for layer, told in (("part", {"shape-unread"}), ("notes", set())):
        drawn = part_svg().replace(f'<g id="{layer}">'.encode(), f'<g id="{layer}">{body}'.encode())
        assert codes(proven(FILES | {"part.svg": drawn})) == told
