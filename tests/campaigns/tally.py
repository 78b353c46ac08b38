"""How a campaign went, and the command line that every campaign shares: a seed and a count."""

import argparse
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass
class Tally:
    """Caught and passed by kind; harm that got through, and stops of what does no harm."""

    caught: Counter = field(default_factory=Counter)
    passed: Counter = field(default_factory=Counter)
    missed: list[str] = field(default_factory=list)
    false_alarms: list[str] = field(default_factory=list)

    def count(self, kind: str, harm: str, said: str, *, is_dress: bool) -> None:
        """One trial: harm as the oracle sees it, what the judged code said, whether it was mere dress."""
        (self.caught if said else self.passed)[kind] += 1
        if harm and not said:
            self.missed.append(f"{kind}: {harm}")
        if is_dress and said:
            self.false_alarms.append(f"{kind}: {said}")

    def lines(self) -> list[str]:
        """The tally in words, kind by kind."""
        kinds = sorted({*self.caught, *self.passed})
        width = max(map(len, kinds), default=0)
        rows = [
            f"{kind:{width}}  caught {self.caught[kind]:5}  passed {self.passed[kind]:5}" for kind in kinds
        ]
        trials = self.caught.total() + self.passed.total()
        counts = f"{trials} trials: missed {len(self.missed)}, false alarms {len(self.false_alarms)}"
        return [
            *rows,
            *(f"missed: {one}" for one in self.missed),
            *(f"false alarm: {one}" for one in self.false_alarms),
            counts,
        ]


def command(words: str, campaign: Callable[[int, int], Tally], count: int) -> None:
    """Run the campaign as the command line asks, print its tally; exit 1 when something was missed."""
    parser = argparse.ArgumentParser(description=words, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=count)
    asked = parser.parse_args()
    tally = campaign(asked.seed, asked.count)
    sys.stdout.write("\n".join([*tally.lines(), ""]))
    sys.exit(int(bool(tally.missed or tally.false_alarms)))
