"""How long a large photograph takes from bytes to Outline, stage by stage, and how much memory.

A gear on paper under falling light, with grain, as a JPEG of so many megapixels; each size in a process of
its own, since memory is told as the most that the process ever held. The imports are not timed.

    python -m tests.bench.large_pictures [megapixels ...]
"""

import io
import resource
import subprocess
import sys
import time

import numpy as np
from PIL import Image

from core.cancel import NEVER
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture
from core.picture.square import SquareWish, squared
from core.trace.trace import first_outline, trace
from tests.support import drawn as d

PAPER, INK = np.array([235, 232, 225], np.float32), np.array([40, 60, 120], np.float32)


def photograph(megapixels):
    """The bytes of a JPEG, four wide for three high."""
    height = int((megapixels * 1e6 * 3 / 4) ** 0.5) // 4 * 4
    width = height * 4 // 3
    gear = d.shapes(height)[5]
    share = np.zeros((height, width, 1), np.float32)
    left = (width - height) // 2
    share[:, left : left + height, 0] = d.coverage(gear.patches[0].rings, height, height)
    across, down = np.arange(width, dtype=np.float32) / width, np.arange(height, dtype=np.float32) / height
    light = 1.0 - 0.25 * across[None, :, None] - 0.1 * down[:, None, None]
    grain = np.random.default_rng(1).standard_normal((height, width, 1), np.float32) * 4.0
    out = io.BytesIO()
    pixels = np.clip((PAPER + share * (INK - PAPER)) * light + grain, 0, 255)
    Image.fromarray(pixels.astype(np.uint8)).save(out, "JPEG", quality=92)
    return out.getvalue()


def most_held():
    """MB, since the process began."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def told(what, begun):
    """Seconds on the clock and of the processor, and memory so far."""
    wall, used = time.perf_counter() - begun[0], time.process_time() - begun[1]
    sys.stdout.write(f"  {what:15} {wall:6.2f} s  {used:6.2f} s used  {most_held():5d} MB\n")
    return time.perf_counter(), time.process_time()


def measure(data):
    """Each stage of one picture."""
    start = begun = (time.perf_counter(), time.process_time())
    picture = read_picture(data, "large.jpg")
    begun = told("read", begun)
    square = squared(picture, SquareWish())
    begun = told("squared up", begun)
    colours = find_colours(square.picture, ColourWish())
    begun = told("colours", begun)
    first_outline(square.picture, colours, NEVER)
    first = told("first outline", begun)
    told("first proposal", start)
    trace(square.picture, colours, NEVER)
    told("trace", first)


def main(sizes):
    """A process for each size; the picture is made in another one, so that its memory is not counted."""
    for size in sizes:
        sys.stdout.write(f"{size:g} megapixels\n")
        sys.stdout.flush()
        this = [sys.executable, "-m", "tests.bench.large_pictures"]
        made = subprocess.run([*this, "--make", str(size)], stdout=subprocess.PIPE, check=True)
        subprocess.run([*this, "--measure"], input=made.stdout, check=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--make"]:
        sys.stdout.buffer.write(photograph(float(sys.argv[2])))
    elif sys.argv[1:2] == ["--measure"]:
        measure(sys.stdin.buffer.read())
    else:
        main([float(word) for word in sys.argv[1:]] or [12.0, 48.0])
