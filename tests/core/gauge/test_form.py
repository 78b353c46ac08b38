"""The form: empty as it is given, filled in as people do, and what is wrong in it said with its letter."""

import pytest

from core.errors import UnreadableFile
from core.gauge.form import Machine, form_text, read_form
from core.gauge.plate import measured

EMPTY = form_text("gauge")


def filled(machine, **letters):
    first, second = EMPTY.split("[cutter]")
    part = {"router": first, "cutter": second}[machine]
    for letter, said in letters.items():
        part = part.replace(f'\n{letter} = ""', f"\n{letter} = {said}").replace(
            f'\n{letter} = "0.05 mm"', f"\n{letter} = {said}"
        )
    return "[cutter]".join((part, second) if machine == "router" else (first, part))


def test_an_empty_form_holds_every_letter_and_no_reading():
    assert read_form(EMPTY, "form") == {}
    assert all(f"\n{one.letter} = " in EMPTY for one in measured())


def test_numbers_are_taken_as_people_write_them():
    found = read_form(filled("router", A="129.85", B='"129,9 mm"', E='"2 3/8 in"', well='"0.02 mm"'), "form")
    assert {one.name: one.mm for one in found[Machine.ROUTER].readings} == {
        "A": 129.85,
        "B": 129.9,
        "E": pytest.approx(60.325),
    }
    assert found[Machine.ROUTER].deviation_mm == 0.02
    assert Machine.CUTTER not in found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (filled("cutter", A="13.0"), r"\[cutter\]: A \(width of the plate, near the front\) is 13 mm"),
        (filled("router", A='"wide"'), r"\[router\]: .*wide"),
        (filled("router", A="true"), "A: write a length"),
        (filled("router", well='"0 mm"'), "above 0"),
        (EMPTY + "Ä = 3\n", "form cannot be read"),
        (EMPTY + 'Z9 = "3"\n', "no distance Z9"),
        (EMPTY + '[plotter]\nA = "3"\n', "no part"),
        ("router = 3", "part in brackets"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(text, said):
    with pytest.raises(UnreadableFile, match=said):
        read_form(text, "form")
