"""The pictures in a kit: which there are, and that each says its true size."""

import io

import pytest
from PIL import Image

from tests.support.pictures import badge_kit


def listed(kit):
    return {file["path"]: file.get("view") for file in kit.report["files"] if file["role"] == "picture"}


def opened(kit, ending):
    return Image.open(io.BytesIO(next(data for path, data in kit.files.items() if path.endswith(ending))))


def test_front_back_and_the_sheet_after_the_cut_are_in_the_kit():
    assert listed(badge_kit()) == {
        "badge-60mm-picture.png": "front",
        "badge-60mm-picture-print.png": "front",
        "badge-60mm-picture-back.png": "back",
        "badge-60mm-picture-fit.png": "fit",
        "badge-60mm-sheet.png": "sheet",
        "badge-60mm-sheet-print.png": "sheet",
    }


def test_without_a_program_there_is_no_sheet_after_the_cut():
    assert set(listed(badge_kit(fit__way="sheet")).values()) == {"front", "back"}


@pytest.mark.parametrize("ending", ["-sheet.png", "-sheet-print.png"])
def test_the_sheet_is_as_large_as_the_stock(ending):
    stock = badge_kit().report["stock"]
    picture = opened(badge_kit(), ending)
    size = [side / picture.info["dpi"][0] * 25.4 for side in picture.size]
    assert size == pytest.approx([stock["width_mm"], stock["depth_mm"]], abs=0.2)


def test_marks_are_bored_through_where_the_report_has_them():
    """The board is seen in each hole: its red is far above its blue."""
    picture = opened(badge_kit(), "-sheet-print.png").convert("RGB")
    per_mm = picture.info["dpi"][0] / 25.4
    for mark in badge_kit().report["marks"]:
        x, y = mark["at"]
        red, _, blue = picture.getpixel((round(x * per_mm), round(picture.height - y * per_mm)))
        assert red > blue + 40
