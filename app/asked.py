"""What the options of a command ask for, turned into choices of the Job."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from core.errors import WrongCall
from core.job.job import Job
from core.job.tables import Row


@dataclass(frozen=True)
class Asked:
    """The options of `samecut make` as they were typed, rows of tables as they were found; else nothing."""

    height: str | None = None
    thickness: Sequence[str] = ()
    fit: str | None = None
    copies: str | None = None
    settings: Sequence[str] = ()
    rows: Sequence[Row] = ()

    def job(self, job: Job) -> Job:
        """The Job with these choices. Raises WrongCall or BadValue, one sentence each."""
        for row in self.rows:
            job = row.taken(job)
        if self.height is not None:
            job = job.with_choice("shape.height", self.height)
        if self.thickness:
            job = job.with_choice("stock.thickness", ";".join(self.thickness))
        if self.fit is not None:
            job = job.with_choice("fit.way", self.fit)
        if self.copies is not None:
            job = job.with_choice("stock.copies", self.copies)
        for setting in self.settings:
            key, equals, value = setting.partition("=")
            if not equals:
                raise WrongCall(
                    f"--set takes GROUP.CHOICE=VALUE, like bit.diameter=3.175mm, not '{setting}'."
                )
            job = job.with_choice(key.strip(), value)
        return job


def nearest_word(word: str, words: Sequence[str]) -> str:
    """The word that looks most like this one; empty when none does."""
    return next(iter(get_close_matches(word, words, 1)), "")
