"""A whole kit, held to its promises and to what people and scripts rely on."""

from hashlib import sha256

import pytest

from core.findings import Level
from tests.support.pictures import badge_kit, badge_png

ROLES = {
    "part-program",
    "clearance-lap",
    "part-drawing",
    "film-drawing",
    "film-plot",
    "job-sheet",
    "paper-proof",
    "picture",
    "job",
    "source",
}

#: contract: every field of the report and its kind; a dict stands for an object, a list for a list of it.
NUMBER, TEXT, PAIR, TRIPLE, ANY = "number", "text", "pair", "triple", "any"
FIELDS = {
    "report": NUMBER,
    "made_by": TEXT,
    "pieces": NUMBER,
    "height_mm": NUMBER,
    "width_mm": NUMBER,
    "outline": dict.fromkeys(("regions", "openings", "lines", "arcs", "area_mm2", "edge_doubt_mm"), NUMBER),
    "frame": {
        "work_zero": TEXT,
        "zero_at": PAIR,
        "found": ANY,
        "z_zero": TEXT,
        "plot_shift": PAIR,
        "page_shift": ANY,
        "mirror_x": ANY,
    },
    "marks": [
        {
            "at": PAIR,
            "diameter_mm": NUMBER,
            "key": ANY,
            "kind": TEXT,
            "seen": TEXT,
            "film_diameter_mm": NUMBER,
        }
    ],
    "correction": {"router": ANY, "cutter": ANY},
    "stock": {
        "width_mm": NUMBER,
        "depth_mm": NUMBER,
        "thickness_mm": NUMBER,
        "thickness_spread_mm": NUMBER,
        "masking_top_mm": NUMBER,
        "masking_bottom_mm": NUMBER,
        "corner_mm": PAIR,
        "good_for_mm": PAIR,
    },
    "machine": {"travel_mm": TRIPLE, "spindle": TEXT, "spin_up_s": NUMBER, "dwell_unit": TEXT},
    "clamps": ANY,
    "program": {
        "bit_mm": NUMBER,
        "safe_z_mm": NUMBER,
        "bottom_z_mm": NUMBER,
        "passes": NUMBER,
        "tabs": [{"at": PAIR, "neck_mm": NUMBER, "wall_mm": NUMBER, "height_mm": NUMBER}],
        "cut_length_mm": NUMBER,
        "motion_time_s": NUMBER,
        "feed_mm_min": NUMBER,
        "plunge_mm_min": NUMBER,
        "spindle_rpm": NUMBER,
        "travel_mm": dict.fromkeys(("left", "right", "near", "far", "up", "down"), NUMBER),
    },
    "films": [
        {
            "name": TEXT,
            "knife": {"offset_mm": NUMBER, "compensated": ANY, "overcut_mm": NUMBER},
            "colour": TEXT,
            "pieces": NUMBER,
            "area_mm2": NUMBER,
            "inset_mm": NUMBER,
            "smallest_width_mm": NUMBER,
            "sheet_box_mm": PAIR,
        }
    ],
    "files": [{"role": TEXT, "format": TEXT, "path": TEXT, "sha256": TEXT}],
    "readback": {
        "height_error_mm": NUMBER,
        "edge_error_mm": {"rms": NUMBER, "max": NUMBER, "at": ANY},
        "film_error_mm": ANY,
        "mark_error_mm": NUMBER,
        "excepted": [{"at": PAIR, "why": TEXT, "size_mm": NUMBER}],
        "rules": {"checked": NUMBER, "broken": ANY},
    },
    "findings": [{"level": TEXT, "code": TEXT, "at": ANY, "text": TEXT, "remedy": TEXT}],
    "seconds": dict.fromkeys(("read", "trace", "fit", "part", "films", "write", "readback", "all"), NUMBER),
}


def departures(value, kind, path="report"):
    """Where a report is not of the kind that the contract says."""
    if isinstance(kind, dict):
        missing = [f"{path}.{name} is missing" for name in kind if name not in value]
        return missing + [
            one
            for name in kind
            if name in value
            for one in departures(value[name], kind[name], f"{path}.{name}")
        ]
    if isinstance(kind, list):
        return [one for i, item in enumerate(value) for one in departures(item, kind[0], f"{path}[{i}]")]
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    fits = {
        NUMBER: is_number,
        TEXT: isinstance(value, str),
        PAIR: isinstance(value, list) and len(value) == 2,
        TRIPLE: isinstance(value, list) and len(value) == 3,
        ANY: True,
    }
    return [] if fits[kind] else [f"{path} is {value!r}, no {kind}"]


