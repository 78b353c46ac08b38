"""Tables in the cards: a row taken by a press, and the maker's own kept, changed and removed in place."""

import pytest
from PySide6.QtCore import QEvent, Qt

from app import tables
from app.desk.table_row import TABLES
from core.job.tables import Table

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def mine(tmp_path, monkeypatch):
    folder = tmp_path / "tables"
    monkeypatch.setattr(tables, "own_folder", lambda: folder)
    return folder


def test_every_table_lies_in_a_card():
    assert set(TABLES.values()) == set(Table)


def unfolded(window, card, qtbot):
    window.open_card(card)
    row = window.popover.table
    qtbot.mouseClick(row.opener, LEFT)
    qtbot.waitUntil(lambda: row.list.count() > 0)
    return row


def pressed(row, name, qtbot):
    (item,) = [row.list.item(n) for n in range(row.list.count()) if row.list.item(n).text().startswith(name)]
    row.list.scrollToItem(item)
    qtbot.mouseClick(row.list.viewport(), LEFT, pos=row.list.visualItemRect(item).center())


@pytest.mark.parametrize("card", TABLES)
@pytest.mark.usefixtures("mine")
def test_every_row_of_the_table_is_offered_and_taken_as_one_step(at_work, card, qtbot):
    row = unfolded(at_work, card, qtbot)
    before = at_work.desk.job
    wanted = next(one for one in row._rows.every if not one.is_in(before))
    pressed(row, f"{wanted.name}  ", qtbot)
    assert wanted.is_in(at_work.desk.job)
    assert wanted.name in row.opener.text()
    assert at_work.desk.undo_words.endswith(wanted.name)
    at_work.desk.undo()
    assert at_work.desk.job == before


@pytest.mark.usefixtures("mine")
def test_a_row_is_taken_by_the_keyboard_too(at_work, qtbot):
    row = unfolded(at_work, "bit", qtbot)
    qtbot.waitUntil(row.list.hasFocus)
    row.list.setCurrentRow(0)
    qtbot.keyClick(row.list, Qt.Key.Key_Return)
    assert row._rows.every[0].is_in(at_work.desk.job)


def test_a_bit_of_ones_own_is_kept_changed_and_removed(at_work, mine, qtbot):
    row = unfolded(at_work, "bit", qtbot)
    at_work.desk.propose("bit.diameter", "1.93 mm")
    assert "of no table" in row.opener.text()
    qtbot.keyClicks(row.name, "worn one")
    qtbot.keyClick(row.name, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "worn one" in row.opener.text())
    at_work.desk.propose("bit.diameter", "1.9 mm")
    qtbot.mouseClick(row._keep, LEFT)
    qtbot.waitUntil(lambda: "worn one" in row.opener.text())
    (own,) = tables.own_rows(Table.BIT)
    assert dict(own.choices)["bit.diameter"] == "1.9 mm"
    qtbot.mouseClick(row._remove, LEFT)
    qtbot.waitUntil(lambda: "of no table" in row.opener.text())
    assert tables.own_rows(Table.BIT) == ()
    assert (mine / "bits.toml").exists()


@pytest.mark.usefixtures("mine")
def test_taking_ones_own_row_names_it_so_that_keeping_changes_it(at_work, qtbot):
    row = unfolded(at_work, "bit", qtbot)
    qtbot.keyClicks(row.name, "worn one")
    row.keep()
    qtbot.waitUntil(lambda: bool(row._rows.own))
    row.name.clear()
    pressed(row, "worn one", qtbot)
    assert row.name.text() == "worn one"
    assert row._remove.isVisible()
    pressed(row, "1 mm, one flute", qtbot)
    assert row.name.text() == ""
    assert not row._remove.isVisible()


@pytest.mark.usefixtures("mine")
def test_a_card_that_is_shut_before_its_table_is_read_hears_nothing_of_it(at_work, qapp, qtbot):
    at_work.open_card("bit")
    at_work.close_card()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    qtbot.waitUntil(lambda: not at_work.desk.errands.are_running)
    assert at_work.notice.text == ""


def test_a_table_that_cannot_be_read_says_so_in_its_place(at_work, mine, qtbot):
    mine.mkdir()
    (mine / "bits.toml").write_text("nonsense = [")
    at_work.open_card("bit")
    qtbot.waitUntil(lambda: "cannot be read" in at_work.popover.table.said.text())
