"""Which calls hold the interpreter longer than a frame of a screen lasts.

A second thread ticks; while a call holds the interpreter it cannot. The longest gap between two ticks is
measured for each stage, and the place in our code at which the main thread stood when the tick came at
last: the call that held is there or just before. A gap of a thread with nothing beside it is told first,
since a busy machine makes gaps of its own.

    python -m tests.bench.holds [--only demo]
"""

import argparse
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from time import perf_counter, sleep
from types import FrameType

from core.build import build
from core.cancel import NEVER
from core.kit.make import check_kit, kit_of
from tests.bench.inputs import INPUTS

#: s: one frame at 60 a second.
FRAME = 0.016
#: s between two ticks.
TICK = 0.001


@dataclass
class Ticker:
    """Gaps by stage: how many were longer than a frame, the longest, and where the main thread was then."""

    stage: str = "nothing"
    longest: dict[str, tuple[float, str]] = field(default_factory=dict)
    count: dict[str, int] = field(default_factory=dict)
    is_over: bool = False

    def run(self, watched: int) -> None:
        """Tick until told to stop."""
        last = perf_counter()
        while not self.is_over:
            sleep(TICK)
            now = perf_counter()
            self.note(now - last - TICK, watched)
            last = perf_counter()

    def note(self, gap: float, watched: int) -> None:
        """Remember the gap under the stage that is running."""
        if gap > FRAME:
            self.count[self.stage] = self.count.get(self.stage, 0) + 1
        if gap > self.longest.get(self.stage, (0.0, ""))[0]:
            self.longest[self.stage] = (gap, where(sys._current_frames().get(watched)))

    def now(self, stage: str) -> None:
        """The stage that begins."""
        self.stage = stage


def where(frame: FrameType | None) -> str:
    """The innermost place in our own code."""
    while frame is not None:
        path = Path(frame.f_code.co_filename)
        if "core" in path.parts and "site-packages" not in path.parts:
            at = path.parts.index("core")
            return f"{'/'.join(path.parts[at:])}:{frame.f_lineno} {frame.f_code.co_name}"
        frame = frame.f_back
    return ""


@contextmanager
def ticking() -> Iterator[Ticker]:
    """A ticker beside whatever runs inside."""
    ticker = Ticker()
    thread = threading.Thread(target=ticker.run, args=(threading.get_ident(),))
    thread.start()
    try:
        yield ticker
    finally:
        ticker.is_over = True
        thread.join()


def watched(name: str) -> Ticker:
    """The gaps while one input becomes a kit and is checked again."""
    job, source = INPUTS[name]()
    with ticking() as ticker:
        sleep(1.0)
        made = build(job, source, None, NEVER, ticker.now)
        kit = kit_of(made, NEVER, ticker.now, perf_counter())
        ticker.now("check")
        check_kit(kit.files)
    return ticker


def main() -> None:
    """Print the longest gap of every stage."""
    parser = argparse.ArgumentParser(description="The longest time each stage holds the interpreter.")
    parser.add_argument("--only", choices=list(INPUTS), help="one input instead of all")
    asked = parser.parse_args()
    for name in [asked.only] if asked.only else INPUTS:
        ticker = watched(name)
        print(f"{name}: stage, longest hold, holds over {FRAME * 1e3:.0f} ms, where it ended")  # noqa: T201 - a command speaks by printing
        for stage, (gap, place) in ticker.longest.items():
            print(f"  {stage:10} {gap * 1e3:8.1f} ms {ticker.count.get(stage, 0):4} {place}", flush=True)  # noqa: T201 - a command speaks by printing


if __name__ == "__main__":
    main()
