"""A whole kit as general-purpose readers see it: the same shapes, sizes and places as in the Build.

SVG by svgpathtools 1.8 and svgelements 1.9 (both MIT), DXF by ezdxf 1.4 (MIT), programs by pygcode 0.2.1
(GPL-3, at test time only). None of them shares code with our readers; what is compared with is the Build
itself, not what we read back.
"""

import io
import warnings
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from math import hypot
from time import perf_counter

import ezdxf
import numpy as np
import pytest
import svgelements
import svgpathtools
from ezdxf.math import bulge_to_arc

from core.build import build
from core.cancel import NEVER
from core.kit.make import kit_of
from core.program.read.read import read_program
from tests.support.pictures import badge, job

pytestmark = pytest.mark.outside

WITHIN = 1e-5  # mm: files are written to 1e-6 and better, and lengths sum up many pieces
GROUP = "{http://www.w3.org/2000/svg}g"


@pytest.fixture(scope="module")
def made():
    return build(job(), badge())


@pytest.fixture(scope="module")
def kit(made):
    return kit_of(made, NEVER, lambda _stage: None, perf_counter())


def paths_of(kit, role):
    return [file["path"] for file in kit.report["files"] if file["role"] == role]


def drawings(kit, ending):
    roles = ("part-drawing", "film-drawing")
    return [path for role in roles for path in paths_of(kit, role) if path.endswith(ending)]


def loops_of(regions):
    return [loop for region in regions for loop in region.loops()]


def wanted_layers(made):
    """Loops of the Build by the layer that holds them, in the frame."""
    wanted = {"part": loops_of(made.part), "as-cut": loops_of(made.as_cut)}
    for film in made.films.films:
        wanted[f"film-{film.name}"] = loops_of(film.regions)
        wanted[f"patch-{film.name}"] = loops_of(made.film_patch(film.name))
    return wanted


def groups_of(data):
    return {group.get("id"): [path.get("d") for path in group] for group in ET.fromstring(data).iter(GROUP)}  # noqa: S314 - our own file


def test_svgpathtools_finds_every_loop_of_the_build_by_its_box_and_length(made, kit):
    seen = set()
    for name in drawings(kit, ".svg"):
        for layer, texts in groups_of(kit.files[name]).items():
            if layer not in wanted_layers(made):
                continue
            seen.add(layer)
            theirs = [svgpathtools.parse_path(text) for text in texts]
            assert all(path.isclosed() for path in theirs)
            found = sorted(
                [x0, -y1, x1, -y0, path.length()] for path in theirs for x0, x1, y0, y1 in [path.bbox()]
            )
            ours = sorted([*loop.bounds(), loop.length()] for loop in wanted_layers(made)[layer])
            np.testing.assert_allclose(found, ours, atol=WITHIN)
    assert seen == set(wanted_layers(made))


def test_svgelements_finds_the_height_asked_for_in_mm(kit):
    """Its unit is a pixel of 96 an inch, so that this proves the units of the file too."""
    (name,) = [path for path in paths_of(kit, "part-drawing") if path.endswith(".svg")]
    read = svgelements.SVG.parse(io.BytesIO(kit.files[name]))
    (part,) = [item for item in read.elements() if isinstance(item, svgelements.Group) and item.id == "part"]
    x0, y0, x1, y1 = (value * 25.4 / 96.0 for value in part.bbox())
    assert y1 - y0 == pytest.approx(60.0, abs=0.005)
    assert x1 - x0 == pytest.approx(kit.report["width_mm"], abs=0.005)


def opened(data):
    return ezdxf.filemanagement.read(io.StringIO(data.decode("cp1252")))


def length_of(entity):
    """Length by ezdxf's own arithmetic of bulges."""
    rows = (
        entity.get_points("xyb")
        if entity.dxftype() == "LWPOLYLINE"
        else [(*vertex.dxf.location.vec2, vertex.dxf.bulge) for vertex in entity.vertices]
    )
    return sum(_piece(row, after) for row, after in zip(rows, [*rows[1:], rows[0]], strict=True))


