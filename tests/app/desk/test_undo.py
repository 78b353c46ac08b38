"""A hundred mixed edits, by fields, hands and tables, undone one by one to the first Job, and done again."""

import random

from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.desk.cards import CARDS
from app.desk.control import Control
from app.desk.field import TextField
from app.tables import rows_of
from core.errors import SamecutError
from core.job.job import CHOICES
from core.job.tables import Table

EDITS = 100
#: Tried in every text field; most are refused by most.
TEXTS = ("12", "2,5 mm", "0.5 in", "3", "120", "1.2", "30 %", "10,10", "45", "400 mm/min", "9000 rpm", "left")


class Editor:
    """Edits at random, each by another way in; true where the Job became another."""

    def __init__(self, at_work, drag, seed):
        self.window, self.desk, self.drag = at_work, at_work.desk, drag
        self.part, self.dice = at_work.spread.part, random.Random(seed)  # noqa: S311 - a test

    def edit(self):
        before = self.desk.job
        self.dice.choice(
            (self.by_field, self.by_field, self.by_word, self.by_tab, self.by_thing, self.by_row)
        )()
        return self.desk.job != before

    def by_field(self):
        key = self.dice.choice(list(CHOICES))
        control = Control(self.desk, key)
        if isinstance(control.field, TextField):
            control.field.said.emit(self.dice.choice(TEXTS))
        control.deleteLater()

    def by_word(self):
        self.window.open_choice(self.dice.choice(CARDS).few[0])
        controls = [one for one in self.window.popover.controls.values() if hasattr(one.field, "_buttons")]
        if controls:
            buttons = self.dice.choice(controls).field._buttons
            self.dice.choice(list(buttons.values())).click()

    def by_tab(self):
        tab = self.dice.choice(self.part.hand.tabs)
        start = self.part.seen().of(*tab.at)
        self.drag(self.part, start, start + QPointF(self.dice.randint(-60, 60), self.dice.randint(-60, 60)))

    def by_thing(self):
        QTest.keyClick(self.part, self.dice.choice((Qt.Key.Key_C, Qt.Key.Key_S)))
        QTest.keyClick(self.part, self.dice.choice((Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_Delete)))
        self.part._things.end_walk()

    def by_row(self):
        row = self.dice.choice(rows_of(self.dice.choice(list(Table))))
        try:
            self.desk.propose_job(row.taken(self.desk.job), row.name)
        except SamecutError:
            return


def test_a_hundred_mixed_edits_are_undone_to_the_first_job_and_done_again(at_work, drag):
    editor, first = Editor(at_work, drag, 5), at_work.desk.job
    jobs = [first]
    while len(jobs) <= EDITS:
        if editor.edit():
            jobs.append(at_work.desk.job)
            assert at_work.desk.undo_words
    steps = 0
    while at_work.desk.job != first or steps < EDITS:
        at_work.desk.undo()
        steps += 1
        assert steps <= 2 * EDITS + 10
    assert at_work.desk.job == first
    for _ in range(steps):
        at_work.desk.redo()
    assert at_work.desk.job == jobs[-1]
    assert len(jobs) == EDITS + 1
