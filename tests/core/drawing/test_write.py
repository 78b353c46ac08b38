"""What stands in the files themselves."""

import re
from itertools import pairwise

import numpy as np
import pytest

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf
from core.drawing.write import dxf_tags
from core.drawing.write.dxf import layer_name, write_dxf, write_dxf_r12
from core.drawing.write.svg import number, write_svg
from core.errors import BadValue
from core.outline.loop import Loop

NAMES = {
    (Layer.PART, ""): ("part", "PART"),
    (Layer.AS_CUT, ""): ("as-cut", "AS_CUT"),
    (Layer.PATCH, "dark-olive"): ("patch-dark-olive", "PATCH_DARK_OLIVE"),
    (Layer.FILM, "shell"): ("film-shell", "FILM_SHELL"),
    (Layer.MARKS, ""): ("marks", "MARKS"),
    (Layer.WEEDING, ""): ("weeding", "WEEDING"),
    (Layer.NOTES, ""): ("notes", "NOTES"),
}
WAVY = Loop(np.array([[0, 0], [50, 1e-8], [50, 30], [1e-8, 30.0]]), np.array([0.3, -1.5, 1e-9, 0.0]))


def drawing():
    layers = tuple(LayerOf(layer, name, "#336699", (WAVY, Circle((5, 5), 4.0))) for layer, name in NAMES)
    return Drawing('a <part> & "more"', (0.0, 0.0, 130.0, 154.0), layers)


def test_every_layer_has_the_name_it_was_promised():
    text, dxf = write_svg(drawing()).decode(), write_dxf(drawing()).decode()
    for (layer, name), (group, old) in NAMES.items():
        assert f'<g id="{group}" fill="none"' in text
        assert layer_name(LayerOf(layer, name, "", ())) == old
        assert f"\n{old}\n" in dxf


def test_svg_is_in_mm_with_y_turned_over():
    head = write_svg(drawing()).decode()
    assert 'width="130mm" height="154mm" viewBox="0 -154 130 154"' in head


def test_no_number_has_an_exponent_or_a_minus_zero():
    for data in (write_svg(drawing()), write_dxf(drawing()), write_dxf_r12(drawing())):
        assert re.search(rb"\d[eE][-+]\d", data) is None
        assert re.search(rb"(?<![\w.])-0(\.0*)?(?![\d.])", data) is None
    assert [number(value) for value in (-1e-9, 1e-9, 1.5, 1e6)] == ["0", "0", "1.5", "1000000"]


def test_arcs_stay_arcs_and_every_contour_is_closed():
    paths = re.findall(r' d="([^"]*)"', write_svg(drawing()).decode())
    assert len(paths) == 14
    assert all(path.endswith(" Z") and "A" in path and "C" not in path for path in paths)


def test_no_text_clip_or_transform_is_needed_to_cut():
    assert re.findall(r"<(\w+)", write_svg(drawing()).decode().replace("<?xml", ""))[:2] == ["svg", "title"]
    assert set(re.findall(r"<(\w+)", write_svg(drawing()).decode())) == {"svg", "title", "g", "path"}


def test_dxf_carries_no_date_and_no_stamp_of_the_day():
    text = write_dxf(drawing()).decode()
    assert re.search(r"20[2-9]\d-", text) is None
    assert not any(stamp in text for stamp in ("$TD", "GUID", "$LASTSAVEDBY"))


def handles_of(data):
    """Every handle that stands for an object, and every one that is referred to."""
    lines = data.decode().splitlines()
    tags = [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    seed = next(value for (_, name), (_, value) in pairwise(tags) if name == "$HANDSEED")
    own = [value for code, value in tags if code in (5, 105) and value != seed]
    return seed, own, [value for code, value in tags if code in (330, 340, 350, 390) and value != "0"]


def test_every_object_of_a_dxf_has_a_handle_of_its_own_and_owners_are_there():
    seed, own, referred = handles_of(write_dxf(drawing()))
    assert len(set(own)) == len(own) > 20
    assert set(referred) <= set(own)
    assert max(int(handle, 16) for handle in own) < int(seed, 16)


def test_a_number_is_written_with_its_point_and_never_with_an_exponent():
    assert [dxf_tags.number(value) for value in (1e-12, -1e-12, 3.0, 0.1 + 0.2, 1e6)] == [
        "0.0",
        "0.0",
        "3.0",
        "0.3",
        "1000000.0",
    ]


def test_a_name_too_long_for_the_old_form_is_refused_in_words():
    long = Drawing("", (0, 0, 1, 1), (LayerOf(Layer.FILM, "a" * 30, "#000000", ()),))
    with pytest.raises(BadValue, match="too long"):
        write_dxf_r12(long)