@pytest.fixture(scope="module")
def kit():
    return badge_kit()


def test_the_report_has_every_field_that_scripts_rely_on(kit):
    assert departures(kit.report, FIELDS) == []


def test_every_file_but_the_report_is_listed_with_its_digest(kit):
    listed = {file["path"]: file["sha256"] for file in kit.report["files"]}
    found = {name: sha256(data).hexdigest() for name, data in kit.files.items() if name != "report.json"}
    assert listed == found


def test_the_kit_has_a_file_for_every_role(kit):
    assert {file["role"] for file in kit.report["files"]} == ROLES


def test_names_carry_job_and_height_and_the_program_its_zero(kit):
    assert all(name.startswith("badge-60mm") for name in kit.files if name != "report.json")
    assert "badge-60mm-part-Ztop.nc" in kit.files


def test_the_height_stands_in_every_file_and_films_and_marks_meet(kit):
    proof = kit.report["readback"]
    assert kit.report["height_mm"] == pytest.approx(60.0, abs=1e-6)
    assert proof["height_error_mm"] <= 0.005
    assert proof["edge_error_mm"]["max"] <= 0.01
    assert all(film["max"] <= 0.01 for film in proof["film_error_mm"].values())
    assert proof["mark_error_mm"] <= 0.001
    assert proof["rules"]["broken"] == []
    assert proof["rules"]["checked"] > 1000


def test_the_source_is_kept_as_it_was(kit):
    assert kit.files["badge-60mm-source.png"] == badge_png()


@pytest.mark.parametrize(
    "choices",
    [
        {"stock__z_zero": "board"},
        {"film__side": "behind"},
        {"machine__units": "inch"},
        {"machine__arcs": "no"},
        {"stock__material": "opaque cast acrylic"},
        {"bit__diameter": "1 mm"},
        {"machine__spindle": "knob", "machine__dwell_unit": "ms"},
        {"cutting__rough": "conventional", "cutting__last_lap": "no"},
        {"stock__zero_at": "12.5, 40"},
        {"shape__colours": "#e9c46a through"},
        {"shape__colours": "#e9c46a bare", "film__inset": "0 mm"},
        {"stock__thickness": "2.9 mm; 3.1 mm; 3 mm"},
        {"machine__extension": "gcode", "machine__ending": "M30"},
    ],
    ids=lambda choices: " ".join(f"{key}={text}" for key, text in choices.items()),
)
def test_every_promise_holds_whatever_is_chosen(choices):
    kit = badge_kit(**choices)
    proof = kit.report["readback"]
    assert [finding.text for finding in kit.findings if finding.level is Level.STOP] == []
    assert proof["rules"]["broken"] == []
    assert max(film["max"] for film in proof["film_error_mm"].values()) <= 0.01
    assert proof["edge_error_mm"]["max"] <= 0.01
    assert proof["mark_error_mm"] <= 0.001


@pytest.mark.parametrize(
    ("choices", "code"),
    [
        ({"bit__flute_length": "2 mm"}, "flute-too-short"),
        ({"stock__width": "40 mm"}, "stock-too-small"),
        ({"machine__travel_x": "30 mm"}, "travel-too-short"),
    ],
)
def test_a_stop_leaves_the_programs_out_and_says_why(choices, code):
    kit = badge_kit(**choices)
    assert code in {finding.code for finding in kit.findings if finding.level is Level.STOP}
    assert kit.report["program"] is None
    roles = {file["role"] for file in kit.report["files"]}
    assert "part-program" not in roles
    assert "clearance-lap" not in roles
    assert not [name for name in kit.files if name.endswith(".nc")]
    assert b"no router program" in kit.files["NO-PROGRAM.txt"]


def test_a_height_that_nobody_gave_is_a_caution():
    kit = badge_kit(shape__height="auto")
    assert kit.report["height_mm"] == pytest.approx(100.0)
    assert "height-assumed" in {finding.code for finding in kit.findings if finding.level is Level.CAUTION}


def test_a_film_for_the_back_is_mirrored_with_its_marks_and_says_so():
    front, behind = badge_kit(), badge_kit(film__side="behind")
    mirror_x = behind.report["frame"]["mirror_x"]
    assert mirror_x % 0.5 == 0.0
    assert front.report["marks"] == behind.report["marks"]
    films = [file["path"] for file in behind.report["files"] if file["format"] == "svg" and "film" in file]
    assert len(films) == 2
    for name in films:
        assert behind.files[name] != front.files[name]
        assert b"mirrored for the back" in behind.files[name]
