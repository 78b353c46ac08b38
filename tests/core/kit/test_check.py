"""`check` on kits that somebody has changed: harm is a stop that names the file, dress a caution at most."""

import json
import re

import pytest

from core.errors import UnreadableFile
from core.findings import Level
from core.kit.check import check_files
from tests.support import damage as d
from tests.support.pictures import badge_kit

PROGRAM, LAP = "badge-60mm-part-Ztop.nc", "badge-60mm-lap-Ztop.nc"
PART_SVG, PART_DXF = "badge-60mm-part.svg", "badge-60mm-part.dxf"
TEAL, BURLY = "badge-60mm-film-teal", "badge-60mm-film-burlywood"
TEAL_SVG, TEAL_DXF, TEAL_R12 = f"{TEAL}.svg", f"{TEAL}.dxf", f"{TEAL}-r12.dxf"
PLOT = f"{TEAL}.plt"
BURLY_SVG, BURLY_DXF = f"{BURLY}.svg", f"{BURLY}.dxf"
MIDDLE = (37.0, -72.0)  # of the shape, in an SVG's coordinates
EDGE, LAST_LAP = "(edge)", "(edge, last lap)"


def found(files, level):
    return [finding for finding in check_files(files)[1] if finding.level is level]


def changed(name, change):
    """The kit's files with one of them changed."""
    files = dict(badge_kit().files)
    files[name] = change(files[name])
    assert files[name] != badge_kit().files[name]
    return files


def moved_entity(layer, dx):
    def change(drawing):
        next(iter(drawing.modelspace().query(f'*[layer=="{layer}"]'))).translate(dx, 0, 0)

    return lambda data: d.dxf_changed(data, change)


def scaled_layer(layer, factor):
    def change(drawing):
        for entity in drawing.modelspace().query(f'*[layer=="{layer}"]'):
            entity.translate(-MIDDLE[0], MIDDLE[1], 0).scale_uniform(factor).translate(
                MIDDLE[0], -MIDDLE[1], 0
            )

    return lambda data: d.dxf_changed(data, change)


def added(kind, layer):
    """A drawing with one more entity, which goes right across the shape."""

    def change(drawing):
        space, on = drawing.modelspace(), {"layer": layer}
        {
            "line": lambda: space.add_line((20, 80), (60, 80), on),
            "spline": lambda: space.add_spline([(20, 80), (40, 82), (60, 80), (62, 84)], dxfattribs=on),
            "oval": lambda: space.add_ellipse((40, 70), (10, 0), 0.5, dxfattribs=on),
        }[kind]()

    return lambda data: d.dxf_changed(data, change)


def in_svg(group, change):
    return lambda data: d.in_group(data, group, change)


def swapped(old, new, count=-1):
    return lambda data: d.replaced(data, old, new, count)


def tab_cut_through(data):
    """The last lap with the first lift over a tab taken out."""
    head, lap, tail = data.decode().partition(LAST_LAP)
    assert " Z-2.2" in tail
    return (head + lap + tail.replace(" Z-2.2", "", 1)).encode()


def corner_cut_off(data):
    """The first path of the part's outline with its last point left out, so that it cuts a corner off."""
    return d.in_group(data, "part", lambda body: re.sub(r" L[-0-9. ]+(?= [AL])", "", body, count=1))


