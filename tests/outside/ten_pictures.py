"""Ten pictures not made by us, from packages of the registries, and the kits that Samecut makes of them.

    python -m tests.outside.ten_pictures FOLDER

writes each picture and its kit into FOLDER, checks the kit again from its files, and prints one line each.
"""

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np
from PIL import Image

from core.cancel import NEVER
from core.errors import UnreadableFile, WrongCall
from core.files import write_file, write_folder
from core.findings import Finding, Level
from core.job.job import Job, Source
from core.kit.check import check_files
from core.kit.kit import Kit
from core.kit.make import make_kit
from core.kit.older_kit import is_older_kit
from core.proof.readback import breach

#: px; height at which drawings of lines and curves are rendered.
DRAWN_AT = 400


@dataclass(frozen=True)
class Taken:
    """A picture's file name and bytes, and the package that it is from."""

    name: str
    data: bytes
    package: str


@dataclass(frozen=True)
class Outcome:
    """The kit, and what checking its files again found; or no kit, and a sentence that says why."""

    kit: Kit | None
    again: tuple[Finding, ...]
    sentence: str
    seconds: float

    def broken_promises(self) -> list[str]:
        """What the read-back found, at once or again: the bytes do not say what they should."""
        fault = breach("", "").remedy
        found = (*(self.kit.findings if self.kit else ()), *self.again)
        return [finding.text for finding in found if finding.remedy == fault]

    def stops(self) -> list[str]:
        """Why there is no program, where there is none."""
        found = self.kit.findings if self.kit else ()
        return [finding.text for finding in found if finding.level is Level.STOP]


def icon(name: str) -> Taken:
    """An icon of matplotlib's tool bar (matplotlib's own licence), rendered by cairosvg."""
    import cairosvg  # noqa: PLC0415 - slow to import, needed only here

    data = (_matplotlib() / "images" / f"{name}.svg").read_bytes()
    drawn = cairosvg.svg2png(bytestring=data, output_height=DRAWN_AT, output_width=DRAWN_AT)
    return Taken(f"{name}.png", drawn, "matplotlib, mpl-data/images")


def glyph(character: str, name: str) -> Taken:
    """A character of DejaVu Sans Bold (in matplotlib's wheel, with its free licence), rendered."""
    import cairosvg  # noqa: PLC0415 - slow to import, needed only here
    from fontTools.pens.svgPathPen import SVGPathPen  # noqa: PLC0415 - the same
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - the same

    font = TTFont(_matplotlib() / "fonts" / "ttf" / "DejaVuSans-Bold.ttf")
    glyphs = font.getGlyphSet()
    pen = SVGPathPen(glyphs)
    glyphs[font.getBestCmap()[ord(character)]].draw(pen)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{DRAWN_AT}" height="{DRAWN_AT}"'
        f' viewBox="-400 -1900 2600 2600"><rect x="-400" y="-1900" width="2600" height="2600" fill="#fff"/>'
        f'<path transform="scale(1,-1)" d="{pen.getCommands()}" fill="#a01030"/></svg>'
    )
    return Taken(f"{name}.png", cairosvg.svg2png(bytestring=svg.encode()), "DejaVu Sans Bold in matplotlib")


def of_skimage(name: str) -> Taken:
    """A picture of skimage.data that needs no download (scikit-image, BSD-3; origins in its own docs)."""
    import skimage.data  # noqa: PLC0415 - slow to import, needed only here

    pixels = getattr(skimage.data, name)()
    out = io.BytesIO()
    Image.fromarray(pixels if pixels.dtype != bool else pixels.astype(np.uint8) * 255).save(out, "PNG")
    return Taken(f"{name}.png", out.getvalue(), "scikit-image, skimage.data")


def of_samples(name: str) -> Taken:
    """A file of matplotlib's sample_data, as it is."""
    return Taken(
        name, (_matplotlib() / "sample_data" / name).read_bytes(), "matplotlib, mpl-data/sample_data"
    )


def _matplotlib() -> Path:
    import matplotlib as mpl  # noqa: PLC0415 - slow to import, needed only here

    return Path(mpl.get_data_path())


TEN: dict[str, Callable[[], Taken]] = {
    "home": lambda: icon("home"),
    "hand": lambda: icon("hand"),
    "help": lambda: icon("help"),
    "move": lambda: icon("move"),
    "eight": lambda: glyph("8", "eight"),
    "ampersand": lambda: glyph("&", "ampersand"),
    "horse": lambda: of_skimage("horse"),
    "logo": lambda: of_skimage("logo"),
    "logo2": lambda: of_samples("logo2.png"),
    "chelsea": lambda: of_skimage("chelsea"),
}


def outcome_of(taken: Taken) -> Outcome:
    """The kit of a picture at the default height, checked again from its bytes; or the sentence why not."""
    begun = perf_counter()
    try:
        kit = make_kit(Job(source=taken.name), Source(taken.name, taken.data), NEVER, lambda _stage: None)
    except (UnreadableFile, WrongCall) as refused:
        return Outcome(None, (), str(refused), perf_counter() - begun)
    seconds = perf_counter() - begun
    return Outcome(kit, check_files(kit.files)[1], "", seconds)


def told(name: str, taken: Taken, outcome: Outcome) -> str:
    """One line: what it is, what became of it, how near everything is to its promise."""
    start = f"{name:10} {taken.package:32} {outcome.seconds:6.1f} s  "
    if outcome.kit is None:
        return f"{start}refused: {outcome.sentence}"
    proof, outline = outcome.kit.report["readback"], outcome.kit.report["outline"]
    film = max((one["max"] for one in proof["film_error_mm"].values()), default=0.0)
    edge = (proof["edge_error_mm"] or {"max": 0.0})["max"]
    parts = [
        f"{len(outcome.kit.files)} files, {outline['lines']} lines, {outline['arcs']} arcs",
        f"{len(proof['film_error_mm'])} films",
        "read back" if not outcome.broken_promises() else "PROMISES BROKEN",
        f"off by at most: height {proof['height_error_mm']:.4f}, edge {edge:.4f}, films {film:.4f}",
        f"marks {proof['mark_error_mm']:.4f} mm",
        f"{len(proof['rules']['broken'])} of {proof['rules']['checked']} rules broken",
    ]
    stops = outcome.stops()
    more = f" (and {len(stops) - 1} more)" if len(stops) > 1 else ""
    return start + "; ".join(parts) + (f"; no program: {stops[0]}{more}" if stops else "")


def main(folder: Path) -> None:
    """Write pictures and kits, print the ten lines."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, take in TEN.items():
        taken = take()
        write_file(folder / taken.name, taken.data)
        outcome = outcome_of(taken)
        if outcome.kit:
            write_folder(folder / name, outcome.kit.files, is_older_kit)
        print(told(name, taken, outcome), flush=True)  # noqa: T201 - a command speaks by printing


if __name__ == "__main__":
    main(Path(sys.argv[1]))
