"""What a file says, apart from how it is written: its digest tells a change from mere dress.

The proof reads programs and drawings; of the other files the kit keeps the digest of what they say, so
that `check` can tell white space, comments and the order of keys from another number.
"""

import json
import re
import tomllib
import zlib
from collections.abc import Callable, Iterator, Mapping
from hashlib import sha256
from typing import Any

from core.errors import UnreadableFile

#: The report's field for the digest, of a file and of the report itself.
SAYS = "says_sha256"
#: The one part of a report that two runs of the same Job may tell differently.
_SECONDS = "seconds"


class SaysNothing(Exception):
    """The bytes are no file of their format."""


def says_digest(data: bytes, file_format: str) -> str | None:
    """SHA-256 of what the file says, of its bytes in a format not known here; None for no such file."""
    read = _READERS.get(file_format, bytes)
    try:
        return sha256(read(data)).hexdigest()
    except (SaysNothing, ValueError, RecursionError, zlib.error):
        return None


def report_digest(report: Mapping[str, Any]) -> str:
    """SHA-256 of what a report says, its seconds and this digest left out."""
    said = {key: value for key, value in report.items() if key not in (_SECONDS, SAYS)}
    return sha256(_plain(json.loads(json.dumps(said), parse_int=float))).hexdigest()


def _plain(values: object) -> bytes:
    """Values in one spelling: keys in order, no white space of their own."""
    return json.dumps(values, sort_keys=True, separators=(",", ":"), default=str).encode()


def _toml(data: bytes) -> bytes:
    return _plain(tomllib.loads(data.decode(), parse_float=str))


def _words(data: bytes) -> bytes:
    return b" ".join(data.split())


#: A stream of a PDF, whose bytes stay as they are, and the table of places, which is of no meaning.
_PDF_STREAM = re.compile(rb"\bstream\r?\n.*?\bendstream\b", re.DOTALL)
_PDF_PLACES = re.compile(rb"\bxref\b.*?(?=\btrailer\b)|\bstartxref\s+\d+", re.DOTALL)


def _pdf(data: bytes) -> bytes:
    """Streams as they are, white space between them as one space. Raises SaysNothing without its end."""
    if not data.startswith(b"%PDF-") or b"%%EOF" not in data[-1024:]:
        raise SaysNothing
    between, place = [], 0
    for stream in _PDF_STREAM.finditer(data):
        between += [_words(data[place : stream.start()]), stream[0]]
        place = stream.end()
    return b"\n".join([*between, _words(_PDF_PLACES.sub(b"", data[place:]))])


_PNG_HEAD = b"\x89PNG\r\n\x1a\n"
#: Chunks that change what is seen, or how large (PNG, third edition, 11.2 and 11.3).
_PNG_SEEN = frozenset({b"IHDR", b"PLTE", b"tRNS", b"gAMA", b"sRGB", b"iCCP", b"cHRM", b"cICP", b"pHYs"})


def _png(data: bytes) -> bytes:
    """The chunks that are seen and the unpacked pixels. Raises SaysNothing for a chunk that is broken."""
    said, pixels = [], zlib.decompressobj()
    for name, held in _png_chunks(data):
        if name == b"IDAT":
            said.append(pixels.decompress(held))
        elif name in _PNG_SEEN:
            said.append(name + held)
    if not pixels.eof:
        raise SaysNothing
    return b"".join(said)


def _png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Name and bytes of each chunk, up to the end's."""
    if not data.startswith(_PNG_HEAD):
        raise SaysNothing
    place = len(_PNG_HEAD)
    while (name := data[place + 4 : place + 8]) != b"IEND":
        size = int.from_bytes(data[place : place + 4], "big")
        held, summed = data[place + 8 : place + 8 + size], data[place + 8 + size : place + 12 + size]
        if summed != zlib.crc32(name + held).to_bytes(4, "big"):
            raise SaysNothing
        yield name, held
        place += 12 + size


def _hpgl(data: bytes) -> bytes:
    """Where the lowered pen goes, pen by pen, however the commands are written."""
    from core.drawing.read.hpgl import read_hpgl  # noqa: PLC0415 - it needs arrays, and names do not

    try:
        return _plain([(run.pen, run.points.tolist()) for run in read_hpgl(data).runs])
    except UnreadableFile:
        raise SaysNothing from None


_READERS: Mapping[str, Callable[[bytes], bytes]] = {
    "toml": _toml,
    "txt": _words,
    "pdf": _pdf,
    "png": _png,
    "hpgl": _hpgl,
}
