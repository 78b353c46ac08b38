"""Draws the README's picture of the demo kit from the kit's own files.

python assets/pictures/draw_kit.py KIT   # the folder that `bash packaging/start` makes
"""

import re
import sys
from io import BytesIO
from pathlib import Path

import cairosvg
import pypdfium2
from PIL import Image, ImageDraw

HERE = Path(__file__).parent
PAPER, SHADE, GAP = "#f3eee4", "#cfc7b6", 28
HEIGHT = 620


def card(picture: Image.Image, height: int = HEIGHT) -> Image.Image:
    """The picture at one height, with a thin frame."""
    width = round(picture.width * height / picture.height)
    framed = picture.convert("RGB").resize((width, height), Image.Resampling.LANCZOS)
    ImageDraw.Draw(framed).rectangle((0, 0, width - 1, height - 1), outline=SHADE)
    return framed


def drawing(svg: bytes) -> Image.Image:
    """A drawing on white, its hairlines thick enough to be seen at this size."""
    thick = re.sub(rb'stroke-width="0\.\d+"', b'stroke-width="0.35"', svg)
    return Image.open(BytesIO(cairosvg.svg2png(thick, output_height=2 * HEIGHT, background_color="white")))


def page(pdf: bytes, number: int) -> Image.Image:
    """A page of the job sheet."""
    return pypdfium2.PdfDocument(pdf)[number].render(scale=2.0).to_pil()


def in_rows(cards: list[list[Image.Image]]) -> Image.Image:
    """Cards side by side, row under row."""
    width = max(sum(one.width + GAP for one in row) for row in cards) + GAP
    sheet = Image.new("RGB", (width, (HEIGHT + GAP) * len(cards) + GAP), PAPER)
    for number, row in enumerate(cards):
        spare = width - sum(one.width for one in row)
        x = between = spare // (len(row) + 1)
        for one in row:
            sheet.paste(one, (x, GAP + number * (HEIGHT + GAP)))
            x += one.width + between
    return sheet


def main(folder: Path) -> None:
    """Write kit.png beside this script."""
    files = {path.name: path.read_bytes() for path in sorted(folder.iterdir())}

    def named(ending: str) -> bytes:
        return next(data for name, data in files.items() if name.endswith(ending))

    films = [data for name, data in files.items() if "-film-" in name and name.endswith(".svg")]
    sheet = named("job-sheet.pdf")
    rows = [
        [card(Image.open(BytesIO(named("picture.png")))), card(page(sheet, 0)), card(page(sheet, 1))],
        [card(drawing(named("part.svg"))), *(card(drawing(film)) for film in films)],
    ]
    whole = in_rows(rows)
    whole.resize((whole.width * 2 // 3, whole.height * 2 // 3), Image.Resampling.LANCZOS).save(
        HERE / "kit.png", optimize=True
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
