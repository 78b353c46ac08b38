"""How strictly a program is read: by the standard, or as small open controllers take it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Leniency:
    """What is let pass beyond NISTIR 6556; a radius mismatch is judged in mm.

    An arc is refused when its radii differ by more than mismatch_mm and by more than mismatch_share of the
    radius, or by more than mismatch_most_mm.
    """

    line_limit: int
    semicolons: bool
    bare_motion_words: bool
    text_after_end: bool
    no_end: bool
    no_feed: bool
    later_codes: bool
    mismatch_mm: float
    mismatch_inch_file_mm: float
    mismatch_share: float
    mismatch_most_mm: float


STRICT = Leniency(
    line_limit=256,  # NISTIR 6556 3.3
    semicolons=False,
    bare_motion_words=False,
    text_after_end=False,
    no_end=False,
    no_feed=False,
    later_codes=False,
    mismatch_mm=0.002,  # NISTIR 6556 3.5.3.2
    mismatch_inch_file_mm=0.0002 * 25.4,  # the same rule, in inches
    mismatch_share=0.0,
    mismatch_most_mm=0.002,
)

LENIENT = Leniency(
    line_limit=10_000,
    semicolons=True,
    bare_motion_words=True,
    text_after_end=True,
    no_end=True,
    no_feed=True,
    later_codes=True,
    mismatch_mm=0.005,  # public sources of small open controllers
    mismatch_inch_file_mm=0.005,
    mismatch_share=0.001,
    mismatch_most_mm=0.5,
)
