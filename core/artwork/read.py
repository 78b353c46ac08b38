"""Which files are artwork, told by their bytes and never by their names, and their ink."""

import re

from core.artwork.dxf import read_dxf
from core.artwork.ink import Drawn
from core.artwork.svg import read_svg
from core.errors import UnreadableFile

#: Bytes in which a file says what it is, whatever comments stand before.
HEAD = 4096

_SVG = re.compile(rb"<(?:[A-Za-z_][\w.-]*:)?svg[\s>/]")
_XML = re.compile(rb"\s*<[?!A-Za-z]")
_DXF = re.compile(rb"\s*(?:999\s*\n[^\n]*\n\s*)*0\s*\r?\n\s*SECTION\s*\r?\n\s*2\s*\r?\n")
_BINARY_DXF = b"AutoCAD Binary DXF"


def kind_of(data: bytes) -> str | None:
    """What kind of artwork the bytes are: SVG, DXF, or None for none."""
    head = _plain(data[:HEAD])
    if _XML.match(head) and (_SVG.search(head) or _SVG.search(_plain(data))):
        return "SVG"
    if data.startswith(_BINARY_DXF) or _DXF.match(head):
        return "DXF"
    return None


def _plain(data: bytes) -> bytes:
    """Text of one byte a character, its mark of byte order taken off."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data[2:].replace(b"\x00", b"")
    return data.removeprefix(b"\xef\xbb\xbf")


def read_artwork(data: bytes, name: str) -> Drawn:
    """The ink of a drawing. UnreadableFile, one sentence that begins with its name, for whatever is wrong."""
    try:
        return read_svg(data) if kind_of(data) == "SVG" else read_dxf(data)
    except UnreadableFile as wrong:
        raise UnreadableFile(f"{name}: {wrong}") from wrong
    except RecursionError as wrong:
        raise UnreadableFile(f"{name}: the drawing is nested too deeply.") from wrong
