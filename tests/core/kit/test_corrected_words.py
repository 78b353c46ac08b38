"""A kit whose files are corrected says so on every paper, and how large the correction is."""

import io

import pypdfium2
import pytest

from tests.support.pictures import badge_kit

PAPERS = ("job-sheet", "paper-proof")


def words_of(kit, role):
    path = next(file["path"] for file in kit.report["files"] if file["role"] == role)
    pages = pypdfium2.PdfDocument(io.BytesIO(kit.files[path]))
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())


def test_each_paper_says_what_is_corrected():
    kit = badge_kit(machine__scale_x="100.3 %", machine__gauged="2026-03-31", knife__skew="0.2 deg")
    words = words_of(kit, "job-sheet")
    assert "programs are corrected for the router: x 100.30 %" in words
    assert "(gauge read on 2026-03-31)" in words
    assert "film files are corrected for the cutter: x 100.00 %" in words
    assert "Corrected for the machine: programs and film files." in words_of(kit, "paper-proof")
    assert not [one for one in kit.findings if one.code == "correction-large"]


def test_a_kit_without_a_correction_says_nothing_of_one():
    kit = badge_kit()
    assert not any("orrected for the" in words_of(kit, role) for role in PAPERS)


def test_a_correction_larger_than_a_machine_in_order_needs_is_a_caution():
    kit = badge_kit(machine__scale_x="103 %", knife__skew="-1.5 deg")
    found = [one for one in kit.findings if one.code == "correction-large"]
    assert [word for one in found for word in ("router", "cutter") if word in one.text] == [
        "router",
        "cutter",
    ]


def test_the_sheet_tells_the_travel_of_the_path_as_it_is_written():
    kit, plain = badge_kit(machine__scale_x="102 %"), badge_kit()
    right = kit.report["program"]["travel_mm"]["right"]
    assert right == pytest.approx(1.02 * plain.report["program"]["travel_mm"]["right"], abs=1e-3)
    assert f"{right:.1f} right mm" in words_of(kit, "job-sheet")
