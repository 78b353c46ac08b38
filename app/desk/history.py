"""What was done, step by step: a bounded list of Jobs with the words for each change."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.job.job import Job, Source

#: Steps that are kept; a Job shares everything with the one before it except the group that changed.
LONGEST = 1000


@dataclass(frozen=True)
class Step:
    """A Job, the picture it is about (None: none yet), and what was done to get there."""

    job: Job = Job()  # noqa: RUF009 - frozen
    source: Source | None = None
    words: str = ""


@dataclass(frozen=True)
class History:
    """The steps, oldest first, and which of them is the present one."""

    steps: Sequence[Step] = (Step(),)
    at: int = 0

    @property
    def now(self) -> Step:
        """The present step."""
        return self.steps[self.at]

    @property
    def undo_words(self) -> str:
        """What undo would take back; empty when there is nothing."""
        return self.now.words if self.at > 0 else ""

    @property
    def redo_words(self) -> str:
        """What redo would do again; empty when there is nothing."""
        return self.steps[self.at + 1].words if self.at + 1 < len(self.steps) else ""

    def with_step(self, step: Step) -> "History":
        """One more step after the present one; what was undone before it is forgotten."""
        steps = (*self.steps[: self.at + 1], step)[-LONGEST:]
        return History(steps, len(steps) - 1)

    def back(self) -> "History":
        """One step earlier, or the same at the beginning."""
        return replace(self, at=max(0, self.at - 1))

    def forth(self) -> "History":
        """One step later, or the same at the end."""
        return replace(self, at=min(len(self.steps) - 1, self.at + 1))

    def without_now(self) -> "History":
        """The present step as if it had never been; the first one stays."""
        if self.at == 0:
            return self
        steps = (*self.steps[: self.at], *self.steps[self.at + 1 :])
        return History(steps, self.at - 1)

    @property
    def is_at_first_picture(self) -> bool:
        """Whether undo would leave the desk empty."""
        return self.at > 0 and self.steps[self.at - 1].source is None
