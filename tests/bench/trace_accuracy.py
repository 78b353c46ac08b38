"""Table of how near the trace comes to drawn truth: median over shapes for every kind of picture.

A * marks what is over its limit (tests/support/inputs.py), the median or a single picture at three times it.
Run from the top of the project: .venv/bin/python -m tests.bench.trace_accuracy [sizes in px ...]
"""

import sys
import time
from collections.abc import Iterator

import numpy as np

from core.cancel import NEVER
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.inputs import OF_FOUR, ROWS, Limits, Row
from tests.support.score import score

COLUMNS = ("rms", "greatest_off_corners", "corner", "pieces", "wobble", "bias", "area", "stretch")
LIMITED = COLUMNS[:5]

#: What a single picture may reach, over the limit of the median.
SINGLE = 3.0


def rows(size: int) -> Iterator[tuple[str, Row, tuple[d.Shape, ...]]]:
    for name, row in ROWS.items():
        yield name, row, d.shapes(size)
    for name, row in OF_FOUR.items():
        yield name, row, (d.pie(size), d.flag(size))


def measured(row: Row, shape: d.Shape) -> list[float]:
    seen = row.seen(shape)
    start = time.process_time()
    outline = trace(*seen, NEVER)
    seconds = time.process_time() - start
    found = score(outline, shape)
    return [*(getattr(found, column) for column in COLUMNS), seconds]


def over(table: np.ndarray, limits: Limits) -> list[str]:
    """The columns in which the median or one picture is over what is asked."""
    most = np.array([getattr(limits, column) for column in LIMITED])
    own = table[:, : len(LIMITED)]
    # The number of pieces is a ratio: three times over 1.1 is 1.3.
    single = np.where(np.array(LIMITED) == "pieces", 1.0 + SINGLE * (most - 1.0), SINGLE * most)
    bad = (np.median(own, axis=0) > most) | (own > single).any(axis=0)
    shift = [abs(np.median(table[:, 5])) > limits.bias, abs(np.median(table[:, 6])) > limits.area]
    return [name for name, is_bad in zip((*LIMITED, "bias", "area"), (*bad, *shift), strict=True) if is_bad]


def main(sizes: list[int]) -> None:
    for size in sizes:
        sys.stdout.write(
            f"{size} px          rms    max-off  corner  n      wobble  bias    area %  stretch  s      "
            "worst rms, n, of\n"
        )
        for name, row, shapes in rows(size):
            table = np.array([measured(row, shape) for shape in shapes])
            middle = np.median(table, axis=0)
            worst = int(np.argmax(table[:, 0]))
            figures = "{:7.4f} {:7.3f} {:7.3f} {:6.2f} {:7.3f} {:8.4f} {:7.4f} {:7.4f} {:6.3f}".format(
                *middle[:6], 100.0 * middle[6], *middle[7:]
            )
            faults = "".join(f" *{column}" for column in over(table, row.limits))
            sys.stdout.write(
                f"{name:14s} {figures}   {table[worst, 0]:7.4f} {table[:, 3].max():5.2f} "
                f"{shapes[worst].name}{faults}\n"
            )
            sys.stdout.flush()


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [300, 600])
