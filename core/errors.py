"""What can be wrong with a file or a call: a small family, each with one sentence for a maker.

Anything wrong with the *work* is a finding (core/findings.py), never an error.
"""


class SamecutError(Exception):
    """One sentence that says what is wrong and what to do; the edge prints it and nothing else."""


class WrongCall(SamecutError):
    """What was asked cannot be asked this way (exit 2)."""


class UnreadableFile(SamecutError):
    """A file that cannot be read, or is not what it should be (exit 3)."""


class LostPicture(UnreadableFile):
    """A saved Job's picture is neither where the Job says nor near it: whoever opens it may be asked."""


class Unwritable(SamecutError):
    """A place that cannot be written: full, forbidden, or gone (exit 3)."""


class BadValue(WrongCall, ValueError):
    """A value outside what its choice allows, or text that is no such value."""


class BadShape(SamecutError, ValueError):
    """Numbers that are no shape: a defect of the caller, not of the maker's work."""


class Cancelled(SamecutError):
    """The work was given up because newer work has taken its place."""
