"""How near edited copies are brought onto their first picture, and how many strangers are refused.

Run from the top of the project: .venv/bin/python -m tests.bench.second_pictures [--seed 1] [--count 50]
"""

import argparse
import sys
import time

import numpy as np

from core.second.match import match
from tests.support.copies import any_copy, any_drawing, misses, traced


def copies(seed: int, count: int) -> list[tuple[float, float, object]]:
    """For every copy: px it is off, seconds of CPU that laying it took, the Match."""
    found = []
    for number in range(count):
        rng = np.random.default_rng([seed, number])
        first = any_drawing(rng)
        copy = any_copy(first, rng)
        one, other = traced(first), traced(copy.drawing)
        begun = time.process_time()
        laid = match(one, other)
        spent = time.process_time() - begun
        found.append((misses(laid.pose, copy.pose, copy.drawing.page), spent, laid))
    return found


def strangers(seed: int, count: int) -> list[object]:
    """The Match of two drawings that have nothing to do with each other, of the same and of another size."""
    found = []
    for number in range(count):
        rng = np.random.default_rng([seed, number, 1])
        first, other = any_drawing(rng), any_drawing(rng, 320 if number % 2 else 260)
        found.append(match(traced(first), traced(other)))
    return found


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=50)
    asked = parser.parse_args()
    off, spent, laid = zip(*copies(asked.seed, asked.count), strict=True)
    odd = strangers(asked.seed, asked.count)
    sys.stdout.write(
        f"copies: {sum(one.belongs for one in laid)} of {asked.count} taken\n"
        f"  px off: median {np.median(off):.4f}, worst {max(off):.4f}\n"
        f"  CPU s: median {np.median(spent):.2f}, worst {max(spent):.2f}\n"
        f"  least matched {min(m.matched for m in laid):.2f}, whole {min(m.whole for m in laid):.2f}\n"
        f"strangers: {sum(not one.belongs for one in odd)} of {asked.count} refused\n"
        f"  most matched {max(m.matched for m in odd):.2f}, whole {max(m.whole for m in odd):.2f}\n"
    )


if __name__ == "__main__":
    main()
