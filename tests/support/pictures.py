"""Small pictures for whole kits, drawn here: four times too large, then reduced, so that edges are soft."""

from functools import cache
from io import BytesIO

from PIL import Image, ImageDraw

from core.cancel import NEVER
from core.job.job import Job, Source
from core.kit.kit import Kit
from core.kit.make import make_kit

TIMES = 4


@cache
def badge_png(height: int = 300) -> bytes:
    """A rounded badge in two colours on white, with a step in its edge: 0.8 as wide as high."""
    picture = Image.new("RGB", (height * TIMES, height * TIMES), "#ffffff")
    draw = ImageDraw.Draw(picture)
    u = height * TIMES / 100.0
    draw.rounded_rectangle((18 * u, 12 * u, 82 * u, 88 * u), 9 * u, "#2c6e91")
    draw.rectangle((62 * u, 10 * u, 90 * u, 34 * u), "#ffffff")
    draw.ellipse((30 * u, 42 * u, 62 * u, 74 * u), "#e9c46a")
    out = BytesIO()
    picture.resize((height, height), Image.Resampling.BOX).save(out, "PNG")
    return out.getvalue()


def badge() -> Source:
    """The badge as a Job's source."""
    return Source("badge.png", badge_png())


def job(**choices: str) -> Job:
    """A Job for the badge, 60 mm high; bit__diameter="1 mm" sets bit.diameter."""
    made = Job(source="badge.png").with_choice("shape.height", "60 mm")
    for key, text in choices.items():
        made = made.with_choice(key.replace("__", "."), text)
    return made


@cache
def badge_kit(**choices: str) -> Kit:
    """The badge's kit, made once for each set of choices."""
    return make_kit(job(**choices), badge(), NEVER, lambda _stage: None)


def line_drawing() -> Source:
    """A dark line drawing of 300 x 400 px with a rim, lines that meet it, a ring and a gold dot."""
    scale = 4
    picture = Image.new("RGB", (300 * scale, 400 * scale), "white")
    draw = ImageDraw.Draw(picture)

    def box(x: float, y: float, across: float, up: float) -> list[float]:
        return [scale * (x - across), scale * (y - up), scale * (x + across), scale * (y + up)]

    draw.ellipse(box(150, 200, 120, 170), fill="black")
    draw.polygon([(scale * x, scale * y) for x, y in ((150, 8), (190, 60), (110, 60))], fill="black")
    draw.ellipse(box(150, 200, 113, 163), fill="white")
    draw.polygon([(scale * x, scale * y) for x, y in ((150, 19), (181, 60), (119, 60))], fill="white")
    draw.line([scale * 36, scale * 150, scale * 264, scale * 200], fill="black", width=6 * scale)
    draw.line([scale * 150, scale * 178, scale * 150, scale * 366], fill="black", width=6 * scale)
    draw.ellipse(box(100, 105, 22, 22), fill="black")
    draw.ellipse(box(100, 105, 15, 15), fill="white")
    draw.ellipse(box(200, 105, 22, 22), fill="gold")
    small = picture.resize((300, 400), Image.Resampling.LANCZOS)
    file = BytesIO()
    small.save(file, "PNG")
    return Source("lines.png", file.getvalue())
