"""Table of how near the trace comes to drawn truth: median over shapes for every defect.

Run from the top of the project: .venv/bin/python -m tests.bench.trace_accuracy [sizes in px ...]
"""

import sys
import time

import numpy as np

from core.cancel import NEVER
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.score import score

COLUMNS = ("rms", "greatest_off_corners", "corner", "pieces", "wobble", "bias")

DEFECTS = {
    "clean": d.eight_bit,
    "blur 0.5": d.blurred(0.5),
    "blur 1": d.blurred(1.0),
    "blur 1.5": d.blurred(1.5),
    "noise 5": d.noisy(5),
    "noise 12": d.noisy(12),
    "jpeg 90": d.jpeg(90),
    "jpeg 60": d.jpeg(60),
    "jpeg 30": d.jpeg(30),
    "1-bit": d.hardened(d.BLACK_ON_WHITE),
}


def rows(size):
    for name, spoil in DEFECTS.items():
        yield name, [(s, spoil(d.drawn(s, d.BLACK_ON_WHITE)), d.BLACK_ON_WHITE) for s in d.shapes(size)]
    yield (
        "low contrast",
        [(s, d.eight_bit(d.drawn(s, d.GREY_ON_GREY)), d.GREY_ON_GREY) for s in d.shapes(size)],
    )
    four = (d.pie(size), d.flag(size))
    for name in ("clean", "blur 1", "noise 5", "jpeg 60"):
        yield f"four, {name}", [(s, DEFECTS[name](d.drawn(s, d.FOUR)), d.FOUR) for s in four]


def measured(shape, pixels, palette):
    colours = d.labelled(shape, pixels, palette) if len(palette) > 2 else d.colours_of(pixels, palette)
    picture = d.picture_of(pixels)
    start = time.process_time()
    outline = trace(picture, colours, NEVER)
    seconds = time.process_time() - start
    found = score(outline, shape)
    return [*(getattr(found, column) for column in COLUMNS), seconds]


def main(sizes):
    for size in sizes:
        sys.stdout.write(
            f"{size} px          rms    max-off  corner  n      wobble  bias     s      worst rms, n, of\n"
        )
        for name, pictures in rows(size):
            table = np.array([measured(*picture) for picture in pictures])
            middle = np.median(table, axis=0)
            worst = int(np.argmax(table[:, 0]))
            sys.stdout.write(
                f"{name:14s} {middle[0]:7.4f} {middle[1]:7.3f} {middle[2]:7.3f} {middle[3]:6.2f} "
                f"{middle[4]:7.3f} {middle[5]:8.4f} {middle[6]:6.3f}   {table[worst, 0]:7.4f} "
                f"{table[:, 3].max():5.2f} {pictures[worst][0].name}\n"
            )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [300, 600])