def _piece(row, after):
    if not row[2]:
        return hypot(after[0] - row[0], after[1] - row[1])
    _, first, last, radius = bulge_to_arc(row[:2], after[:2], row[2])
    return radius * ((last - first) % (2.0 * np.pi))


def test_ezdxf_has_nothing_to_mend_and_finds_every_loop_of_the_build(made, kit):
    seen = set()
    for name in drawings(kit, ".dxf"):
        document = opened(kit.files[name])
        auditor = document.audit()
        assert (name, auditor.errors, auditor.fixes) == (name, [], [])
        space = document.modelspace()
        for layer, loops in wanted_layers(made).items():
            entities = list(space.query(f'LWPOLYLINE POLYLINE[layer=="{layer.upper().replace("-", "_")}"]'))
            if not entities:
                continue
            seen.add((name, layer))
            assert sorted(map(length_of, entities)) == pytest.approx(
                sorted(loop.length() for loop in loops), abs=WITHIN
            )
    films = len(made.films.films)
    assert len(seen) == 2 + films + 2 * films  # part, as-cut, patches; each film in both forms


def test_every_file_has_the_marks_in_the_same_places(made, kit):
    wanted = sorted(mark.at for mark in made.layout.marks)
    for name in drawings(kit, ".dxf"):
        circles = opened(kit.files[name]).modelspace().query('CIRCLE[layer=="MARKS"]')
        found = sorted((circle.dxf.center.x, circle.dxf.center.y) for circle in circles)
        np.testing.assert_allclose(found, wanted, atol=0.001)
    for name in drawings(kit, ".svg"):
        boxes = [svgpathtools.parse_path(text).bbox() for text in groups_of(kit.files[name])["marks"]]
        found = sorted(((x0 + x1) / 2, -(y0 + y1) / 2) for x0, x1, y0, y1 in boxes)
        np.testing.assert_allclose(found, wanted, atol=0.001)
    (program,) = paths_of(kit, "part-program")
    centres = np.array(read_by_pygcode(kit.files[program]).centres)
    assert all(np.hypot(*(centres - at).T).min() < 0.001 for at in wanted)


@dataclass(frozen=True)
class Walked:
    """(n, 3) mm, where the bit is after each line of the file; and the centre of every arc."""

    places: np.ndarray
    centres: list


def read_by_pygcode(data):
    """End of every line, and the centre of every arc, mm."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own use of what Python has outlived
        from pygcode import Line, Machine  # noqa: PLC0415 - warns on import

        machine, places, centres = Machine(), [], []
        for text in data.decode().splitlines():
            before = machine.pos.values
            block = Line(text).block
            machine.process_block(block)
            after = machine.pos.values
            places.append([after["X"], after["Y"], after["Z"]])
            arcs = [code for code in block.gcodes if "I" in code.params]
            centres += [
                (before["X"] + arc.params["I"].value, before["Y"] + arc.params["J"].value) for arc in arcs
            ]
    return Walked(np.array(places), centres)


@pytest.mark.parametrize("role", ["part-program", "clearance-lap"])
def test_pygcode_goes_where_our_reader_goes(kit, role):
    (name,) = paths_of(kit, role)
    ours = read_program(kit.files[name])
    theirs = read_by_pygcode(kit.files[name]).places[ours.lines - 1]
    np.testing.assert_allclose(theirs[1:], ours.ends[1:], atol=1e-9)


def test_pygcode_goes_where_the_path_of_the_build_goes(made, kit):
    (name,) = paths_of(kit, "part-program")
    theirs = read_by_pygcode(kit.files[name]).places
    ours = made.path.toolpath.ends - [*made.layout.zero_at, 0.0]
    gaps = np.abs(ours[:, None, :] - theirs[None, :, :]).max(axis=2).min(axis=1)
    assert gaps.max() < 1e-4
