"""How near the outline of a slanted sheet, its corners found, comes to what was drawn on it.

px are those of the squared picture. Run from the top of the project:
.venv/bin/python -m tests.bench.slant_accuracy [sizes in px ...]
"""

import sys
import time

import numpy as np

from core.cancel import NEVER
from core.picture.colours import ColourWish, find_colours
from core.picture.square import SquareWish, squared
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.score import score
from tests.support.slanted import drawn_where, photographed

COLUMNS = ("rms", "greatest_off_corners", "corner", "pieces", "wobble", "bias")
#: Slant, its axis and the turn, degrees.
POSES = ((15, 20, 6), (15, 90, 0), (10, 45, -12), (5, 0, 3))
DEFECTS = {"clean": d.eight_bit, "noise 5": d.noisy(5), "jpeg 90": d.jpeg(90)}


def measured(shape, pose, spoil):
    """The scores of one photograph, and seconds of squaring."""
    photograph = photographed(shape, d.BLACK_ON_WHITE, *np.radians(pose))
    picture = d.picture_of(spoil(photograph.pixels))
    start = time.process_time()
    made = squared(picture, SquareWish())
    seconds = time.process_time() - start
    assert made.picture is not picture, "no sheet was found"
    outline = trace(made.picture, find_colours(made.picture, ColourWish()), NEVER)
    found = score(outline, drawn_where(shape, photograph, made))
    return [*(getattr(found, column) for column in COLUMNS), seconds]


def main(sizes):
    for size in sizes:
        sys.stdout.write(
            f"{size} px               rms    max-off  corner  n      wobble  bias     s      worst rms\n"
        )
        for pose in POSES:
            for name, spoil in DEFECTS.items():
                table = np.array([measured(shape, pose, spoil) for shape in d.shapes(size)])
                row, worst = np.median(table, axis=0), table[:, 0].max()
                sys.stdout.write(
                    f"{pose!s:13} {name:8} {row[0]:7.4f} {row[1]:7.3f} {row[2]:7.3f} {row[3]:6.2f} "
                    f"{row[4]:7.3f} {row[5]:8.4f} {row[6]:6.3f}   {worst:7.4f}\n"
                )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [300, 600])
