"""A first Build before anybody asks: it imports and sets up what every Build needs.

The first Build of a process takes a tenth of a second longer than the same one again. A badge of two
colours, small and soft-edged, goes through every stage; what comes of it is thrown away.
"""

import io

from core.build import Look, build_by
from core.cancel import CancelToken
from core.job.job import Job, Source
from core.keep import Keeper
from core.shown import shown_of

#: px; large enough for a part that the bit can go round and tabs that can hold it.
SIDE_PX = 160


def warm_up(token: CancelToken) -> None:
    """Build the badge, and prepare what a kit needs. Raises Cancelled when something else is wanted."""
    import core.kit.make  # noqa: F401, PLC0415 - slow, and only in the building process

    job = Job()
    for look in Look:
        shown_of(build_by(Keeper(token, job.woken_by), job, Source("badge.png", _badge()), look))


def _badge() -> bytes:
    from PIL import Image, ImageDraw  # noqa: PLC0415 - only in the building process

    image = Image.new("RGB", (SIDE_PX * 4, SIDE_PX * 4), "#ffffff")
    draw = ImageDraw.Draw(image)
    draw.rectangle((80, 80, 560, 560), fill="#2e7d5b")
    draw.ellipse((200, 200, 440, 440), fill="#e0b050")
    data = io.BytesIO()
    image.resize((SIDE_PX, SIDE_PX), Image.Resampling.BOX).save(data, "PNG")
    return data.getvalue()
