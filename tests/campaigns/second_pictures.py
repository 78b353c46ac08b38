"""A seeded campaign of second pictures: edited copies come back to a tenth of a pixel, strangers are refused.

Every trial draws a shape that nobody has seen. Its copy is scaled by 0.7 to 1.4, turned by up to 10 degrees,
cropped by up to 30 % of each side, and parts of it are removed; its true place is known to the last digit.
The stranger is another drawing, of the same size or of another. Harm is a copy laid off by more than
MOST_OFF, or a stranger that is taken; a false alarm is a copy that is refused.

    python -m tests.campaigns.second_pictures --seed 1 --count 50
"""

import time
from dataclasses import dataclass, field

import numpy as np

from core.second.match import Match, match
from tests.campaigns.tally import Tally, command
from tests.support.copies import any_copy, any_drawing, misses, traced

#: px of the first picture, root mean square over the copy's page.
MOST_OFF = 0.1


@dataclass
class Figures(Tally):
    """The tally; for every copy px it was off and s of CPU that laying it took; shares that were matched."""

    off: list[float] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    copies: list[float] = field(default_factory=list)
    strangers: list[float] = field(default_factory=list)

    def lines(self) -> list[str]:
        """The figures, then the tally."""
        return [
            f"off by px: median {np.median(self.off):.4f}, most {max(self.off):.4f}",
            f"s of CPU: median {np.median(self.seconds):.2f}, most {max(self.seconds):.2f}",
            f"matched: copies at least {min(self.copies):.2f}, strangers at most {max(self.strangers):.2f}",
            *super().lines(),
        ]


def _refused(found: Match) -> str:
    return "" if found.belongs else f"{found.matched:.0%} matched, {found.whole:.0%} whole"


def _copy(figures: Figures, seed: int, number: int) -> None:
    rng = np.random.default_rng([seed, number])
    first = any_drawing(rng)
    copy = any_copy(first, rng)
    one, other = traced(first), traced(copy.drawing)
    begun = time.process_time()
    found = match(one, other)
    figures.seconds.append(time.process_time() - begun)
    figures.off.append(misses(found.pose, copy.pose, copy.drawing.page))
    figures.copies.append(found.matched)
    harm = f"{number} is off by {figures.off[-1]:.3f} px" if figures.off[-1] > MOST_OFF else ""
    figures.count("copy", harm, _refused(found), is_dress=True)


def _stranger(figures: Figures, seed: int, number: int) -> None:
    rng = np.random.default_rng([seed, number, 1])
    first, other = any_drawing(rng), any_drawing(rng, 320 if number % 2 else 260)
    found = match(traced(first), traced(other))
    figures.strangers.append(found.matched)
    figures.count("stranger", f"{number} is taken", _refused(found), is_dress=False)


def campaign(seed: int, count: int) -> Figures:
    """count copies and count strangers; caught is what was refused."""
    figures = Figures()
    for number in range(count):
        _copy(figures, seed, number)
        _stranger(figures, seed, number)
    return figures


if __name__ == "__main__":
    command(__doc__ or "", campaign, 50)