HARM = {
    "a mark moved in one drawing of the part": (PART_SVG, in_svg("marks", d.first_path_moved(0.02))),
    "a mark moved by little more than a micron": (PART_SVG, in_svg("marks", d.first_path_moved(0.002))),
    "a mark moved in one drawing of a film": (TEAL_SVG, in_svg("marks", d.first_path_moved(0.02))),
    "a mark moved in a DXF": (BURLY_DXF, moved_entity("MARKS", 0.02)),
    "a mark taken out": (TEAL_SVG, in_svg("marks", lambda body: re.sub(r"<path[^>]*/>", "", body, count=1))),
    "the film scaled in the SVG": (TEAL_SVG, in_svg("film-teal", d.paths_scaled(1.001, MIDDLE))),
    "the film scaled in the DXF": (BURLY_DXF, scaled_layer("FILM_BURLYWOOD", 1.001)),
    "the film shifted": (BURLY_SVG, in_svg("film-burlywood", d.first_path_moved(0.02))),
    "a piece of film taken out": (BURLY_SVG, in_svg("film-burlywood", lambda _: ">")),
    "the whole drawing scaled": (
        TEAL_SVG,
        swapped('width="70mm" height="110mm"', 'width="70.07mm" height="110.11mm"'),
    ),
    "the drawing stretched": (
        BURLY_SVG,
        swapped('width="70mm"', 'width="70.07mm" preserveAspectRatio="none"'),
    ),
    "the drawing in pixels": (TEAL_SVG, swapped('width="70mm" height="110mm"', 'width="70" height="110"')),
    "the drawing in inches": (
        PART_SVG,
        swapped('width="70mm" height="110mm"', 'width="70in" height="110in"'),
    ),
    "a transform on a group": (
        TEAL_SVG,
        in_svg("film-teal", lambda body: ' transform="scale(1.001)"' + body),
    ),
    "a page without a unit of its own": (TEAL_SVG, swapped('width="70mm"', 'width="70%"')),
    "a page that cuts some of it off": (TEAL_SVG, swapped("0 -110 70 110", "20 -110 70 110")),
    "a page of another shape": (PART_SVG, swapped('height="110mm"', 'height="120mm"')),
    "a corner of the sheet box lost": (
        TEAL_SVG,
        in_svg("weeding", lambda body: re.sub(r" L[-0-9. ]+(?= [LZ])", "", body, count=1)),
    ),
    "a film that is not shown": (TEAL_SVG, in_svg("film-teal", lambda body: ' display="none"' + body)),
    "a film moved by a style": (
        TEAL_SVG,
        in_svg("film-teal", lambda body: ' style="fill:none; transform: translate(3px, 0)"' + body),
    ),
    "the outline changed": (PART_SVG, in_svg("part", d.paths_scaled(1.0003, MIDDLE))),
    "a corner of the outline cut off": (PART_SVG, corner_cut_off),
    "the as-cut edge changed": (PART_DXF, scaled_layer("AS_CUT", 1.001)),
    "a patch changed": (PART_DXF, scaled_layer("PATCH_TEAL", 1.002)),
    "the unit changed in a DXF": (PART_DXF, swapped("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1")),
    "the unit changed in a film's DXF": (TEAL_DXF, swapped("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n5")),
    "the sheet box changed": (TEAL_SVG, in_svg("weeding", d.paths_scaled(1.01, MIDDLE))),
    "the sheet box taken out": (TEAL_SVG, in_svg("weeding", lambda _: ">")),
    "a level line that is not shown": (
        TEAL_SVG,
        in_svg("notes", lambda body: body.replace("<path", '<path style="display:none"', 1)),
    ),
    "the sheet box shifted": (BURLY_SVG, in_svg("weeding", d.first_path_moved(0.05))),
    "the sheet box shifted in a DXF": (BURLY_DXF, moved_entity("WEEDING", 0.05)),
    "a vertex lost its head in an old DXF": (
        TEAL_R12,
        lambda data: re.sub(rb"  0\nVERTEX\n(  8\nFILM)", rb"  6\nVERTEX\n\1", data, count=2),
    ),
    "the level lines taken out": (TEAL_SVG, in_svg("notes", lambda _: ">")),
    "a line across the film": (TEAL_DXF, added("line", "FILM_TEAL")),
    "a curve across the film that we do not read": (TEAL_DXF, added("spline", "FILM_TEAL")),
    "an oval on the film that we do not read": (TEAL_DXF, added("oval", "FILM_TEAL")),
    "a line on a layer of its own": (TEAL_DXF, added("line", "0")),
    "a curve in the SVG that we do not read": (
        TEAL_SVG,
        in_svg("film-teal", lambda body: body + '<path d="M20 -80 C30 -90 40 -70 60 -80"/>'),
    ),
    "a cut in a group of its own": (
        TEAL_SVG,
        swapped("</svg>", '<g id="more"><path d="M20 -80 L60 -80"/></g></svg>'),
    ),
    "the drawing of the other film": (TEAL_SVG, lambda _: badge_kit().files[BURLY_SVG]),
    "an empty drawing": (TEAL_DXF, lambda _: b""),
    "a drawing cut short": (TEAL_SVG, lambda data: data[: len(data) // 2]),
    "a DXF cut short": (TEAL_R12, lambda data: data[: len(data) // 2]),
    "a program that is a drawing": (PROGRAM, lambda _: badge_kit().files[TEAL_SVG]),
    "the edge shifted": (PROGRAM, d.words_shifted("X", 0.03, EDGE)),
    "the last lap shifted": (PROGRAM, d.words_shifted("Y", 0.03, LAST_LAP)),
    "a mark bored elsewhere": (PROGRAM, d.words_shifted("X", 0.02, "(mark)", "(key mark)")),
    "a line lost": (PROGRAM, d.longest_move_lost(LAST_LAP)),
    "a deeper cut": (PROGRAM, swapped("Z-3.3", "Z-3.32")),
    "a cut that is not through": (PROGRAM, swapped("Z-3.3", "Z-2.95")),
    "a lower tab": (PROGRAM, swapped("Z-2.2", "Z-2.3")),
    "a tab cut through": (PROGRAM, tab_cut_through),
    "a lower safe height": (PROGRAM, swapped("Z5.1", "Z3")),
    "another unit": (PROGRAM, swapped("G21", "G20")),
    "the spindle never on": (PROGRAM, swapped("S10000 M3\n", "")),
    "another speed": (PROGRAM, swapped("S10000", "S16000")),
    "no time to spin up": (PROGRAM, swapped("G4 P5\n", "")),
    "a faster feed": (PROGRAM, swapped("F400", "F900")),
    "a program cut short": (PROGRAM, lambda data: data[: len(data) * 2 // 3]),
    "the lap with the spindle on": (LAP, swapped("M5\n", "S10000 M3\n")),
    "the lap lowered": (LAP, swapped("Z5.1", "Z0.5")),
    "the program as the lap": (LAP, lambda _: badge_kit().files[PROGRAM]),
    "the lap as the program": (PROGRAM, lambda _: badge_kit().files[LAP]),
}


@pytest.mark.parametrize("harm", HARM)
def test_harm_to_a_file_is_a_stop_that_names_it(harm):
    name, change = HARM[harm]
    stops = found(changed(name, change), Level.STOP)
    assert any(name in stop.text for stop in stops)


@pytest.mark.parametrize(
    ("name", "choices"),
    [
        (PROGRAM, {"bit__diameter": "1 mm"}),
        (PROGRAM, {"stock__z_zero": "board"}),
        (PART_SVG, {"bit__diameter": "1 mm"}),
        (TEAL_DXF, {"film__side": "behind"}),
        (BURLY_SVG, {"shape__height": "60.02 mm"}),
    ],
    ids=str,
)
def test_a_file_of_another_kit_under_the_same_name_is_a_stop(name, choices):
    other = badge_kit(**choices)
    entry = next(file for file in badge_kit().report["files"] if file["path"] == name)
    path = next(
        file["path"]
        for file in other.report["files"]
        if [file["role"], file["format"], file.get("film")]
        == [entry["role"], entry["format"], entry.get("film")]
    )
    stops = found(changed(name, lambda _: other.files[path]), Level.STOP)
    assert any(name in stop.text for stop in stops)


def test_a_kit_as_it_was_made_has_nothing_to_say():
    report, findings = check_files(badge_kit().files)
    assert findings == ()
    assert report["readback"] == badge_kit().report["readback"]


def test_a_file_that_is_lost_is_a_stop_whichever_it_is():
    for name in sorted(set(badge_kit().files) - {"report.json"}):
        files = {other: data for other, data in badge_kit().files.items() if other != name}
        assert any(name in stop.text for stop in found(files, Level.STOP)), name


def test_a_file_that_was_renamed_is_missed_by_its_name_and_strange_by_the_new_one():
    files = dict(badge_kit().files)
    files["new.nc"] = files.pop(PROGRAM)
    assert any(PROGRAM in stop.text for stop in found(files, Level.STOP))
    assert any("new.nc" in caution.text for caution in found(files, Level.CAUTION))


def test_a_file_under_another_name_is_told_by_what_is_in_it():
    files = dict(badge_kit().files)
    files["new.nc"] = files.pop(PROGRAM)
    (renamed,) = [one for one in found(files, Level.CAUTION) if one.code == "file-renamed"]
    assert (PROGRAM in renamed.text, "new.nc" in renamed.text) == (True, True)


SHEET, PICTURE = "badge-60mm-job-sheet.pdf", "badge-60mm-picture.png"
JOB, SOURCE = "badge-60mm.samecut", "badge-60mm-source.png"


def test_papers_that_have_changed_places_are_stops_that_tell_which():
    files = dict(badge_kit().files)
    files[PICTURE], files[SOURCE] = files[SOURCE], files[PICTURE]
    texts = [stop.text for stop in found(files, Level.STOP)]
    assert [SOURCE in text and PICTURE in text for text in texts] == [True, True]


@pytest.mark.parametrize("name", [SHEET, PICTURE, JOB])
def test_a_paper_of_another_kit_is_a_stop_that_names_it(name):
    other = badge_kit(bit__diameter="1 mm")
    (stop,) = found(changed(name, lambda _: other.files[name]), Level.STOP)
    assert (stop.code, name in stop.text) == ("file-differs", True)


def test_a_job_with_another_choice_is_a_stop_and_with_a_remark_a_caution():
    (stop,) = found(changed(JOB, swapped("60 mm", "61 mm")), Level.STOP)
    assert stop.code == "file-differs"
    remarked = changed(JOB, lambda data: b"# for Ada\n" + data.replace(b" = ", b"  =  "))
    assert [one.code for one in check_files(remarked)[1]] == ["file-changed"]


@pytest.mark.parametrize(
    "way", [("program", "cut_length_mm"), ("outline", "area_mm2"), ("stock", "good_for_mm")]
)
def test_a_number_of_the_report_that_no_file_says_is_a_stop_all_the_same(way):
    def change(data):
        report = json.loads(data)
        was = report[way[0]][way[1]]
        report[way[0]][way[1]] = [0.5 * one for one in was] if isinstance(was, list) else 1.0
        return json.dumps(report).encode()

    stops = found(changed("report.json", change), Level.STOP)
    assert "report-changed" in {stop.code for stop in stops}


def test_the_seconds_of_a_report_are_nobodys_business():
    files = changed("report.json", lambda data: re.sub(rb'"all": [0-9.]+', b'"all": 99', data))
    assert check_files(files)[1] == ()


def test_a_drawing_that_reaches_over_the_horizon_is_a_stop_and_fills_no_memory():
    far = changed(
        TEAL_DXF,
        lambda data: re.sub(
            rb"(AcDbPolyline.*?\n 10\n)[-0-9.]+", rb"\g<1>9e9", data, count=1, flags=re.DOTALL
        ),
    )
    assert any(TEAL_DXF in stop.text for stop in found(far, Level.STOP))


def test_a_level_line_among_the_film_s_contours_is_a_stop_and_no_traceback():
    line = re.search(rb'<path d="M[-0-9. ]+L[-0-9. ]+"/>', badge_kit().files[TEAL_SVG])[0]
    files = changed(
        TEAL_SVG,
        lambda data: data.replace(
            b'<g id="film-teal"', b'<g id="film-teal">' + line + b"</g>" + b'<g id="film-teal"'
        ),
    )
    assert any(TEAL_SVG in stop.text for stop in found(files, Level.STOP))


@pytest.mark.parametrize("old", [b"PD", b"PU2"])
def test_a_plot_with_its_lines_lost_one_after_another_is_a_stop_and_no_traceback(old):
    lines = badge_kit().files[PLOT].split(b"\n")
    rows = [row for row, line in enumerate(lines) if old in line]
    for row in rows[:: max(len(rows) // 8, 1)]:
        spoilt = b"\n".join(lines[:row] + lines[row + 1 :])
        assert any(PLOT in stop.text for stop in found({**badge_kit().files, PLOT: spoilt}, Level.STOP))


@pytest.mark.parametrize("laid", [-1, -2, 3])
def test_films_told_in_another_order_are_a_stop_and_no_traceback(laid):
    def change(data):
        report = json.loads(data)
        report["films"][-1]["laid"] = laid
        return json.dumps(report).encode()

    assert any("report.json" in stop.text for stop in found(changed("report.json", change), Level.STOP))


def test_two_drawings_that_have_changed_places_are_two_stops():
    files = dict(badge_kit().files)
    files[TEAL_SVG], files[BURLY_SVG] = files[BURLY_SVG], files[TEAL_SVG]
    texts = " ".join(stop.text for stop in found(files, Level.STOP))
    assert TEAL_SVG in texts
    assert BURLY_SVG in texts


CLAIMS = {
    "height_mm": lambda report: report.update(height_mm=60.02),
    "width_mm": lambda report: report.update(width_mm=report["width_mm"] + 0.02),
    "a mark": lambda report: report["marks"][1].update(at=[52.52, 34.0]),
    "a mark's diameter": lambda report: report["marks"][1].update(diameter_mm=5.5),
    "a mark too few": lambda report: report["marks"].pop(),
    "the zero": lambda report: report["frame"].update(zero_at=[0.5, 0.0]),
    "the zero's height": lambda report: report["frame"].update(z_zero="spoil board"),
    "a mirror": lambda report: report["frame"].update(mirror_x=35.0),
    "the thickness": lambda report: report["stock"].update(thickness_mm=2.8),
    "the bit": lambda report: report["program"].update(bit_mm=2.1),
    "the lowest cut": lambda report: report["program"].update(bottom_z_mm=-3.2),
    "a tab's neck": lambda report: report["program"]["tabs"][0].update(neck_mm=3.5),
    "a tab's height": lambda report: report["program"]["tabs"][0].update(height_mm=1.0),
    "a tab too many": lambda report: report["program"]["tabs"].append(report["program"]["tabs"][0]),
    "the speed": lambda report: report["program"].update(spindle_rpm=9000),
    "an inset": lambda report: report["films"][0].update(inset_mm=0.85),
    "a sheet box": lambda report: report["films"][0].update(sheet_box_mm=[64.0, 81.0]),
    "no program": lambda report: report.update(program=None),
}


@pytest.mark.parametrize("claim", CLAIMS)
def test_a_report_that_says_something_else_than_the_files_is_a_stop(claim):
    def change(data):
        report = json.loads(data)
        CLAIMS[claim](report)
        return json.dumps(report).encode()

    assert found(changed("report.json", change), Level.STOP)


def groups_turned_round(data):
    """The groups of an SVG in the opposite order, their attributes too."""
    text = data.decode()
    groups = re.findall(r"<g .*?</g>\n", text, re.DOTALL)
    head, tail = text.split(groups[0])[0], text.split(groups[-1])[1]
    turned = [re.sub(r"<g (id=\S+) (.*?)>", r"<g \2 \1>", group) for group in reversed(groups)]
    return (head + "".join(turned) + tail).encode()


SISTERS = {
    "another inset": {"film__inset": "0.9 mm"},
    "another height, and so other names": {"shape__height": "60.05 mm"},
    "another bit": {"bit__diameter": "1.5 mm"},
    "another neck": {"part__tab_neck": "4 mm"},
    "films for the back": {"film__side": "behind"},
    "zeroed on the board": {"stock__z_zero": "board"},
}


@pytest.mark.parametrize("sister", SISTERS)
def test_a_report_among_the_files_of_a_sister_kit_is_named(sister):
    report = badge_kit(**SISTERS[sister]).files["report.json"]
    stops = found({**badge_kit().files, "report.json": report}, Level.STOP)
    (named,) = [stop for stop in stops if stop.code == "report-exchanged"]
    assert "report.json tells of another kit" in named.text


@pytest.mark.parametrize("lost", [(JOB,), (JOB, PICTURE), (JOB, PICTURE, SHEET, PART_SVG, PART_DXF, LAP)])
def test_files_that_are_lost_are_no_other_kit(lost):
    files = {name: data for name, data in badge_kit().files.items() if name not in lost}
    assert "report-exchanged" not in {stop.code for stop in found({**files, "my notes.txt": b""}, Level.STOP)}


def test_a_remark_in_the_job_and_a_changed_drawing_are_no_other_kit():
    files = changed(JOB, lambda data: b"# for Ada\n" + data)
    files[TEAL_SVG] = d.in_group(files[TEAL_SVG], "marks", d.first_path_moved(0.02))
    assert "report-exchanged" not in {stop.code for stop in found(files, Level.STOP)}


def test_a_plot_with_one_place_a_single_unit_off_is_a_stop_though_its_proof_would_bear_it():
    data = badge_kit().files[PLOT]
    first = re.search(rb"PD(\d+),", data)
    off = data[: first.start()] + b"PD%d," % (int(first[1]) + 1) + data[first.end() :]
    (stop,) = found({**badge_kit().files, PLOT: off}, Level.STOP)
    assert (stop.code, PLOT in stop.text) == ("file-differs", True)


DRESS = {
    "white space in a plot": (PLOT, lambda data: data.replace(b",", b", ").replace(b";", b";\r\n")),
    "white space in an SVG": (PART_SVG, swapped("\n", "\n\n  ")),
    "line ends in an SVG": (TEAL_SVG, swapped("\n", "\r\n")),
    "a comment in an SVG": (TEAL_SVG, swapped("<title>", "<!-- seen by us --><title>")),
    "attributes and groups in another order": (TEAL_SVG, groups_turned_round),
    "another colour": (TEAL_SVG, swapped('stroke="#2c6e91"', 'stroke="red"')),
    "a DXF saved again by another program": (PART_DXF, lambda data: d.dxf_changed(data, lambda _: None)),
    "line ends in a DXF": (TEAL_R12, lambda data: data.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")),
    "a comment in a program": (PROGRAM, swapped(EDGE, "(seen by us)")),
    "no comments in a program": (PROGRAM, lambda data: re.sub(rb"\([^)\n]*\)\n", b"", data)),
    "empty lines in a program": (PROGRAM, swapped("\nG21", "\n\n\nG21")),
    "small letters in a program": (PROGRAM, lambda data: data.lower()),
    "line ends in a program": (PROGRAM, swapped("\n", "\r\n")),
    "zeros in a program": (PROGRAM, lambda data: re.sub(rb"X(\d+)(?= )", rb"X0\1.000", data)),
    "the picture": ("badge-60mm-picture.png", lambda data: data + b" "),
    "the paper": ("badge-60mm-job-sheet.pdf", lambda data: data + b"\n"),
}


@pytest.mark.parametrize("dress", DRESS)
def test_what_a_file_looks_like_is_at_most_a_caution_that_names_it(dress):
    name, change = DRESS[dress]
    files = changed(name, change)
    assert found(files, Level.STOP) == []
    (caution,) = found(files, Level.CAUTION)
    assert (caution.code, name in caution.text) == ("file-changed", True)


def test_a_report_in_another_dress_says_the_same():
    assert check_files(changed("report.json", lambda data: json.dumps(json.loads(data)).encode()))[1] == ()


def test_a_file_more_is_a_caution():
    (caution,) = found({**badge_kit().files, "notes.txt": b"ring Ada"}, Level.CAUTION)
    assert (caution.code, "notes.txt" in caution.text) == ("file-unlisted", True)


@pytest.mark.parametrize("data", [None, b"", b"{}", b"[]", b"\xff", b'{"report": 2}', b'{"report": 1}'])
def test_without_a_report_there_is_no_kit(data):
    files = {name: old for name, old in badge_kit().files.items() if name != "report.json"}
    with pytest.raises(UnreadableFile, match=r"report\.json"):
        check_files(files if data is None else {**files, "report.json": data})
